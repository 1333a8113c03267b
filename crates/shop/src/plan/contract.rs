//! The plan as the contract's JSON, where every step belongs to a zone.
//!
//! Inside, taking the hardware off, putting it back and the last wipe are steps of the piece as a whole. The contract knows steps of
//! zones only: these stand with the zone that comes off, else with the piece's last zone. `closing` keeps their ids.

use serde_json::Value;

use super::output::{Plan, PlannedPiece};

/// The whole plan, indented.
pub(super) fn json(plan: &Plan) -> Result<String, serde_json::Error> {
    let mut whole = serde_json::to_value(plan)?;
    for (place, piece) in plan.pieces.iter().enumerate() {
        let Some(home) = home(piece) else { continue };
        let Value::Array(closing) = whole["pieces"][place]["closing"].take() else {
            continue;
        };
        whole["pieces"][place]["closing"] = closing.iter().map(|step| step["id"].clone()).collect();
        let name = piece.zones[home].name.clone();
        if let Value::Array(steps) = &mut whole["pieces"][place]["zones"][home]["steps"] {
            for (step, value) in piece.closing.iter().zip(closing) {
                let opens = piece.zones[home]
                    .steps
                    .first()
                    .is_none_or(|first| step.starts < first.starts);
                let at = if opens { 0 } else { steps.len() };
                steps.insert(at, value);
            }
        }
        name_zone(&mut whole["days"], piece, &name);
    }
    serde_json::to_string_pretty(&whole)
}

/// The zone that the steps of the piece as a whole are told with.
fn home(piece: &PlannedPiece) -> Option<usize> {
    let comes_off = piece.zones.iter().position(|zone| zone.name == "hardware");
    comes_off.or(piece.zones.len().checked_sub(1))
}

/// The blocks of these steps name the zone too.
fn name_zone(days: &mut Value, piece: &PlannedPiece, zone: &str) {
    for day in days.as_array_mut().into_iter().flatten() {
        for block in day["blocks"].as_array_mut().into_iter().flatten() {
            if piece.closing.iter().any(|step| block["step"] == step.id.as_str()) {
                block["zone"] = Value::from(zone);
            }
        }
    }
}
