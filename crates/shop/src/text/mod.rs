//! The plan for a person at a terminal: eighty columns, plain characters, the words of the trade.
//!
//! Nothing is worked out here; every figure comes from the plan.

mod cautions;
mod days;
mod lines;
mod piece;
mod shopping;

use crate::plan::Plan;

use self::lines::Page;
pub(crate) use self::piece::minutes as minutes_words;

/// The whole plan as text, at most eighty columns wide.
pub fn plan_as_text(plan: &Plan) -> String {
    let mut page = Page::default();
    cautions::stops(&mut page, plan);
    for piece in &plan.pieces {
        piece::write(&mut page, plan, piece);
    }
    days::write(&mut page, plan);
    shopping::write(&mut page, plan);
    cautions::write(&mut page, plan);
    page.finish()
}
