//! The use cases at the bench, and what a plan made after a slip keeps.

use jiff::{SignedDuration, Timestamp, ToSpan};
use shop::bench::{self, usual_more_min};
use shop::plan::{Effort, Plan, PreviousStarts, Progress, replan};
use shop::{MarkKind, PieceStage, Shop};

use crate::examples::{garage, planned, washstand};

fn again(shop: &Shop, now: Timestamp, before: &Plan) -> Plan {
    replan(shop, now, Effort::default(), &PreviousStarts::of(before)).unwrap_or_else(|failure| panic!("{failure:#?}"))
}

/// The first coat of the plan with a wait, and its step's id.
fn a_coat(plan: &Plan) -> (String, Timestamp, Timestamp) {
    let coats = plan
        .steps()
        .filter(|(_, _, step)| step.coat == Some(1) && step.wait_ends.is_some());
    let (_, _, coat) = coats.min_by_key(|(_, _, step)| step.starts.timestamp()).unwrap();
    (coat.id.clone(), coat.starts.timestamp(), coat.ends.timestamp())
}

/// Marks everything that ends by `until` as done at the moment it was planned to end.
fn all_done_until(shop: &mut Shop, plan: &Plan, until: Timestamp) {
    let mut steps: Vec<_> = plan
        .steps()
        .map(|(_, _, step)| step)
        .filter(|step| step.ends.timestamp() <= until)
        .collect();
    steps.sort_by_key(|step| step.starts.timestamp());
    for step in steps {
        bench::mark(shop, plan, &step.id, MarkKind::Begun, step.starts.timestamp()).unwrap();
        bench::mark(shop, plan, &step.id, MarkKind::Done, step.ends.timestamp()).unwrap();
    }
}

#[test]
fn what_is_done_stays_where_the_log_says() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let (coat, _, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, ends);
    let after = again(&shop, ends, &plan);
    for (_, _, step) in plan.steps().filter(|(_, _, step)| step.ends.timestamp() <= ends) {
        let kept = after.step(&step.id).unwrap();
        assert_eq!(kept.progress, Progress::Done, "{}", step.id);
        assert_eq!(kept.starts.timestamp(), step.starts.timestamp(), "{}", step.id);
    }
    assert!(after.step(&coat).unwrap().progress == Progress::Done);
    for (_, _, step) in after.steps().filter(|(_, _, step)| step.progress == Progress::Planned) {
        assert!(step.starts.timestamp() >= ends, "{} is planned into the past", step.id);
    }
}

#[test]
fn with_nothing_changed_nothing_moves() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let (_, _, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, ends);
    let after = again(&shop, ends, &plan);
    let moved = plan
        .steps()
        .filter(|(_, _, step)| after.step(&step.id).unwrap().starts != step.starts)
        .count();
    assert_eq!(moved, 0, "steps moved without need");
}

#[test]
fn still_tacky_holds_the_next_coat_back() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let (coat, _, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, ends);
    let now = plan.step(&coat).unwrap().wait_ends.as_ref().unwrap().timestamp();
    bench::mark(&mut shop, &plan, &coat, MarkKind::StillTacky { more_min: 600 }, now).unwrap();
    let after = again(&shop, now, &plan);
    let zone = plan
        .pieces
        .iter()
        .flat_map(|piece| &piece.zones)
        .find(|zone| zone.steps.iter().any(|step| step.id == coat))
        .unwrap();
    let at = zone.steps.iter().position(|step| step.id == coat).unwrap();
    let next = after.step(&zone.steps[at + 1].id).unwrap();
    assert!(
        next.starts.timestamp() >= now + SignedDuration::from_mins(600),
        "{} at {}",
        next.id,
        next.starts
    );
    assert!(usual_more_min(&plan, &coat) >= 30);
}

#[test]
fn running_late_pushes_what_follows_in_the_zone() {
    let mut shop = garage(&["hall-bench"]);
    let plan = planned(&shop);
    let (coat, starts, ends) = a_coat(&plan);
    let before_coat = starts - SignedDuration::from_mins(1);
    all_done_until(&mut shop, &plan, before_coat);
    bench::mark(&mut shop, &plan, &coat, MarkKind::Begun, starts).unwrap();
    bench::mark(&mut shop, &plan, &coat, MarkKind::RanLate { more_min: 45 }, ends).unwrap();
    let after = again(&shop, ends, &plan);
    let late = after.step(&coat).unwrap();
    assert_eq!(
        late.ends.timestamp().duration_since(late.starts.timestamp()).as_mins(),
        ends.duration_since(starts).as_mins() + 45
    );
    assert_eq!(late.progress, Progress::Begun);
}

#[test]
fn a_blocked_day_is_left_free_and_the_rest_stays_near() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let day = plan.days[1].date;
    let midnight = day.to_datetime(jiff::civil::Time::midnight());
    bench::block(
        &mut shop,
        None,
        midnight,
        midnight.checked_add(1.day()).unwrap(),
        "away",
    )
    .unwrap();
    let after = again(&shop, plan.schedule.starts.timestamp(), &plan);
    assert!(after.days.iter().all(|other| other.date != day), "{day} is blocked");
    let untouched: Vec<_> = plan.steps().filter(|(_, _, step)| step.ends.date() < day).collect();
    let moved = untouched
        .iter()
        .filter(|(_, _, step)| after.step(&step.id).unwrap().starts != step.starts)
        .count();
    assert!(
        moved * 10 <= untouched.len(),
        "{moved} of {} steps before the blocked day moved",
        untouched.len()
    );
}

#[test]
fn a_pinned_step_begins_where_it_is_pinned() {
    let mut shop = garage(&["stool"]);
    let plan = planned(&shop);
    let closing = plan.pieces[0].closing.last().unwrap();
    let to = closing.starts.checked_add(7.days()).unwrap().timestamp();
    bench::mark(
        &mut shop,
        &plan,
        &closing.id,
        MarkKind::Pinned { to },
        plan.schedule.starts.timestamp(),
    )
    .unwrap();
    let after = again(&shop, plan.schedule.starts.timestamp(), &plan);
    assert_eq!(after.step(&closing.id).unwrap().starts.timestamp(), to);
}

#[test]
fn the_stages_follow_the_bench() {
    let mut shop = garage(&["stool"]);
    let plan = planned(&shop);
    let id = plan.pieces[0].id.clone();
    assert_eq!(shop.piece(&id).unwrap().stage, PieceStage::TakenIn);
    all_done_until(
        &mut shop,
        &plan,
        plan.schedule.starts.timestamp() + SignedDuration::from_hours(2),
    );
    assert_eq!(shop.piece(&id).unwrap().stage, PieceStage::OnTheBench);
    all_done_until(&mut shop, &plan, plan.schedule.ends.timestamp());
    assert_eq!(shop.piece(&id).unwrap().stage, PieceStage::Curing);
    bench::hand_over(&mut shop, &id).unwrap();
    assert_eq!(shop.piece(&id).unwrap().stage, PieceStage::Gone);
}

#[test]
fn another_schedule_can_be_chosen_and_stays_chosen() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let piece = &plan.pieces[0];
    let zone = piece.zones.iter().find(|zone| zone.schedules.len() > 1).unwrap();
    let other = zone.schedules.iter().find(|choice| !choice.chosen).unwrap();
    bench::choose(&mut shop, &piece.id, &zone.name, Some(&other.key)).unwrap();
    let after = planned(&shop);
    let chosen = after.pieces[0]
        .zones
        .iter()
        .find(|other| other.name == zone.name)
        .unwrap();
    let chosen = chosen.schedules.iter().find(|choice| choice.chosen).unwrap();
    assert_eq!((&chosen.key, &chosen.outline), (&other.key, &other.outline));
}

#[test]
fn what_cannot_be_marked_is_refused_in_words() {
    let mut shop = garage(&["stool"]);
    let plan = planned(&shop);
    let now = plan.schedule.starts.timestamp();
    let refused = bench::mark(&mut shop, &plan, "stool.seat.99-dance", MarkKind::Done, now).unwrap_err();
    assert!(refused.to_string().contains("no such step"));
    let closing = plan.pieces[0].closing.last().unwrap().id.clone();
    assert!(bench::mark(&mut shop, &plan, &closing, MarkKind::StillTacky { more_min: 30 }, now).is_err());
    assert!(shop.log.is_empty());
}

/// Whether the step may begin so many minutes after the moment, and in what words not.
fn may(shop: &Shop, step: &str, to: Timestamp) -> Result<(), shop::plan::NotMoved> {
    let now = "2027-03-08T15:00:00Z".parse().unwrap();
    shop::plan::may_begin_at(shop, now, Effort::least(), step, to).map_err(|not_moved| *not_moved)
}

#[test]
fn a_step_may_move_to_where_everything_else_makes_room() {
    let shop = garage(&["stool"]);
    let plan = planned(&shop);
    let closing = plan.pieces[0].closing.last().unwrap();
    let later = closing.starts.checked_add(7.days()).unwrap().timestamp();
    assert_eq!(may(&shop, &closing.id, later), Ok(()));
}

#[test]
fn a_step_outside_working_hours_is_refused_with_the_hours_of_the_day() {
    let shop = garage(&["stool"]);
    let plan = planned(&shop);
    let closing = plan.pieces[0].closing.last().unwrap();
    // Friday 19 March: the garage is closed.
    let refused = may(&shop, &closing.id, "2027-03-19T15:00:00Z".parse().unwrap()).unwrap_err();
    assert!(refused.against[0].contains("nobody works that day"), "{refused}");
    assert!(!refused.nearest.is_empty(), "{refused}");
    for time in &refused.nearest {
        assert_eq!(
            may(&shop, &closing.id, time.timestamp()),
            Ok(()),
            "{time} is said to do"
        );
    }
}

#[test]
fn a_second_coat_right_after_the_first_is_refused_by_its_wait() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let (coat, starts, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, starts - SignedDuration::from_mins(1));
    bench::mark(&mut shop, &plan, &coat, MarkKind::Begun, starts).unwrap();
    bench::mark(&mut shop, &plan, &coat, MarkKind::Done, ends).unwrap();
    let zone = plan
        .pieces
        .iter()
        .flat_map(|piece| &piece.zones)
        .find(|zone| zone.steps.iter().any(|step| step.id == coat))
        .unwrap();
    let at = zone.steps.iter().position(|step| step.id == coat).unwrap();
    let (next, words) = (&zone.steps[at + 1], &zone.steps[at].words);
    let to = ends + SignedDuration::from_mins(1);
    let refused = shop::plan::may_begin_at(&shop, ends, Effort::least(), &next.id, to).unwrap_err();
    let said = refused.to_string();
    assert!(
        said.contains(words.as_str()) && said.contains("has to wait until"),
        "{said}"
    );
    assert!(!said.contains(&coat), "a step is told of by its words: {said}");
    let [first] = refused.nearest.as_slice() else {
        panic!("{said}")
    };
    let again = shop::plan::may_begin_at(&shop, ends, Effort::least(), &next.id, first.timestamp());
    assert_eq!(again, Ok(()), "{first} is said to do");
}

#[test]
fn a_coat_is_not_moved_into_air_that_is_too_cold() {
    let shop = garage(&["hall-bench"]);
    let plan = planned(&shop);
    // The tenth to twelfth day of the garage are a cold snap: Thursday 18 March, nine in the morning.
    let cold: Timestamp = "2027-03-18T14:00:00Z".parse().unwrap();
    let coats = plan.steps().filter(|(_, _, step)| step.coat.is_some());
    let refused = coats
        .filter_map(|(_, _, step)| may(&shop, &step.id, cold).err())
        .any(|refused| refused.against.iter().any(|reason| reason.contains("the air")));
    assert!(refused, "no coat minds the cold");
}

#[test]
fn a_step_before_what_it_waits_for_is_refused_by_the_step_before_it() {
    let shop = garage(&["stool"]);
    let plan = planned(&shop);
    let closing = plan.pieces[0].closing.last().unwrap();
    let refused = may(&shop, &closing.id, "2027-03-08T15:30:00Z".parse().unwrap()).unwrap_err();
    assert!(
        refused.against[0].contains("comes first and cannot be done before"),
        "{refused}"
    );
    assert!(refused.nearest.iter().any(|time| *time <= closing.starts), "{refused}");
}

#[test]
fn a_step_after_one_that_is_pinned_and_follows_it_is_refused_by_that_pin() {
    let mut shop = garage(&["stool"]);
    let plan = planned(&shop);
    let closing = plan.pieces[0].closing.last().unwrap();
    let to = closing.starts.timestamp();
    bench::mark(
        &mut shop,
        &plan,
        &closing.id,
        MarkKind::Pinned { to },
        plan.schedule.starts.timestamp(),
    )
    .unwrap();
    let first = &plan.pieces[0].zones[0].steps[0];
    let late = closing.starts.checked_add(7.days()).unwrap().timestamp();
    let refused = may(&shop, &first.id, late).unwrap_err();
    assert!(refused.against[0].contains("stays at"), "{refused}");
}
