//! The check of a zone's schedule, derived or written by hand.

use finish::{Finding, Step};

use super::failure::{NoPlan, PlanFailure, PlanRefusal};
use super::steps::{self, derive};
use super::{measure, own};
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
    let zone_idx = zone_idx(piece, zone_name)?;
    let measured = measure::measure(piece).map_err(PlanFailure::Refused)?;
    let zone = &piece.zones[zone_idx];
    let air = own::room_air(shop, piece);
    let steps = match by_hand {
        Some(steps) => steps.to_vec(),
        None => derive(shop, piece, zone, &measured.zones[zone_idx], air)
            .map_err(|no_schedule| {
                PlanFailure::NoSchedule(vec![NoPlan::Zone {
                    piece: piece.name.clone(),
                    no_schedule: *no_schedule,
                }])
            })?
            .chosen()
            .steps
            .clone(),
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

/// The place of a zone in its piece.
///
/// # Errors
/// The piece has no such zone.
pub(super) fn zone_idx(piece: &Piece, zone_name: &str) -> Result<usize, PlanFailure> {
    let place = piece.zones.iter().position(|zone| zone.name == zone_name);
    place.ok_or_else(|| {
        let names: Vec<&str> = piece.zones.iter().map(|zone| zone.name.as_str()).collect();
        PlanFailure::Refused(vec![PlanRefusal {
            piece: piece.name.clone(),
            zone: Some(zone_name.to_owned()),
            field: format!("piece \"{}\", zone \"{zone_name}\"", piece.name),
            found: zone_name.to_owned(),
            limit: "the piece has no such zone".to_owned(),
            right: format!("one of {}", names.join(", ")),
            in_file: None,
        }])
    })
}
