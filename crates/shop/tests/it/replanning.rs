//! The use cases at the bench, and what a plan made after a slip keeps.

use jiff::{SignedDuration, Timestamp, ToSpan};
use shop::bench::{self, usual_more_min};
use shop::model::Spell;
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

/// A shop with enough in it that something could move without need.
fn busy() -> Shop {
    garage(&crate::examples::GARAGE)
}

/// Of the steps that are open in both plans: how many moved, how many there are, and how many stand on the named zones' way.
fn moved_elsewhere(before: &Plan, after: &Plan, is_touched: impl Fn(&str) -> bool) -> (usize, usize) {
    let open = |id: &str| after.step(id).is_some_and(|step| step.progress == Progress::Planned);
    let others: Vec<_> = before
        .steps()
        .map(|(_, _, step)| step)
        .filter(|step| open(&step.id) && !is_touched(&step.id))
        .collect();
    let moved = others
        .iter()
        .filter(|step| after.step(&step.id).unwrap().starts != step.starts)
        .count();
    (moved, others.len())
}

/// Whether less than a tenth of what a slip does not touch moved.
fn assert_few(slip: &str, (moved, others): (usize, usize)) {
    assert!(
        others > 20,
        "{slip}: only {others} steps are left that could have moved"
    );
    assert!(
        moved * 10 < others,
        "{slip}: {moved} of {others} steps moved that it does not touch"
    );
}

/// The piece that a step belongs to: its id begins with the piece's.
fn of_piece_of(step: &str) -> impl Fn(&str) -> bool {
    let piece = step.split('.').next().unwrap_or_default().to_owned();
    move |other: &str| other.split('.').next() == Some(piece.as_str())
}

#[test]
fn after_still_tacky_nearly_all_other_steps_stay() {
    let mut shop = busy();
    let plan = planned(&shop);
    let (coat, ..) = a_coat(&plan);
    let now = plan.step(&coat).unwrap().wait_ends.as_ref().unwrap().timestamp();
    all_done_until(&mut shop, &plan, now);
    bench::mark(&mut shop, &plan, &coat, MarkKind::StillTacky { more_min: 240 }, now).unwrap();
    let after = quickly_again(&shop, now, &plan);
    assert_few("still tacky", moved_elsewhere(&plan, &after, of_piece_of(&coat)));
}

#[test]
fn after_running_late_nearly_all_other_steps_stay() {
    let mut shop = busy();
    let plan = planned(&shop);
    let (coat, starts, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, starts - SignedDuration::from_mins(1));
    bench::mark(&mut shop, &plan, &coat, MarkKind::Begun, starts).unwrap();
    bench::mark(&mut shop, &plan, &coat, MarkKind::RanLate { more_min: 45 }, ends).unwrap();
    let after = quickly_again(&shop, ends, &plan);
    // Whoever is at work is not free for what was to begin meanwhile.
    let busy_until = ends + SignedDuration::from_mins(45);
    let begins_meanwhile = |id: &str| plan.step(id).is_some_and(|step| step.starts.timestamp() < busy_until);
    let of_piece = of_piece_of(&coat);
    let touched = |id: &str| of_piece(id) || begins_meanwhile(id);
    assert_few("ran late", moved_elsewhere(&plan, &after, touched));
}

#[test]
fn after_a_day_off_nearly_all_other_steps_stay() {
    let mut shop = busy();
    let plan = planned(&shop);
    let day = plan.days[3].date;
    let midnight = day.to_datetime(jiff::civil::Time::midnight());
    bench::block(
        &mut shop,
        None,
        midnight,
        midnight.checked_add(1.day()).unwrap(),
        "away",
    )
    .unwrap();
    let after = quickly_again(&shop, plan.schedule.starts.timestamp(), &plan);
    // The day touches the zones that were to be worked on then, from that day on.
    let zone_of = |id: &str| id.rsplit_once('.').map(|(zone, _)| zone.to_owned());
    let that_day: Vec<_> = plan
        .steps()
        .map(|(_, _, step)| step)
        .filter(|step| step.starts.date() == day)
        .collect();
    assert!(!that_day.is_empty());
    let touched = |id: &str| {
        let mine = zone_of(id);
        let piece = of_piece_of(id);
        let is_closing = plan
            .pieces
            .iter()
            .any(|piece| piece.closing.iter().any(|step| step.id == id));
        that_day
            .iter()
            .any(|step| zone_of(&step.id) == mine || (is_closing && piece(&step.id)))
            && plan.step(id).is_some_and(|step| step.starts.date() >= day)
    };
    assert!(after.days.iter().all(|other| other.date != day), "{day} is blocked");
    assert_few("a day off", moved_elsewhere(&plan, &after, touched));
}

/// A room at so many degrees and in so much damp, for these days.
fn spell(from: &str, to: &str, temperature_c: Option<f64>, humidity: Option<f64>) -> Spell {
    Spell {
        from: from.parse().unwrap(),
        to: to.parse().unwrap(),
        temperature: temperature_c.map(quantity::Temperature::from_c),
        humidity: humidity.map(quantity::Humidity::from_fraction),
    }
}

#[test]
fn in_a_cold_snap_coats_wait_for_warmer_air_and_nearly_all_else_stays() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let coats = |plan: &Plan| -> Vec<(String, jiff::civil::Date)> {
        let coats = plan.steps().filter(|(_, _, step)| step.coat.is_some());
        coats
            .map(|(_, _, step)| (step.id.clone(), step.starts.date()))
            .collect()
    };
    let day = coats(&plan).iter().map(|(_, day)| *day).max().unwrap();
    let at = |day: jiff::civil::Date| day.to_datetime(jiff::civil::Time::midnight()).to_string();
    let cold = spell(&at(day), &at(day.tomorrow().unwrap()), Some(1.0), None);
    bench::expect_air(&mut shop, 0, cold).unwrap();
    let after = quickly_again(&shop, plan.schedule.starts.timestamp(), &plan);
    assert!(
        coats(&after).iter().all(|(_, coated)| *coated != day),
        "no coat of ours goes on at 1 °C"
    );
    let earlier: Vec<_> = plan
        .steps()
        .map(|(_, _, step)| step)
        .filter(|step| step.starts.date() < day)
        .collect();
    let moved = earlier
        .iter()
        .filter(|step| after.step(&step.id).unwrap().starts != step.starts)
        .count();
    assert!(
        !earlier.is_empty() && moved * 10 <= earlier.len(),
        "{moved} of {} moved",
        earlier.len()
    );
}

#[test]
fn in_a_wet_week_what_dries_takes_longer_and_the_air_shown_says_why() {
    let mut shop = washstand();
    let plan = planned(&shop);
    let first = plan.schedule.starts.date();
    let three_weeks_on = first.checked_add(21.days()).unwrap();
    let wet = spell(&first.to_string(), &three_weeks_on.to_string(), Some(11.0), Some(0.84));
    bench::expect_air(&mut shop, 0, wet).unwrap();
    let after = quickly_again(&shop, plan.schedule.starts.timestamp(), &plan);
    assert!(
        after.schedule.ends > plan.schedule.ends,
        "{} and {}",
        after.schedule.ends,
        plan.schedule.ends
    );
    let first = &after.shop.air[0].readings[1];
    assert_eq!((first.temperature_c, first.humidity), (11.0, 0.84));
}

#[test]
fn air_that_cannot_be_expected_is_refused_in_words() {
    let mut shop = washstand();
    for (room, wrong, words) in [
        (
            0,
            spell("2027-03-09T18:00", "2027-03-09T09:00", Some(4.0), None),
            "ends after it begins",
        ),
        (
            0,
            spell("2027-03-09T18:00", "2027-03-12T09:00", None, None),
            "a temperature, a humidity, or both",
        ),
        (
            0,
            spell("2027-03-09T18:00", "2027-03-12T09:00", Some(80.0), None),
            "-40 °C and 60 °C",
        ),
        (
            0,
            spell("2027-03-09T18:00", "2027-09-12T09:00", Some(4.0), None),
            "92 days",
        ),
        (
            3,
            spell("2027-03-09T18:00", "2027-03-12T09:00", Some(4.0), None),
            "one of the shop's rooms",
        ),
    ] {
        let refused = bench::expect_air(&mut shop, room, wrong).unwrap_err().to_string();
        assert!(refused.contains(words), "{refused}");
    }
    assert!(shop.settings.rooms[0].spells.is_empty());
}

#[test]
fn what_a_move_must_save_is_the_shops_to_say() {
    let mut shop = busy();
    let plan = planned(&shop);
    let (coat, _, ends) = a_coat(&plan);
    all_done_until(&mut shop, &plan, ends);
    let now = plan.step(&coat).unwrap().wait_ends.as_ref().unwrap().timestamp();
    bench::mark(&mut shop, &plan, &coat, MarkKind::StillTacky { more_min: 2_000 }, now).unwrap();
    let moved = |shop: &Shop| {
        let after = quickly_again(shop, now, &plan);
        moved_elsewhere(&plan, &after, |_| false).0
    };
    shop.settings.worth_moving = quantity::Minutes::from_whole_days(7);
    let at_all_costs = moved(&shop);
    shop.settings.worth_moving = quantity::Minutes::new(1);
    assert!(
        at_all_costs <= moved(&shop),
        "the more a move must save, the fewer there are"
    );
}

/// Again with what the desk spends on a slip.
fn quickly_again(shop: &Shop, now: Timestamp, before: &Plan) -> Plan {
    let effort = Effort::default().for_replan();
    replan(shop, now, effort, &PreviousStarts::of(before)).unwrap_or_else(|failure| panic!("{failure:#?}"))
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

#[test]
fn two_steps_of_one_hand_at_once_are_refused_with_the_proof_of_it() {
    let mut shop = garage(&["stool", "hall-bench"]);
    let plan = planned(&shop);
    let closings: Vec<_> = plan.pieces.iter().filter_map(|piece| piece.closing.last()).collect();
    let last = closings.iter().map(|closing| closing.starts.clone()).max().unwrap();
    // A fortnight after the last of them the same clock time is worked, and nothing else is left to do.
    let to = last.checked_add(14.days()).unwrap().timestamp();
    let pinned = MarkKind::Pinned { to };
    bench::mark(
        &mut shop,
        &plan,
        &closings[0].id,
        pinned,
        plan.schedule.starts.timestamp(),
    )
    .unwrap();
    let refused = may(&shop, &closings[1].id, to).unwrap_err();
    assert!(
        refused.against[0].contains("cannot all hold with it there"),
        "{refused}"
    );
    assert!(refused.against[0].contains("stays at"), "{refused}");
    assert!(!refused.nearest.is_empty(), "{refused}");
    for time in &refused.nearest {
        assert_eq!(
            may(&shop, &closings[1].id, time.timestamp()),
            Ok(()),
            "{time} is said to do"
        );
    }
}
