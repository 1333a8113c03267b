//! The demo's shop: a believable week, the same every time.

use coatwright::commands::furnish;
use shop::Shop;
use shop::model::PieceStage;
use shop::plan::{Effort, PreviousStarts, Progress};

fn opened() -> (Shop, jiff::Timestamp) {
    let (mut shop, first, moment) = furnish::example().unwrap();
    furnish::work_until(&mut shop, first, moment);
    (shop, moment)
}

#[test]
fn the_demo_is_the_same_every_time() {
    assert_eq!(opened(), opened());
}

#[test]
fn the_pieces_of_the_demo_stand_at_different_stages() {
    let (shop, _) = opened();
    let at = |stage: PieceStage| shop.pieces.iter().filter(|piece| piece.stage == stage).count();
    assert_eq!((at(PieceStage::Considering), at(PieceStage::Gone)), (1, 1));
    assert!(at(PieceStage::OnTheBench) >= 2);
    let gone = shop
        .pieces
        .iter()
        .find(|piece| piece.stage == PieceStage::Gone)
        .unwrap();
    let took = shop::took::took(&shop.log, &gone.id).unwrap();
    assert!(
        took.steps > 5 && took.untimed == 0 && took.hands_on_min > 60,
        "{took:?}"
    );
}

#[test]
fn in_the_demo_a_piece_is_in_the_middle_of_its_steps_and_something_dries() {
    let (shop, moment) = opened();
    let plan = shop::plan::replan(&shop, moment, Effort::least(), &PreviousStarts::default()).unwrap();
    let is_done = |progress: Progress| progress == Progress::Done;
    let midway = plan.pieces.iter().filter(|piece| {
        let steps: Vec<_> = piece.zones.iter().flat_map(|zone| &zone.steps).collect();
        let done = steps.iter().filter(|step| is_done(step.progress)).count();
        done >= 3 && done < steps.len()
    });
    assert!(midway.count() >= 1);
    let drying = plan.steps().filter(|(_, _, step)| {
        let until = step.wait_ends.as_ref().map(jiff::ZonedDateTime::timestamp);
        is_done(step.progress) && until.is_some_and(|until| until > moment)
    });
    assert!(drying.count() >= 1, "nothing dries at {moment}");
    let asked = shop
        .pieces
        .iter()
        .find(|piece| piece.stage == PieceStage::Considering)
        .unwrap();
    let quoted = plan.pieces.iter().find(|piece| piece.id == asked.id).unwrap();
    assert!(
        quoted
            .zones
            .iter()
            .flat_map(|zone| &zone.steps)
            .all(|step| step.progress == Progress::Planned)
    );
}
