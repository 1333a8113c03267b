//! What the trade takes for granted, as checks on plans. All are common practice unless a source stands beside them.

use shop::file::{NothingBeside, Source, read};
use shop::plan::{Effort, Plan, PlannedStep, plan};

use crate::examples::{garage, now, planned, washstand};

fn plan_of(text: &str) -> Plan {
    let read = read(&[Source::new("piece.toml", text)], &NothingBeside).unwrap_or_else(|refusals| panic!("{refusals}"));
    plan(&read.shop, now(), Effort::least()).unwrap_or_else(|failure| panic!("{failure:#?}"))
}

fn case(name: &str, size: [f64; 3], zone: &str) -> String {
    let [width, depth, height] = size;
    format!(
        "[[piece]]\nname = \"{name}\"\nform = \"case\"\nmade = \"1990\"\nwidth = \"{width} in\"\ndepth = \"{depth} in\"\nheight = \"{height} in\"\n\n  [[piece.zone]]\n  name = \"body\"\n  of = [\"all\"]\n{zone}"
    )
}

fn find(plan: &Plan, what: impl Fn(&PlannedStep) -> bool) -> Vec<&PlannedStep> {
    plan.steps()
        .map(|(_, _, step)| step)
        .filter(|step| what(step))
        .collect()
}

#[test]
fn gel_stripper_dwells_about_half_an_hour() {
    let plan = planned(&washstand());
    let strips = find(&plan, |step| step.material.as_deref() == Some("gel-stripper"));
    assert!(!strips.is_empty(), "something is stripped with gel");
    for step in strips {
        let wait = step.wait.as_ref().unwrap();
        assert_eq!(wait.kind, "dwell");
        assert!((20..=45).contains(&wait.min_min), "{} min", wait.min_min);
    }
}

#[test]
fn bare_wood_is_sanded_up_to_p220_under_a_clear_coat_in_steps_that_do_not_skip_too_far() {
    let plan = planned(&garage(&["hall-bench"]));
    let lid = plan.pieces[0].zones.iter().find(|zone| zone.name == "lid").unwrap();
    let grits: Vec<u32> = lid
        .steps
        .iter()
        .filter(|step| step.operation == "sand")
        .map(|step| step.grit.as_deref().unwrap().trim_start_matches('P').parse().unwrap())
        .collect();
    assert_eq!(grits.last(), Some(&220), "{grits:?}");
    assert!(grits.len() >= 2 && grits[0] <= 150, "{grits:?}");
    assert!(
        grits.windows(2).all(|pair| pair[1] > pair[0] && pair[1] <= 2 * pair[0]),
        "{grits:?}"
    );
}

#[test]
fn metal_is_scuffed_and_filler_levelled_with_p220() {
    let plan = planned(&washstand());
    let hardware = plan.pieces[0]
        .zones
        .iter()
        .find(|zone| zone.name == "hardware")
        .unwrap();
    let scuff = hardware.steps.iter().find(|step| step.operation == "scuff").unwrap();
    assert_eq!(scuff.grit.as_deref(), Some("P220"));
    let plan = planned(&garage(&["hall-bench"]));
    let level = find(&plan, |step| step.operation == "level");
    assert!(!level.is_empty(), "the gouges are filled and levelled");
    assert!(
        level.iter().all(|step| step.grit.as_deref() == Some("P220")),
        "{level:?}"
    );
}

#[test]
fn thin_spray_coats_follow_after_about_five_minutes() {
    let plan = planned(&washstand());
    let sprays = find(&plan, |step| step.operation == "spray");
    assert!(sprays.len() >= 2);
    for step in &sprays[..sprays.len() - 1] {
        let wait = step.wait.as_ref().unwrap();
        assert_eq!(wait.kind, "recoat");
        assert!((3..=10).contains(&wait.min_min), "{} min", wait.min_min);
    }
    // And the plan keeps to it: the next one within the hour of the reference air, which is longer in a cooler room.
    for pair in sprays.windows(2) {
        let since = |until: &jiff::ZonedDateTime| until.timestamp().duration_since(pair[0].ends.timestamp()).as_mins();
        let gap = since(&pair[1].starts);
        let waits = since(pair[0].wait_ends.as_ref().unwrap());
        let shortest = i64::from(pair[0].wait.as_ref().unwrap().min_min);
        assert!(
            (waits..=60 * (waits + 1) / shortest).contains(&gap),
            "{gap} min between two spray coats, {waits} at least"
        );
    }
}

#[test]
fn self_levelling_acrylic_is_coated_again_after_two_hours_and_hard_after_three_weeks() {
    let zone = "  substrate = \"birch\"\n  found = [ { class = \"oil-based-polyurethane\", coats = 2 } ]\n  wish = { look = \"paint\", class = \"waterborne-acrylic-enamel\", colour = \"#35506b\" }\n";
    let plan = plan_of(&case("dresser", [48.0, 18.0, 32.0], zone));
    let coats = find(&plan, |step| {
        step.material.as_deref() == Some("waterborne-acrylic-enamel")
    });
    assert_eq!(coats.len(), 2);
    let (first, last) = (coats[0].wait.as_ref().unwrap(), coats[1].wait.as_ref().unwrap());
    assert_eq!((first.kind.as_str(), first.min_min), ("recoat", 120));
    assert_eq!((last.kind.as_str(), last.min_min), ("cure", 21 * 1440));
    // A dresser takes about a pint in two coats: 473 mL within a quarter.
    let used_ml: f64 = coats.iter().map(|step| step.quantity_ml.unwrap()).sum();
    assert!((355.0..=592.0).contains(&used_ml), "{used_ml} mL");
}

#[test]
fn a_small_bedside_cabinet_takes_about_a_quarter_of_a_pint() {
    let zone = "  substrate = \"birch\"\n  found = [ { class = \"oil-based-polyurethane\", coats = 2 } ]\n  wish = { look = \"paint\", class = \"waterborne-acrylic-enamel\", colour = \"#35506b\" }\n";
    let plan = plan_of(&case("bedside cabinet", [16.0, 14.0, 22.0], zone));
    let coats = find(&plan, |step| {
        step.material.as_deref() == Some("waterborne-acrylic-enamel")
    });
    let used_ml: f64 = coats.iter().map(|step| step.quantity_ml.unwrap()).sum();
    assert!((89.0..=148.0).contains(&used_ml), "{used_ml} mL of 118");
}

#[test]
fn stripping_by_sanding_begins_with_p60() {
    let zone = "  substrate = \"oak\"\n  found = [ { class = \"oil-based-polyurethane\", coats = 2 } ]\n  wish = { look = \"clear\", strip = true }\n";
    let plan = plan_of(&case("desk", [40.0, 20.0, 30.0], zone));
    let outlines: Vec<&String> = plan.pieces[0].zones[0]
        .schedules
        .iter()
        .flat_map(|choice| &choice.outline)
        .collect();
    let by_sanding: Vec<&&String> = outlines
        .iter()
        .filter(|words| words.starts_with("strip by sanding"))
        .collect();
    assert!(
        !by_sanding.is_empty(),
        "one of the schedules strips by sanding: {outlines:?}"
    );
    assert!(by_sanding.iter().all(|words| words.contains("P60")), "{by_sanding:?}");
}

#[test]
fn old_paint_of_unknown_age_is_not_sanded_dry_before_a_test() {
    let plan = planned(&garage(&["blanket-box"]));
    let lead = plan
        .cautions
        .iter()
        .find(|caution| caution.id.starts_with("lead"))
        .unwrap();
    assert!(lead.pieces.contains(&"blanket box".to_owned()));
    for step in find(&plan, |step| {
        ["sand", "strip-sand", "strip-heat"].contains(&step.operation.as_str())
    }) {
        assert!(step.words.contains("wet"), "{}: {}", step.id, step.words);
    }
}

#[test]
fn a_cold_room_takes_longer_and_a_coat_is_not_put_on_below_its_limit() {
    let shop = garage(&["hall-bench"]);
    let plan = planned(&shop);
    let readings = &shop.settings.rooms[0].readings;
    for step in find(&plan, |step| step.coat.is_some() && step.material.is_some()) {
        let Ok(class) = trade::FinishClass::parse(step.material.as_deref().unwrap()) else {
            continue;
        };
        let Some((least_c, _)) = class.row().temp_c else {
            continue;
        };
        // The reading of the hour before and after: the air in between is no colder than the colder of them by much.
        let at = readings.partition_point(|reading| reading.at <= step.starts.timestamp());
        let around = &readings[at.saturating_sub(1)..(at + 1).min(readings.len())];
        let warmest = around
            .iter()
            .map(|reading| reading.temperature.c())
            .fold(f64::NEG_INFINITY, f64::max);
        assert!(
            warmest >= least_c - 0.5,
            "{} at {warmest} °C, limit {least_c} °C",
            step.id
        );
    }
    let warm = {
        let mut shop = shop.clone();
        shop.settings.rooms[0].readings.clear();
        shop.settings.rooms[0].temperature = quantity::Temperature::from_c(25.0);
        shop.settings.rooms[0].humidity = quantity::Humidity::from_fraction(0.5);
        planned(&shop)
    };
    assert!(warm.pieces[0].cured.timestamp() < plan.pieces[0].cured.timestamp());
}

#[test]
fn taking_a_step_out_by_hand_is_found_by_the_check() {
    let shop = washstand();
    let piece = &shop.pieces[0];
    let checked = shop::plan::check_steps(&shop, piece, "body", None).unwrap();
    assert!(
        checked
            .findings
            .iter()
            .all(|finding| finding.severity == finish::Severity::Note),
        "{:?}",
        checked.findings
    );
    let scuff = checked
        .steps
        .iter()
        .position(|step| step.operation == trade::Operation::Scuff)
        .unwrap();
    let mut without = checked.steps.clone();
    without.remove(scuff);
    let found = shop::plan::check_steps(&shop, piece, "body", Some(&without)).unwrap();
    let said: Vec<&str> = found.findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert!(
        found
            .findings
            .iter()
            .any(|finding| finding.severity > finish::Severity::Note),
        "{said:?}"
    );
}
