//! The log teaches the next plan: the shop's own minutes in place of the table's.

use jiff::{SignedDuration, Timestamp};
use shop::bench::mark;
use shop::model::{FormKind, FormSaid, MarkKind, PieceStage};
use shop::plan::{Effort, Plan, PlannedStep, learned, plan};
use shop::{Shop, bench};

use crate::examples::now;

fn chest(shop: &mut Shop) -> String {
    let form = FormSaid::of(FormKind::Case, [36.0, 18.0, 32.0].map(quantity::Length::from_inches));
    bench::take_in(shop, "chest", form).unwrap()
}

fn planned(shop: &Shop) -> Plan {
    plan(shop, now(), Effort::least()).unwrap_or_else(|failure| panic!("{failure:#?}"))
}

fn steps(plan: &Plan) -> Vec<PlannedStep> {
    plan.steps().map(|(_, _, step)| step.clone()).collect()
}

/// Works through the plan at this many times the planned minutes, one step an hour and a half from nine in the morning on.
fn work_through(shop: &mut Shop, times: i64) -> usize {
    let plan = planned(shop);
    let mut at: Timestamp = "2027-03-08T09:00:00Z".parse().unwrap();
    let mut worked = 0;
    for step in steps(&plan) {
        mark(shop, &plan, &step.id, MarkKind::Begun, at).unwrap();
        let takes = SignedDuration::from_mins(i64::from(step.hands_on_min) * times);
        mark(shop, &plan, &step.id, MarkKind::Done, at + takes).unwrap();
        at += SignedDuration::from_hours(24);
        worked += 1;
    }
    worked
}

/// A shop whose hours are the whole day, so that nothing of a step falls into a break.
fn round_the_clock() -> Shop {
    let mut shop = Shop::default();
    for day in &mut shop.settings.hours.days {
        *day = shop::model::parse_day("0:00-23:59").unwrap();
    }
    shop
}

#[test]
fn the_second_season_takes_the_shops_own_minutes_and_says_on_how_much_it_rests() {
    let mut shop = round_the_clock();
    let first = chest(&mut shop);
    let before = steps(&planned(&shop));
    assert!(before.iter().all(|step| step.pace.is_none()), "nothing is learned yet");
    let worked = work_through(&mut shop, 2);
    shop.piece_mut(&first).unwrap().stage = PieceStage::Gone;
    chest(&mut shop);
    let after = steps(&planned(&shop));
    assert_eq!(before.len(), after.len(), "the same work");
    for (before, after) in before.iter().zip(&after) {
        // Twice the table's minutes every time: the plan now reckons with nearly that, held back a little by the prior.
        let pace = after.pace.unwrap_or_else(|| panic!("{} has no pace", after.words));
        assert_eq!(
            (pace.table_min, pace.logged_in_all),
            (before.hands_on_min, worked),
            "{}",
            after.words
        );
        assert!((1.7..=2.05).contains(&pace.factor), "{}: {}", after.words, pace.factor);
        let expected = f64::from(before.hands_on_min) * pace.factor;
        assert!(
            (f64::from(after.hands_on_min) - expected).abs() <= 0.5,
            "{}",
            after.words
        );
        assert!(pace.logged >= 1 && pace.low_min <= after.hands_on_min && after.hands_on_min <= pace.high_min);
        assert!(after.pace_words().unwrap().contains("in the log"));
    }
    let taught = learned(&shop);
    assert_eq!((taught.logged, taught.left_out), (worked, 0));
}

#[test]
fn a_step_taken_back_teaches_nothing_and_what_it_took_is_held_against_the_range() {
    let mut shop = round_the_clock();
    chest(&mut shop);
    let plan = planned(&shop);
    let coat = steps(&plan).into_iter().find(|step| step.quantity.is_some()).unwrap();
    let at: Timestamp = "2027-03-08T09:00:00Z".parse().unwrap();
    mark(&mut shop, &plan, &coat.id, MarkKind::Begun, at).unwrap();
    mark(
        &mut shop,
        &plan,
        &coat.id,
        MarkKind::Done,
        at + SignedDuration::from_mins(30),
    )
    .unwrap();
    assert_eq!(learned(&shop).logged, 1);
    mark(
        &mut shop,
        &plan,
        &coat.id,
        MarkKind::Undone,
        at + SignedDuration::from_mins(31),
    )
    .unwrap();
    assert_eq!(learned(&shop).logged, 0);

    let amount = coat.quantity.unwrap();
    let took = |took_ml: f64| MarkKind::Took { took_ml };
    assert!(mark(&mut shop, &plan, &coat.id, took(0.0), at).is_err());
    for (took_ml, verdict) in [
        (amount.high_ml * 1.5, "more than"),
        (amount.low_ml * 0.5, "less than"),
        (amount.likely_ml, "within"),
    ] {
        mark(&mut shop, &plan, &coat.id, took(took_ml), at).unwrap();
        let amounts = learned(&shop).amounts;
        assert_eq!((amounts.len(), amounts[0].verdict()), (1, verdict));
    }
    let again = planned(&shop);
    let said = again
        .step(&coat.id)
        .unwrap()
        .took_words(quantity::UnitSystem::Metric)
        .unwrap();
    assert!(said.contains("within"), "{said}");
}

#[test]
fn a_break_within_a_day_and_a_night_between_two_are_no_work() {
    let mut shop = Shop::default();
    for day in &mut shop.settings.hours.days {
        *day = shop::model::parse_day("9:00-12:00 13:00-17:00").unwrap();
    }
    chest(&mut shop);
    let plan = planned(&shop);
    let step = steps(&plan).into_iter().max_by_key(|step| step.hands_on_min).unwrap();
    let took = |from: &str, to: &str, shop: &Shop| {
        let mut shop = shop.clone();
        mark(&mut shop, &plan, &step.id, MarkKind::Begun, from.parse().unwrap()).unwrap();
        mark(&mut shop, &plan, &step.id, MarkKind::Done, to.parse().unwrap()).unwrap();
        let learned = learned(&shop);
        learned.operations.first().map_or(0.0, |one| one.rate.typical)
    };
    // Half an hour on either side of the noon break is as much as an hour in one go, and so is one over a night.
    let whole = took("2027-03-08T09:00:00Z", "2027-03-08T10:00:00Z", &shop);
    assert!(whole > 0.0);
    for (from, to) in [
        ("2027-03-08T11:30:00Z", "2027-03-08T13:30:00Z"),
        ("2027-03-08T16:30:00Z", "2027-03-09T09:30:00Z"),
    ] {
        assert!((took(from, to, &shop) - whole).abs() < 1e-9, "{from} to {to}");
    }
}
