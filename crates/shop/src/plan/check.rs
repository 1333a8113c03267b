//! The check of a zone's schedule, derived or written by hand.

use finish::{Finding, Step};

use super::air::ShopAir;
use super::calendar::PlanClock;
use super::failure::{NoPlan, PlanFailure, PlanRefusal};
use super::measure;
use super::steps::{self, plan_zone};
use crate::model::{Piece, Shop};

/// A zone's steps and what the rules find in them.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// The steps that were checked.
    pub steps: Vec<Step>,
    /// What is wrong with them; a `stop` cannot be overruled, a `warn` can, a `note` asks for nothing.
    pub findings: Vec<Finding>,
}

/// Checks steps written by hand, or with `None` those that would be planned.
///
/// # Errors
/// No such zone, a form or surfaces that cannot be used, or, with `None`, a wish that no schedule meets.
pub fn check_steps(
    shop: &Shop,
    piece: &Piece,
    zone_name: &str,
    by_hand: Option<&[Step]>,
) -> Result<Checked, PlanFailure> {
    let refused = |found: &str, limit: &str, right: String| {
        PlanFailure::Refused(vec![PlanRefusal {
            piece: piece.name.clone(),
            zone: Some(zone_name.to_owned()),
            field: format!("piece \"{}\", zone \"{zone_name}\"", piece.name),
            found: found.to_owned(),
            limit: limit.to_owned(),
            right,
        }])
    };
    let names = || {
        piece
            .zones
            .iter()
            .map(|zone| zone.name.clone())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let Some(zone_idx) = piece.zones.iter().position(|zone| zone.name == zone_name) else {
        return Err(refused(
            zone_name,
            "the piece has no such zone",
            format!("one of {}", names()),
        ));
    };
    let measured = measure::measure(piece).map_err(PlanFailure::Refused)?;
    let zone = &piece.zones[zone_idx];
    // The air matters only by how good it gets, so any first moment serves.
    let clock = PlanClock::starting_at(&jiff::Timestamp::UNIX_EPOCH.to_zoned_datetime(jiff::tz::TimeZone::UTC));
    let air = ShopAir::of(&shop.settings, &clock).best(0);
    let steps = match by_hand {
        Some(steps) => steps.to_vec(),
        None => {
            plan_zone(shop, piece, zone, &measured.zones[zone_idx], air)
                .map_err(|no_schedule| {
                    PlanFailure::NoSchedule(vec![NoPlan::Zone {
                        piece: piece.name.clone(),
                        no_schedule: *no_schedule,
                    }])
                })?
                .derived
        }
    };
    let found = steps::zone_as_found(piece, zone, &measured.zones[zone_idx]);
    let findings = finish::check(
        &found,
        &steps::wish_of(zone),
        &steps::limits_of(shop, zone, air),
        &steps,
    );
    Ok(Checked { steps, findings })
}
