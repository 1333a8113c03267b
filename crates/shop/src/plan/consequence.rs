//! What differs in consequence between the classes that a layer may be, before anything is planned with one of them.

use super::failure::PlanFailure;
use super::output::GuessRisk;
use super::{measure, own, risk, steps};
use crate::model::{FoundLayer, Guess, Piece, Shop};
use finish::identify::Guessed;
use trade::FinishClass;

/// What happens to the schedule that a zone would get for `planned_as`, if its layer (from 0; the outermost where it is not there) is
/// another of the classes that the tests leave open.
///
/// # Errors
/// No such zone, a form or surfaces that cannot be used, or a wish that no schedule meets over that class.
pub fn consequences(
    shop: &Shop,
    piece: &Piece,
    zone_name: &str,
    layer: usize,
    planned_as: FinishClass,
    guess: &Guess,
) -> Result<GuessRisk, PlanFailure> {
    let zone_idx = super::check::zone_idx(piece, zone_name)?;
    let mut piece = piece.clone();
    let zone = &mut piece.zones[zone_idx];
    zone.own = None;
    if zone.found.is_empty() {
        zone.found.push(FoundLayer::of(planned_as, 2));
    }
    let layer = layer.min(zone.found.len() - 1);
    for other in &mut zone.found {
        other.guess = None;
    }
    zone.found[layer].class = planned_as;
    zone.found[layer].guess = Some(guess.clone());
    let planned = super::check_steps(shop, &piece, zone_name, None)?.steps;
    let measured = measure::measure(&piece).map_err(PlanFailure::Refused)?;
    let zone = &piece.zones[zone_idx];
    let guessed = Guessed {
        zone: &steps::zone_as_found(&piece, zone, &measured.zones[zone_idx]),
        wish: &steps::wish_of(zone),
        limits: &steps::limits_of(shop, zone, own::room_air(shop, &piece)),
        layer,
        found: &guess.identification(),
    };
    Ok(risk::risk(&guessed, &planned, shop.settings.currency))
}
