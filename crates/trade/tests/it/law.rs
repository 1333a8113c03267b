//! What was recalled is never shown as fact.

use trade::law;
use trade::solvents::{LimitKind, Substance};

#[test]
fn recalled_law_shows_no_figure_and_sends_to_the_rule() {
    for row in law::all()
        .iter()
        .filter(|row| !row.rule_status.may_be_shown_as_fact() && row.name != "lead-gate")
    {
        let shown = row.shown();
        assert!(shown.contains(&row.rule), "{}", row.id);
        assert!(!shown.contains(&row.says), "{}", row.id);
        if !row.figure.is_empty() {
            let outside_reference = shown.replace(&row.rule, "");
            assert!(!outside_reference.contains(&row.figure), "{}: {shown}", row.id);
        }
    }
}

#[test]
fn read_law_shows_its_figure_with_its_unit() {
    let shown = law::by_name("lead-paint-threshold").expect("in the table").shown();
    assert!(shown.contains("1.0 mg/cm2"), "{shown}");
}

#[test]
fn rule_that_was_read_but_its_date_recalled_shows_no_figure() {
    let row = law::by_name("spray-finishing").expect("in the table");
    assert!(!row.figure_status.may_be_shown_as_fact());
    assert!(row.shown().contains("29 CFR 1910.107"));
}

#[test]
fn recalled_exposure_limits_are_kept_back() {
    let toluene = Substance::Toluene.row();
    let shown: Vec<(&str, Option<f64>)> = toluene
        .limits()
        .iter()
        .map(|limit| (limit.kind.code(), limit.shown()))
        .collect();
    // PEL 200 and REL 100 ppm: NIOSH Pocket Guide (READ); the TLV is recalled.
    assert_eq!(shown, [("PEL", Some(200.0)), ("REL", Some(100.0)), ("TLV", None)]);
}

#[test]
fn planning_limit_is_never_laxer_than_the_limits_of_eight_hours() {
    for row in trade::solvents::all() {
        let Some(planning_ppm) = row.planning_ppm else { continue };
        for limit in row.limits().iter().filter(|limit| limit.kind != LimitKind::Rel) {
            assert!(
                planning_ppm <= limit.ppm,
                "{}: {planning_ppm} over {}",
                row.name,
                limit.ppm
            );
        }
    }
}
