//! The use cases of a schedule written by hand: go on from what is planned, keep a draft, overrule a warning, plan it, go back.
//!
//! Each changes one zone of the shop and nothing else, as those of [`crate::bench`] do.

use finish::{RuleId, Severity};
use jiff::civil::Date;
use trade::finish_rows::Group;
use trade::{FinishClass, Grit, Material, Operation, PrepClass};

use crate::bench::{BenchRefusal, find_zone, refusal};
use crate::model::{LONGEST_REASON, MOST_STEPS, Overruled, OwnStep, Shop};
use crate::plan::{OwnSchedule, PlanFailure, judge, written};

/// The steps that are being written by hand: the zone's draft, else its own schedule, else the derived one as it would be written.
///
/// # Errors
/// No such piece or zone, or a wish that no schedule meets.
pub fn draft_of(shop: &Shop, piece_id: &str, zone_name: &str) -> Result<Vec<OwnStep>, PlanFailure> {
    let piece = shop.piece(piece_id);
    match piece
        .and_then(|piece| piece.zone(zone_name))
        .and_then(|zone| zone.draft.as_ref())
    {
        Some(draft) => Ok(draft.clone()),
        None => match piece {
            Some(piece) => written(shop, piece, zone_name),
            None => Err(PlanFailure::Refused(Vec::new())),
        },
    }
}

/// Keeps a draft of a zone's schedule; nothing is planned with it yet.
///
/// # Errors
/// No such piece or zone, more steps than a schedule has, or a step that is wrong by itself.
pub fn keep_draft(shop: &mut Shop, piece_id: &str, zone_name: &str, steps: Vec<OwnStep>) -> Result<(), BenchRefusal> {
    if steps.len() > MOST_STEPS {
        return Err(refusal(
            "steps",
            &format!("{} steps", steps.len()),
            &format!("a schedule has at most {MOST_STEPS} steps"),
            "fewer steps",
        ));
    }
    for step in &steps {
        step.checked()
            .map_err(|(limit, right)| refusal("steps", step.operation.label(), &limit, &right))?;
    }
    find_zone(shop, piece_id, zone_name)?.draft = Some(steps);
    Ok(())
}

/// What the user says to a warning.
#[derive(Debug, Clone, Copy)]
pub struct Consent<'c> {
    /// The rule that warns.
    pub rule: &'c str,
    /// The situation that it was told in.
    pub situation: &'c str,
    /// Why the user goes on.
    pub reason: &'c str,
    /// Who says so.
    pub by: &'c str,
    /// When.
    pub on: Date,
}

/// Goes on in spite of a warning of the schedule that is being written.
///
/// # Errors
/// A rule that stops, with why; a warning that is not there in this situation; a reason or a name that is missing or too long.
pub fn overrule(shop: &mut Shop, piece_id: &str, zone_name: &str, consent: Consent<'_>) -> Result<(), BenchRefusal> {
    let Ok(rule) = RuleId::parse(consent.rule) else {
        return Err(refusal(
            "rule",
            consent.rule,
            "this is no rule of the check",
            "a rule that warns",
        ));
    };
    let words = rule.rule();
    if words.severity == Severity::Stop {
        return Err(refusal(
            "rule",
            &words.message,
            &format!(
                "this is a stop ({}), and a stop cannot be overruled: {}",
                rule.id(),
                words.why
            ),
            &words.do_,
        ));
    }
    for (field, text, longest) in [("reason", consent.reason, LONGEST_REASON), ("by", consent.by, 80)] {
        let text = text.trim();
        let length = text.chars().count();
        if length == 0 || length > longest || text.chars().any(char::is_control) {
            return Err(refusal(
                field,
                text,
                &format!(
                    "{} takes 1 to {longest} characters on one line",
                    if field == "by" { "a name" } else { "a reason" }
                ),
                if field == "by" {
                    "your name"
                } else {
                    "why you go on in spite of it"
                },
            ));
        }
    }
    let judged = judged_draft(shop, piece_id, zone_name)?;
    let is_meant = |finding: &finish::Finding| finding.rule == consent.rule && finding.situation == consent.situation;
    if !judged
        .judged
        .iter()
        .any(|judged| judged.finding.can_be_overruled() && is_meant(&judged.finding))
    {
        return Err(refusal(
            "rule",
            rule.id(),
            "the schedule is not what it was when this warning was told",
            "look at the schedule again, and overrule what it warns of now",
        ));
    }
    let said = Overruled {
        rule: rule.id().to_owned(),
        situation: consent.situation.to_owned(),
        reason: consent.reason.trim().to_owned(),
        by: consent.by.trim().to_owned(),
        on: consent.on,
    };
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.overruled
        .retain(|old| old.rule != said.rule || old.situation != said.situation);
    zone.overruled.push(said);
    Ok(())
}

/// Takes a consent back.
///
/// # Errors
/// No such piece or zone.
pub fn take_back(
    shop: &mut Shop,
    piece_id: &str,
    zone_name: &str,
    rule: &str,
    situation: &str,
) -> Result<(), BenchRefusal> {
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.overruled
        .retain(|old| old.rule != rule || old.situation != situation);
    Ok(())
}

/// Plans the zone with the draft from now on.
///
/// # Errors
/// A stop, which nothing overrules, or a warning that is neither mended nor overruled.
pub fn plan_own(shop: &mut Shop, piece_id: &str, zone_name: &str) -> Result<(), BenchRefusal> {
    let judged = judged_draft(shop, piece_id, zone_name)?;
    if let Some(first) = judged.judged.iter().find(|judged| judged.is_in_the_way()) {
        let finding = &first.finding;
        let limit = if finding.severity == Severity::Stop {
            format!(
                "this is a stop ({}), and a stop cannot be overruled: {}",
                finding.rule, finding.why
            )
        } else {
            format!(
                "this warning ({}) is neither mended nor overruled: {}",
                finding.rule, finding.why
            )
        };
        return Err(refusal("steps", &finding.message, &limit, &finding.do_));
    }
    if !judged.can_be_planned() {
        return Err(refusal(
            "steps",
            "no step on the zone itself",
            "a schedule of your own has at least one step that is done to the zone",
            "a step such as cleaning, or the derived schedule again",
        ));
    }
    let own = draft_of(shop, piece_id, zone_name).map_err(gone)?;
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.own = Some(own);
    zone.draft = None;
    Ok(())
}

/// Goes back to the derived schedule: the user's own and its draft are forgotten. Consents are kept for another time.
///
/// # Errors
/// No such piece or zone.
pub fn derived_again(shop: &mut Shop, piece_id: &str, zone_name: &str) -> Result<(), BenchRefusal> {
    let zone = find_zone(shop, piece_id, zone_name)?;
    zone.own = None;
    zone.draft = None;
    Ok(())
}

/// Forgets what was changed since the schedule was last planned.
///
/// # Errors
/// No such piece or zone.
pub fn forget_draft(shop: &mut Shop, piece_id: &str, zone_name: &str) -> Result<(), BenchRefusal> {
    find_zone(shop, piece_id, zone_name)?.draft = None;
    Ok(())
}

/// A step of an operation as it is usually begun: the material that the schedule has for it already, else a product's class of the
/// shelf, else what is common (`common-practice`); P220 where a grit is wanted.
pub fn usual_step(shop: &Shop, steps: &[OwnStep], operation: Operation) -> OwnStep {
    let suits = |material: &Material| finish::suits(operation, Some(*material));
    let wants_one = finish::needs_material(operation) || matches!(operation, Operation::Clean | Operation::Dewax);
    let material = wants_one.then(|| {
        let of_schedule = steps.iter().rev().filter_map(|step| step.material).find(suits);
        let of_shelf = || shop.shelf.iter().map(|product| product.class).find(suits);
        let common = || COMMON.iter().copied().find(suits);
        of_schedule
            .or_else(of_shelf)
            .or_else(common)
            .or_else(|| Material::every().find(suits))
    });
    OwnStep {
        material: material.flatten(),
        grit: finish::takes_grit(operation).then_some(match operation {
            Operation::StripSand => Grit::P80,
            _ => Grit::P220,
        }),
        ..OwnStep::of(operation)
    }
}

/// What a step is usually begun with where neither schedule nor shelf says: common practice.
const COMMON: [Material; 9] = [
    Material::Prep(PrepClass::NeutralCleaner),
    Material::Prep(PrepClass::MineralSpirits),
    Material::Prep(PrepClass::GelStripper),
    Material::Prep(PrepClass::WaterBasedFiller),
    Material::Finish(FinishClass::WaterborneBondingPrimer),
    Material::Finish(FinishClass::DewaxedShellac),
    Material::Finish(FinishClass::GelStain),
    Material::Finish(FinishClass::WaterborneAcrylicEnamel),
    Material::Finish(FinishClass::WaterbornePolyurethane),
];

/// The materials that an operation may be done with, those of a kind together: the kind's words and its members.
pub fn materials_for(operation: Operation) -> Vec<(&'static str, Vec<Material>)> {
    let mut groups: Vec<(&'static str, Vec<Material>)> = Vec::new();
    for material in Material::every().filter(|material| finish::suits(operation, Some(*material))) {
        let kind = kind_of(material);
        match groups.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, members)) => members.push(material),
            None => groups.push((kind, vec![material])),
        }
    }
    groups
}

fn kind_of(material: Material) -> &'static str {
    match material {
        Material::Prep(_) => "Preparation",
        Material::Finish(class) => match class.row().group {
            Group::Primer => "Primers",
            Group::Sealer => "Sealers",
            Group::Paint => "Paints",
            Group::Clear => "Clear finishes",
            Group::Oil => "Oils",
            Group::Wax => "Waxes",
            Group::Stain => "Stains",
        },
    }
}

fn judged_draft(shop: &Shop, piece_id: &str, zone_name: &str) -> Result<OwnSchedule, BenchRefusal> {
    let steps = draft_of(shop, piece_id, zone_name).map_err(gone)?;
    let Some(piece) = shop.piece(piece_id) else {
        return Err(refusal(
            "piece",
            piece_id,
            "there is no such piece in the shop",
            "a piece of the shop",
        ));
    };
    judge(shop, piece, zone_name, &steps).map_err(gone)
}

fn gone(failure: PlanFailure) -> BenchRefusal {
    let (found, limit, right) = match failure {
        PlanFailure::Refused(refusals) => refusals.into_iter().next().map_or_else(
            || {
                (
                    String::new(),
                    "there is no such piece in the shop".to_owned(),
                    "a piece of the shop".to_owned(),
                )
            },
            |first| (first.found, first.limit, first.right),
        ),
        PlanFailure::NoSchedule(_) => (
            "the wish of this zone".to_owned(),
            "no schedule meets it, so there is none to go on from".to_owned(),
            "change the wish first".to_owned(),
        ),
    };
    refusal("zone", &found, &limit, &right)
}
