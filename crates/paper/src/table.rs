//! The plan as a CSV table, one row a step, for whoever keeps a spreadsheet.

use shop::plan::{Plan, rfc3339};

/// The columns, in order.
pub const COLUMNS: [&str; 17] = [
    "piece",
    "zone",
    "step",
    "operation",
    "material",
    "product",
    "grit",
    "coat",
    "hands_on_min",
    "quantity_ml",
    "hand",
    "starts",
    "ends",
    "wait_kind",
    "wait_ends",
    "quantity_low_ml",
    "quantity_high_ml",
];

/// The plan as CSV (RFC 4180) with a header row.
///
/// A cell that a spreadsheet would take for a formula begins with an apostrophe.
///
/// # Errors
/// The writer's own error, which a text in memory does not provoke.
pub fn csv(plan: &Plan) -> Result<String, csv::Error> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(COLUMNS)?;
    let mut rows: Vec<_> = plan.steps().collect();
    rows.sort_by(|a, b| (a.2.starts.timestamp(), &a.2.id).cmp(&(b.2.starts.timestamp(), &b.2.id)));
    for (piece, zone, step) in rows {
        let hand = plan.shop.hands.get(step.hand).cloned().unwrap_or_default();
        let row = [
            piece.name.clone(),
            zone.map_or_else(String::new, |zone| zone.name.clone()),
            step.id.clone(),
            step.operation.clone(),
            step.material.clone().unwrap_or_default(),
            step.product.clone().unwrap_or_default(),
            step.grit.clone().unwrap_or_default(),
            step.coat.map(|coat| coat.to_string()).unwrap_or_default(),
            step.hands_on_min.to_string(),
            ml(step.quantity_ml),
            hand,
            rfc3339(&step.starts),
            rfc3339(&step.ends),
            step.wait.as_ref().map(|wait| wait.kind.clone()).unwrap_or_default(),
            step.wait_ends.as_ref().map(rfc3339).unwrap_or_default(),
            ml(step.quantity.as_ref().map(|amount| amount.low_ml)),
            ml(step.quantity.as_ref().map(|amount| amount.high_ml)),
        ];
        writer.write_record(row.iter().map(|cell| harmless(cell)))?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn ml(amount_ml: Option<f64>) -> String {
    amount_ml.map(|amount_ml| format!("{amount_ml:.1}")).unwrap_or_default()
}

fn harmless(cell: &str) -> String {
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_is_disarmed() {
        assert_eq!(harmless("=1+1"), "'=1+1");
        assert_eq!(harmless("lid"), "lid");
    }
}
