//! Every rule fires on a schedule that breaks it, and is silent on one that only just does not.

use finish::{
    CoatsToHide, Condition, Contaminant, Defect, DefectKind, Detail, FoundLayer, Limits, Look, Made, Method, RoomAir,
    RuleId, Sheen, Soundness, Step, Use, Wait, WaitKind, Wish, Without, Zone, check,
};
use trade::{FinishClass, Grit, Material, Operation, Substrate};

struct Case {
    zone: Zone,
    wish: Wish,
    limits: Limits,
    fires: Vec<Step>,
    silent: Vec<Step>,
}

fn layer(word: &str) -> FoundLayer {
    let soundness = match word.chars().last() {
        Some('!') => Soundness::Flaking,
        Some('%') => Soundness::Worn,
        _ => Soundness::Sound,
    };
    let word = word.trim_end_matches(['!', '%']);
    let (class, coats) = match word.rsplit_once('x') {
        Some((class, coats)) if coats.parse::<u8>().is_ok() => (class, coats.parse().ok()),
        _ => (word, None),
    };
    FoundLayer {
        coats,
        soundness,
        ..FoundLayer::of(FinishClass::parse(class).unwrap())
    }
}

fn zone(words: &str, limits: &mut Limits) -> Zone {
    let mut words = words.split(' ');
    let substrate = words.next().unwrap().replace('_', " ");
    let substrate = if substrate.starts_with("veneer ") {
        format!("{substrate} mm")
    } else {
        substrate
    };
    let mut zone = Zone::bare("case", Substrate::parse(&substrate).unwrap());
    for word in words {
        if let Some(found) = word.strip_prefix("found=") {
            zone.found = found.split(',').map(layer).collect();
        } else if let Some(hides) = word.strip_prefix("hides=") {
            let coats = hides.parse().unwrap();
            limits.coats_to_hide = Some(CoatsToHide {
                over_found: coats,
                over_primer: coats,
            });
        } else if word == "age-unknown" {
            zone.made = Made::default();
        } else if word == "removable" {
            zone.removable = true;
        } else if let Ok(condition) = Condition::parse(word) {
            zone.conditions.push(condition);
        } else if let Ok(contaminant) = Contaminant::parse(word) {
            zone.contaminants.push(contaminant);
        } else if let Ok(detail) = Detail::parse(word) {
            zone.detail = detail;
        } else if let Ok(use_) = Use::parse(word) {
            zone.use_ = use_;
        } else {
            let (kind, depth) = word.split_once('_').unwrap_or((word, "1"));
            let kind = DefectKind::parse(kind).unwrap_or_else(|_| panic!("`{word}`"));
            zone.defects.push(Defect {
                kind,
                count: 1,
                depth_mm: depth.parse().ok(),
            });
        }
    }
    zone
}

fn wish(words: &str, limits: &mut Limits) -> Wish {
    let mut words = words.split(' ');
    let mut wish = Wish::of(Look::parse(words.next().unwrap()).unwrap());
    for word in words {
        match word.split_once('=') {
            Some(("class", class)) => wish.class = Some(FinishClass::parse(class).unwrap()),
            Some(("sheen", sheen)) => wish.sheen = Sheen::parse(sheen).ok(),
            Some(("without", what)) => wish.without.push(Without::parse(what).unwrap()),
            _ => match word {
                "strip" => wish.strip = true,
                "glaze" => wish.glaze = true,
                "distress" => wish.distress = true,
                "gun" => limits.has_spray_gun = true,
                "cold" => {
                    limits.air = Some(RoomAir {
                        warmest_c: 12.0,
                        driest_rh: 0.5,
                    })
                }
                _ => panic!("`{word}`"),
            },
        }
    }
    wish
}

fn step(word: &str) -> Step {
    let (head, wait) = word.split_once('~').unwrap_or((word, "0"));
    let marks = |mark| word.contains(mark);
    let (head, grit) = head.split_once('@').unwrap_or((head, ""));
    let (operation, material) = head.split_once(':').unwrap_or((head, ""));
    let bare = |text: &str| text.trim_end_matches(['&', '^']).to_owned();
    let mut step = Step::by_hand(Operation::parse(&bare(operation)).unwrap());
    step.material = (!material.is_empty()).then(|| Material::parse(&bare(material)).unwrap());
    step.grit = (!grit.is_empty()).then(|| Grit::parse(&bare(grit)).unwrap());
    step.wet = marks('&');
    step.method = marks('^').then_some(Method::Hvlp);
    let min_min: u32 = bare(wait).parse().unwrap();
    step.wait = (min_min > 0).then_some(Wait {
        kind: WaitKind::Dry,
        min_min,
        max_min: None,
        or_after_min: None,
        model: None,
    });
    step
}

fn case(row: &str) -> (RuleId, Case) {
    let columns: Vec<&str> = row.split('|').collect();
    let [rule, found, wished, fires, silent] = columns[..] else {
        panic!("five columns: {row}")
    };
    let mut limits = Limits::default();
    let case = Case {
        zone: zone(found, &mut limits),
        wish: wish(wished, &mut limits),
        fires: fires.split(' ').map(step).collect(),
        silent: silent.split(' ').map(step).collect(),
        limits,
    };
    (RuleId::parse(rule).unwrap_or_else(|_| panic!("`{rule}`")), case)
}

fn rows() -> impl Iterator<Item = &'static str> {
    include_str!("../data/rules_fire.csv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
}

fn finds(rule: RuleId, case: &Case, steps: &[Step]) -> bool {
    check(&case.zone, &case.wish, &case.limits, steps)
        .iter()
        .any(|finding| finding.rule == rule.id())
}

#[test]
fn each_rule_fires_when_broken_and_is_silent_when_just_kept() {
    let mut wrong = Vec::new();
    for row in rows() {
        let (rule, case) = case(row);
        if !finds(rule, &case, &case.fires) {
            wrong.push(format!("{rule} does not fire: {row}"));
        }
        if finds(rule, &case, &case.silent) {
            wrong.push(format!("{rule} fires where it should not: {row}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_rule_has_its_case() {
    let cases: Vec<RuleId> = rows().map(|row| case(row).0).collect();
    for rule in RuleId::EVERY {
        assert!(cases.contains(rule), "{rule} has no case in tests/data/rules_fire.csv");
    }
}
