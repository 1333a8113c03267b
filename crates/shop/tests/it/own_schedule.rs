//! A schedule of the user's own: planned step by step as it was written, its warnings overruled with a reason, its stops never.

use jiff::Timestamp;
use shop::Shop;
use shop::file::{NothingBeside, Source, read, write_shop};
use shop::model::{Overruled, OwnStep};
use shop::plan::{Effort, Plan, PlanFailure, PlanRefusal, judge, plan, written};
use trade::Operation;

const BOX: &str = r##"
[shop]
zone_id = "UTC"
starts  = "2027-03-08T09:00"
hours   = { mon = "9:00-17:00", tue = "9:00-17:00", wed = "9:00-17:00", thu = "9:00-17:00", fri = "9:00-17:00" }
room    = { temperature = "20 °C", humidity = 0.5 }

[[piece]]
name   = "box"
form   = "case"
made   = "1995"
width  = "80 cm"
depth  = "40 cm"
height = "40 cm"

  [[piece.zone]]
  name      = "body"
  substrate = "oak"
  found     = [ { class = "oil-based-polyurethane", coats = 2 } ]
  wish      = { look = "paint", colour = "#f4f3ee" }
"##;

/// Clean, scuff, prime, paint twice; nobody dusts off after scuffing.
const DUSTY: &str = r#"
  steps = [
    { operation = "clean", material = "neutral-cleaner" },
    { operation = "rinse" },
    { operation = "scuff", grit = "P220" },
    { operation = "prime", material = "shellac-primer" },
    { operation = "paint", material = "waterborne-acrylic-enamel" },
    { operation = "paint", material = "waterborne-acrylic-enamel", wait = "9 h" },
  ]
"#;

fn read_one(text: &str) -> Result<Shop, String> {
    read(&[Source::new("box.toml", text)], &NothingBeside)
        .map(|read| read.shop)
        .map_err(|refusals| refusals.to_string())
}

fn planned(shop: &Shop) -> Result<Plan, PlanFailure> {
    let now: Timestamp = "2027-03-08T09:00:00Z".parse().unwrap();
    plan(shop, now, Effort::least())
}

fn refusals(shop: &Shop) -> Vec<PlanRefusal> {
    match planned(shop) {
        Err(PlanFailure::Refused(refusals)) => refusals,
        other => panic!("{other:?}"),
    }
}

/// The dusty schedule with a consent to each of its warnings.
fn overruled() -> Shop {
    let mut shop = read_one(&format!("{BOX}{DUSTY}")).unwrap();
    let piece = shop.pieces[0].clone();
    let own = judge(&shop, &piece, "body", piece.zones[0].own.as_ref().unwrap()).unwrap();
    let in_the_way = own.judged.iter().filter(|judged| judged.is_in_the_way());
    shop.pieces[0].zones[0].overruled = in_the_way
        .map(|judged| Overruled {
            rule: judged.finding.rule.clone(),
            situation: judged.finding.situation.clone(),
            reason: "the shop is blown out, \"no\" dust lies".to_owned(),
            by: "Ada".to_owned(),
            on: jiff::civil::date(2027, 3, 8),
        })
        .collect();
    shop
}

#[test]
fn a_warning_that_nobody_overruled_keeps_the_schedule_from_being_planned() {
    let shop = read_one(&format!("{BOX}{DUSTY}")).unwrap();
    let refusals = refusals(&shop);
    let dust = refusals
        .iter()
        .find(|refusal| refusal.limit.contains("dust-under-coat"))
        .unwrap();
    assert!(dust.limit.contains("neither mended nor overruled"), "{dust}");
    assert_eq!(dust.field, "piece \"box\", zone \"body\", steps 4");
    let at = dust.in_file.as_ref().unwrap();
    assert_eq!((at.key, at.entry), ("steps", Some(3)));
    // What the refusal offers to write is read, once a name, a reason and a day are put in.
    let write = at.write.as_ref().unwrap();
    let write = write
        .replace("reason = \"…\"", "reason = \"blown out\"")
        .replace("by = \"…\"", "by = \"Ada\"")
        .replace("YYYY-MM-DD", "2027-03-08");
    let again = read_one(&format!("{BOX}{DUSTY}  {write}\n")).unwrap();
    let others: Vec<PlanRefusal> = match planned(&again) {
        Err(PlanFailure::Refused(refusals)) => refusals,
        _ => Vec::new(),
    };
    assert!(
        others
            .iter()
            .all(|other| other.field != dust.field || !other.limit.contains("dust-under-coat")),
        "{others:?}"
    );
}

#[test]
fn the_plan_has_exactly_these_steps_and_says_whose_they_are() {
    let shop = overruled();
    let plan = planned(&shop).unwrap();
    let zone = &plan.pieces[0].zones[0];
    let operations: Vec<&str> = zone.steps.iter().map(|step| step.operation.as_str()).collect();
    assert_eq!(operations, ["clean", "rinse", "scuff", "prime", "paint", "paint"]);
    assert!(zone.own);
    assert!(zone.schedules[0].chosen && zone.schedules[0].best_at == ["your own"]);
    assert!(zone.schedules.len() > 1 && zone.schedules[1..].iter().all(|choice| !choice.chosen));
    assert!(zone.steps.iter().all(|step| step.hands_on_min > 0));
    assert!(zone.steps[3].quantity_ml.unwrap() > 20.0);
    let dust = zone
        .overruled
        .iter()
        .find(|went_on| went_on.rule == "dust-under-coat")
        .unwrap();
    assert_eq!(dust.step.as_deref(), Some(zone.steps[3].id.as_str()));
    for words in [
        "You chose to go on although",
        "dust-under-coat",
        "2027-03-08",
        "blown out",
        "Ada",
    ] {
        assert!(dust.text.contains(words), "{words} is missing: {}", dust.text);
    }
    assert!(
        zone.steps[3]
            .cautions
            .iter()
            .any(|id| id.starts_with("dust-under-coat"))
    );
    let json = plan.to_json().unwrap();
    assert!(json.contains("\"own\": true") && json.contains("\"overruled\""));
    let text = shop::text::plan_as_text(&plan);
    assert!(
        text.contains("your own") && text.contains("You chose to go on although"),
        "{text}"
    );
}

#[test]
fn it_survives_writing_and_reading_back() {
    let mut shop = overruled();
    let layer = &mut shop.pieces[0].zones[0].found[0];
    layer.age = Some(quantity::Minutes::new(3 * 1440));
    layer.soundness = Some(shop::model::Soundness::Worn);
    layer.guess = Some(shop::model::Guess {
        era: finish::identify::Era::From1990,
        answers: vec![
            finish::identify::Answer::new(
                finish::identify::Observation::Alcohol,
                finish::identify::Outcome::Nothing,
            )
            .unwrap(),
        ],
    });
    let back = read_one(&write_shop(&shop)).unwrap();
    assert_eq!(back.pieces, shop.pieces);
    let json = serde_json::to_string(&shop.pieces).unwrap();
    let stored: Vec<shop::Piece> = serde_json::from_str(&json).unwrap();
    assert_eq!(stored, shop.pieces);
}

#[test]
fn a_consent_lapses_when_the_cause_changes_and_says_what_has_changed() {
    let mut shop = overruled();
    shop.pieces[0].zones[0].found[0].class = trade::FinishClass::NitrocelluloseLacquer;
    let refusals = refusals(&shop);
    let dust = refusals
        .iter()
        .find(|refusal| refusal.limit.contains("dust-under-coat"))
        .unwrap();
    assert!(
        dust.limit.contains("The consent of 2027-03-08 has lapsed")
            && dust.limit.contains("nitrocellulose-lacquer")
            && dust.limit.contains("oil-based-polyurethane"),
        "{dust}"
    );
    // Back as it was, the consent holds again.
    shop.pieces[0].zones[0].found[0].class = trade::FinishClass::OilBasedPolyurethane;
    shop.pieces[0].name = "another name".to_owned();
    assert!(planned(&shop).is_ok());
}

#[test]
fn a_stop_is_refused_with_its_line_whoever_consents() {
    let waxed = BOX.replace(
        "{ class = \"oil-based-polyurethane\", coats = 2 }",
        "{ class = \"oil-based-polyurethane\", coats = 2 }, { class = \"paste-wax\" }",
    );
    let shop = read_one(&format!("{waxed}{DUSTY}")).unwrap();
    let refusals = refusals(&shop);
    let stop = refusals
        .iter()
        .find(|refusal| refusal.limit.contains("wax-under-coat"))
        .unwrap();
    assert!(stop.limit.contains("a stop cannot be overruled"), "{stop}");
    assert!(stop.in_file.as_ref().unwrap().write.is_none());
    let entry = stop.in_file.as_ref().unwrap();
    let source = [Source::new("box.toml", format!("{waxed}{DUSTY}"))];
    let (_, line) = shop::file::place_in(&source, "box", Some("body"), Some((entry.key, entry.entry)));
    let at = source[0].text.lines().nth(line - 1).unwrap();
    assert!(
        at.contains("shellac-primer") || at.contains("waterborne-acrylic"),
        "line {line}: {at}"
    );
    let consent = "  overruled = [ { rule = \"wax-under-coat\", situation = \"any\", reason = \"I know\", by = \"Ada\", on = \"2027-03-08\" } ]\n";
    let refused = read_one(&format!("{waxed}{DUSTY}{consent}")).unwrap_err();
    let line = format!("{waxed}{DUSTY}").lines().count() + 1;
    assert!(
        refused.contains(&format!("line {line}:")) && refused.contains("a stop cannot be overruled"),
        "{refused}"
    );
}

#[test]
fn steps_of_a_file_are_refused_where_they_stand() {
    let cases = [
        ("{ operation = \"polish\" }", "not in the trade's tables"),
        ("{ operation = \"paint\" }", "takes a material"),
        (
            "{ operation = \"paint\", material = \"gel-stripper\" }",
            "not done with",
        ),
        ("{ operation = \"scuff\" }", "takes a grit"),
        (
            "{ operation = \"clean\", material = \"neutral-cleaner\", grit = \"P220\" }",
            "takes no grit",
        ),
        ("{ operation = \"rinse\", wait = \"5 years\" }", "wait"),
        ("{ operation = \"rinse\", until = \"noon\" }", "no such key"),
        ("", "a schedule of 1 to 60 steps"),
    ];
    for (step, words) in cases {
        let refused = read_one(&format!("{BOX}  steps = [ {step} ]\n")).unwrap_err();
        let line = format!("line {}:", BOX.lines().count() + 1);
        assert!(refused.contains(words) && refused.contains(&line), "{step}: {refused}");
    }
    let unknown = "overruled = [ { rule = \"dust-under-cote\", situation = \"x\", reason = \"x\", by = \"x\", on = \"2027-03-08\" } ]";
    let refused = read_one(&format!("{BOX}  {unknown}\n")).unwrap_err();
    assert!(refused.contains("dust-under-coat"), "{refused}");
}

#[test]
fn a_derived_schedule_gone_on_with_by_hand_is_planned_as_it_was() {
    let mut shop = read_one(BOX).unwrap();
    let before = planned(&shop).unwrap();
    let steps = written(&shop, &shop.pieces[0], "body").unwrap();
    shop.pieces[0].zones[0].own = Some(steps.clone());
    let after = planned(&shop).unwrap();
    let words = |plan: &Plan| -> Vec<(String, u32, Option<u32>)> {
        let each = plan.pieces[0].zones[0].steps.iter();
        each.map(|step| {
            (
                step.words.clone(),
                step.hands_on_min,
                step.wait.as_ref().map(|wait| wait.min_min),
            )
        })
        .collect()
    };
    assert_eq!(words(&after), words(&before));
    assert_eq!(after.pieces[0].money, before.pieces[0].money);
    assert!(steps.iter().any(|step| step.operation == Operation::Paint));
    // Choosing a derived one sets the own one aside and keeps it as a draft.
    shop::bench::choose(&mut shop, "box", "body", None).unwrap();
    let zone = &shop.pieces[0].zones[0];
    assert_eq!((zone.own.as_ref(), zone.draft.as_ref()), (None, Some(&steps)));
}

#[test]
fn a_step_that_no_rule_asks_for_says_so() {
    let mut shop = read_one(BOX).unwrap();
    let mut steps = written(&shop, &shop.pieces[0], "body").unwrap();
    let last = *steps.last().unwrap();
    steps.push(OwnStep { wait_min: None, ..last });
    shop.pieces[0].zones[0].own = Some(steps);
    let plan = planned(&shop);
    let plan = plan.unwrap_or_else(|failure| panic!("{failure:?}"));
    let zone = &plan.pieces[0].zones[0];
    assert!(
        zone.steps.iter().all(|step| !step.because.is_empty()),
        "a step stands without any word of why"
    );
}

mod by_hand {
    use super::{BOX, DUSTY, NothingBeside, Source, planned, read, read_one, write_shop};
    use shop::by_hand::{
        Consent, derived_again, draft_of, keep_draft, materials_for, overrule, plan_own, take_back, usual_step,
    };
    use shop::model::OwnStep;
    use shop::plan::judge;
    use trade::Operation;

    fn consent<'c>(rule: &'c str, situation: &'c str) -> Consent<'c> {
        Consent {
            rule,
            situation,
            reason: "seen to",
            by: "Ada",
            on: jiff::civil::date(2027, 3, 8),
        }
    }

    #[test]
    fn a_draft_is_planned_once_each_warning_is_overruled_and_derived_again_in_one_move() {
        let mut shop = read_one(BOX).unwrap();
        let dusty = read_one(&format!("{BOX}{DUSTY}")).unwrap().pieces[0].zones[0]
            .own
            .clone();
        keep_draft(&mut shop, "box", "body", dusty.clone().unwrap()).unwrap();
        assert!(
            planned(&shop).is_ok_and(|plan| !plan.pieces[0].zones[0].own),
            "a draft is not planned"
        );
        let refused = plan_own(&mut shop, "box", "body").unwrap_err();
        assert!(refused.limit.contains("neither mended nor overruled"), "{refused}");
        let piece = shop.pieces[0].clone();
        let judged = judge(&shop, &piece, "body", dusty.as_ref().unwrap()).unwrap();
        for judged in judged.judged.iter().filter(|judged| judged.is_in_the_way()) {
            let finding = &judged.finding;
            overrule(&mut shop, "box", "body", consent(&finding.rule, &finding.situation)).unwrap();
        }
        plan_own(&mut shop, "box", "body").unwrap();
        assert_eq!(shop.pieces[0].zones[0].own, dusty);
        assert!(planned(&shop).unwrap().pieces[0].zones[0].own);
        let first = shop.pieces[0].zones[0].overruled[0].clone();
        take_back(&mut shop, "box", "body", &first.rule, &first.situation).unwrap();
        assert!(planned(&shop).is_err(), "a consent taken back covers nothing");
        derived_again(&mut shop, "box", "body").unwrap();
        assert!(!planned(&shop).unwrap().pieces[0].zones[0].own);
    }

    #[test]
    fn a_stop_and_a_warning_that_is_not_there_cannot_be_overruled() {
        let mut shop = read_one(BOX).unwrap();
        let stop = overrule(&mut shop, "box", "body", consent("wax-under-coat", "any")).unwrap_err();
        assert!(stop.limit.contains("a stop cannot be overruled"), "{stop}");
        let absent = overrule(&mut shop, "box", "body", consent("dust-under-coat", "any")).unwrap_err();
        assert!(absent.limit.contains("not what it was"), "{absent}");
        let silent = Consent {
            reason: " ",
            ..consent("dust-under-coat", "any")
        };
        assert_eq!(overrule(&mut shop, "box", "body", silent).unwrap_err().field, "reason");
        assert!(shop.pieces[0].zones[0].overruled.is_empty());
    }

    #[test]
    fn every_operation_begins_with_what_may_be_written_beside_it() {
        let shop = read_one(BOX).unwrap();
        for operation in Operation::EVERY {
            let step = usual_step(&shop, &[], *operation);
            assert_eq!(step.checked(), Ok(()), "{operation}");
            let offered = materials_for(*operation);
            assert!(
                step.material
                    .is_none_or(|material| offered.iter().any(|(_, each)| each.contains(&material))),
                "{operation}"
            );
        }
        // What the schedule uses already comes first.
        let steps = draft_of(&shop, "box", "body").unwrap();
        let paint = steps
            .iter()
            .rev()
            .find(|step| step.operation == Operation::Paint)
            .unwrap();
        assert_eq!(
            usual_step(&shop, &steps, Operation::Paint),
            OwnStep {
                wait_min: None,
                method: None,
                ..*paint
            }
        );
    }

    #[test]
    fn a_draft_goes_out_with_the_plan_file_and_comes_back_and_is_not_planned() {
        let mut shop = read_one(BOX).unwrap();
        let draft = read_one(&format!("{BOX}{DUSTY}")).unwrap().pieces[0].zones[0]
            .own
            .clone()
            .unwrap();
        for steps in [draft, Vec::new()] {
            keep_draft(&mut shop, "box", "body", steps.clone()).unwrap();
            let text = write_shop(&shop);
            let back =
                read(&[Source::new("box.toml", &text)], &NothingBeside).unwrap_or_else(|refusals| panic!("{refusals}"));
            let zone = &back.shop.pieces[0].zones[0];
            assert_eq!((zone.draft.as_ref(), zone.own.as_ref()), (Some(&steps), None), "{text}");
            assert!(
                back.assumed
                    .iter()
                    .any(|said| said.contains("draft") && said.contains("not planned yet"))
            );
            assert!(
                planned(&back.shop).unwrap().pieces[0]
                    .zones
                    .iter()
                    .all(|zone| !zone.own)
            );
        }
        let refused = read_one(&format!("{BOX}  draft = [ {{ operation = \"paint\" }} ]\n")).unwrap_err();
        assert!(
            refused.contains("draft 1") && refused.contains("takes a material"),
            "{refused}"
        );
        let refused = read_one(&format!("{BOX}  draft = \"later\"\n")).unwrap_err();
        assert!(
            refused.contains("draft") && refused.contains("list in brackets"),
            "{refused}"
        );
    }

    #[test]
    fn a_step_that_is_wrong_by_itself_is_not_kept() {
        let mut shop = read_one(BOX).unwrap();
        let refused = keep_draft(&mut shop, "box", "body", vec![OwnStep::of(Operation::Paint)]).unwrap_err();
        assert!(refused.limit.contains("takes a material"), "{refused}");
        assert_eq!(shop.pieces[0].zones[0].draft, None);
    }
}
