//! Cautions.
use super::output::Caution;
use super::whole::PieceFacts;
use super::work::WorkPiece;
use crate::model::Shop;

pub(crate) fn of(_shop: &Shop, _work: &mut [WorkPiece], _facts: &[PieceFacts]) -> Vec<Caution> {
    vec![]
}
