//! Derived schedules against the order of operations that public handbooks and bulletins give.

use finish::{
    Condition, Detail, FinishingSchedule, FoundLayer, Limits, Look, Sheen, Soundness, Use, Wish, Without, Zone, plan,
};
use serde::Deserialize;
use trade::{FinishClass, Operation, Substrate};

use crate::every_step_has_its_reason::assert_every_step_is_missed;

#[derive(Deserialize)]
struct Guides {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    source: String,
    #[serde(rename = "where")]
    place: String,
    status: String,
    substrate: Substrate,
    #[serde(default)]
    found: Vec<Found>,
    #[serde(default)]
    conditions: Vec<Condition>,
    detail: Option<Detail>,
    #[serde(rename = "use")]
    use_: Option<Use>,
    #[serde(default)]
    removable: bool,
    look: Look,
    sheen: Option<Sheen>,
    class: Option<FinishClass>,
    #[serde(default)]
    strip: bool,
    #[serde(default)]
    without: Vec<Without>,
    guide: Vec<Operation>,
    #[serde(default)]
    left_out: Vec<Operation>,
    #[serde(default)]
    put_in: Vec<Operation>,
    note: Option<String>,
    among: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Found {
    class: FinishClass,
    coats: u8,
    soundness: Option<Soundness>,
}

fn cases() -> Vec<Case> {
    let guides: Guides = toml::from_str(include_str!("../data/published_guides.toml")).unwrap();
    guides.case
}

/// The zone and the wish that a guide speaks of.
fn asked(case: &Case) -> (Zone, Wish) {
    let mut zone = Zone::bare(&case.id, case.substrate);
    zone.found = case
        .found
        .iter()
        .map(|layer| FoundLayer {
            coats: Some(layer.coats),
            soundness: layer.soundness.unwrap_or(Soundness::Sound),
            ..FoundLayer::of(layer.class)
        })
        .collect();
    zone.conditions = case.conditions.clone();
    zone.detail = case.detail.unwrap_or(Detail::Flat);
    zone.use_ = case.use_.unwrap_or(Use::Bedroom);
    zone.removable = case.removable;
    let mut wish = Wish::of(case.look);
    wish.sheen = case.sheen;
    wish.class = case.class;
    wish.strip = case.strip;
    wish.without = case.without.clone();
    (zone, wish)
}

fn derive(case: &Case) -> Vec<FinishingSchedule> {
    let (zone, wish) = asked(case);
    plan(&zone, &wish, &Limits::default()).unwrap_or_else(|no| panic!("{}: {no}", case.id))
}

#[test]
fn no_step_of_a_guide_s_case_can_be_left_out_unnoticed() {
    for case in cases() {
        let (zone, wish) = asked(&case);
        for schedule in derive(&case) {
            assert_every_step_is_missed(&case.id, &zone, &wish, &Limits::default(), &schedule);
        }
    }
}

/// Whether the guide's operations occur in this order, other steps between them or not.
fn agrees(schedule: &FinishingSchedule, guide: &[Operation]) -> bool {
    let mut left = guide.iter().peekable();
    for step in &schedule.steps {
        if left.peek() == Some(&&step.operation) {
            left.next();
        }
    }
    left.peek().is_none()
}

#[test]
fn derived_schedules_agree_with_published_guides_or_say_why_not() {
    for case in cases() {
        let schedules = derive(&case);
        let expected = without_left_out(&case);
        let considered = if case.among == "first" {
            &schedules[..1]
        } else {
            &schedules[..]
        };
        let derived: Vec<Vec<&str>> = considered
            .iter()
            .map(|one| one.steps.iter().map(|step| step.operation.id()).collect())
            .collect();
        assert!(
            considered.iter().any(|schedule| agrees(schedule, &expected)),
            "{} ({}, {}): expected {expected:?}, derived {derived:#?}",
            case.id,
            case.source,
            case.place
        );
        let agreeing: Vec<&FinishingSchedule> = considered.iter().filter(|one| agrees(one, &expected)).collect();
        let count = |one: &FinishingSchedule, op| one.steps.iter().filter(|step| step.operation == op).count();
        let in_guide = |op| case.guide.iter().filter(|have| **have == op).count();
        for op in &case.left_out {
            let still = agreeing.iter().all(|one| count(one, *op) < in_guide(*op));
            assert!(
                still && case.note.is_some(),
                "{}: {op} is no longer left out, or nothing says why it is",
                case.id
            );
        }
        for op in &case.put_in {
            let still = agreeing.iter().all(|one| count(one, *op) > in_guide(*op));
            assert!(
                still && case.note.is_some(),
                "{}: {op} is no longer put in, or nothing says why it is",
                case.id
            );
        }
    }
}

/// The guide without the first of each operation that is left out.
fn without_left_out(case: &Case) -> Vec<Operation> {
    let mut expected = case.guide.clone();
    for op in &case.left_out {
        if let Some(at) = expected.iter().position(|have| have == op) {
            expected.remove(at);
        }
    }
    expected
}

#[test]
fn there_are_at_least_twenty_guides_each_with_a_listed_source_and_its_standing() {
    let cases = cases();
    assert!(cases.len() >= 20);
    for case in &cases {
        assert!(
            trade::sources::get(&case.source).is_some(),
            "{}: {}",
            case.id,
            case.source
        );
        assert_eq!(case.status, "READ", "{}: its order was not seen in the source", case.id);
        assert!(!case.guide.is_empty() && !case.place.is_empty());
    }
}
