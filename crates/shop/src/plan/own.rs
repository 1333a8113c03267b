//! A zone's own schedule: the user's steps with what the tables add, judged by the check, each warning with its consent or without.
//!
//! The one idea: what is planned was judged, here and nowhere else. A stop is refused, whoever consents; a warning is refused until
//! it is mended or somebody consents to it in just this situation.

use finish::{Finding, FinishingSchedule, Limits, RuleId, Severity, Step};
use trade::Operation;

use super::failure::{InFile, PlanFailure, PlanRefusal};
use super::steps;
use super::{air::ShopAir, calendar::PlanClock, measure};
use crate::file::write_consent;
use crate::model::{Overruled, OwnStep, Piece, Shop, Zone};

/// A finding of the user's own schedule and what the user says to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// What the check found.
    pub finding: Finding,
    /// The consent that covers it.
    pub consent: Option<Overruled>,
    /// A consent to the same warning in another situation: it does not cover this one.
    pub lapsed: Option<Lapsed>,
}

/// A consent that does not cover a finding any more, and what has changed since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lapsed {
    /// The consent.
    pub consent: Overruled,
    /// What was so when it was given and is not so now.
    pub then: Vec<String>,
    /// What is so now and was not then.
    pub now: Vec<String>,
}

impl Judged {
    /// Whether the schedule may not be planned as long as this stands.
    pub fn is_in_the_way(&self) -> bool {
        match self.finding.severity {
            Severity::Stop => true,
            Severity::Warn => self.consent.is_none(),
            Severity::Note => false,
        }
    }
}

/// The user's own schedule with what the tables and the check say of it.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnSchedule {
    /// The steps with minutes, quantities, waits and reasons, and its measures.
    pub schedule: FinishingSchedule,
    /// Every finding, in the order of the steps, those of the end last.
    pub judged: Vec<Judged>,
    /// Consents of the zone that cover nothing in it.
    pub idle: Vec<Overruled>,
}

impl OwnSchedule {
    /// Whether nothing is in its way: no stop, and every warning mended or overruled.
    pub fn can_be_planned(&self) -> bool {
        !self.judged.iter().any(Judged::is_in_the_way) && has_work(&self.schedule.steps)
    }
}

/// Whether something is left for the zone when what concerns the piece as a whole is taken out.
fn has_work(steps: &[Step]) -> bool {
    steps.iter().any(|step| !is_of_the_whole(step))
}

/// Whether a step is done once for the whole piece.
pub(super) fn is_of_the_whole(step: &Step) -> bool {
    matches!(step.operation, Operation::RemoveHardware | Operation::RefitHardware)
}

/// Judges steps of the user's own for a zone.
///
/// # Errors
/// No such zone, or a form or surfaces that cannot be used.
pub fn judge(shop: &Shop, piece: &Piece, zone_name: &str, own: &[OwnStep]) -> Result<OwnSchedule, PlanFailure> {
    let (zone, finish_zone, limits) = seen(shop, piece, zone_name)?;
    Ok(judged(zone, &finish_zone, &limits, own))
}

/// The steps of the zone's present plan as a person would write them, to go on from by hand.
///
/// # Errors
/// As [`judge`], and where no schedule meets the zone's wish.
pub fn written(shop: &Shop, piece: &Piece, zone_name: &str) -> Result<Vec<OwnStep>, PlanFailure> {
    let (zone, finish_zone, limits) = seen(shop, piece, zone_name)?;
    if let Some(own) = &zone.own {
        return Ok(own.clone());
    }
    let derived = super::check_steps(shop, piece, zone_name, None)?.steps;
    let written = finish::as_written(&finish_zone, &steps::wish_of(zone), &limits, &derived);
    Ok(written.iter().map(OwnStep::from).collect())
}

/// The zone as the finish crate sees it, in its room.
fn seen<'p>(shop: &Shop, piece: &'p Piece, zone_name: &str) -> Result<(&'p Zone, finish::Zone, Limits), PlanFailure> {
    let zone_idx = super::check::zone_idx(piece, zone_name)?;
    let measured = measure::measure(piece).map_err(PlanFailure::Refused)?;
    let zone = &piece.zones[zone_idx];
    let finish_zone = steps::zone_as_found(piece, zone, &measured.zones[zone_idx]);
    Ok((zone, finish_zone, steps::limits_of(shop, zone, room_air(shop, piece))))
}

/// The best air of the room that the piece stands in. The air matters only by how good it gets, so any first moment serves.
pub(super) fn room_air(shop: &Shop, piece: &Piece) -> finish::RoomAir {
    let clock = PlanClock::starting_at(&jiff::Timestamp::UNIX_EPOCH.to_zoned_datetime(jiff::tz::TimeZone::UTC));
    let room_idx = piece
        .room
        .as_ref()
        .and_then(|wanted| shop.settings.rooms.iter().position(|room| room.name == *wanted))
        .unwrap_or(0);
    ShopAir::of(&shop.settings, &clock).best(room_idx)
}

/// The schedule of these steps, and the zone's consents laid beside its findings.
pub(super) fn judged(zone: &Zone, finish_zone: &finish::Zone, limits: &Limits, own: &[OwnStep]) -> OwnSchedule {
    let said: Vec<Step> = own.iter().map(|step| step.to_step()).collect();
    let schedule = finish::by_hand(finish_zone, &steps::wish_of(zone), limits, &said);
    let covers = |consent: &&Overruled| schedule.notes.iter().any(|finding| consent.covers(finding));
    let (in_force, idle): (Vec<&Overruled>, Vec<&Overruled>) = zone.overruled.iter().partition(covers);
    let judge_one = |finding: &Finding| {
        let consent = in_force.iter().find(|consent| consent.covers(finding));
        Judged {
            finding: finding.clone(),
            consent: consent.map(|consent| (*consent).clone()),
            lapsed: consent.is_none().then(|| lapsed(&idle, finding)).flatten(),
        }
    };
    OwnSchedule {
        judged: schedule.notes.iter().map(judge_one).collect(),
        idle: idle.into_iter().cloned().collect(),
        schedule,
    }
}

/// The consent to the same warning in another situation; of several the one that differs in least, which is the one that was meant.
fn lapsed(idle: &[&Overruled], finding: &Finding) -> Option<Lapsed> {
    let same_rule = idle.iter().filter(|consent| consent.rule == finding.rule);
    let changes = same_rule.map(|consent| {
        let (then, now) = finish::changed(&consent.situation, &finding.situation);
        Lapsed {
            consent: (*consent).clone(),
            then,
            now,
        }
    });
    let nearest = changes.min_by_key(|lapsed| lapsed.then.len() + lapsed.now.len());
    nearest.filter(|_| finding.can_be_overruled())
}

/// Everything that keeps the zone's own schedule from being planned.
pub(super) fn refusals(piece: &Piece, zone: &Zone, own: &OwnSchedule) -> Vec<PlanRefusal> {
    let mut refusals: Vec<PlanRefusal> = own
        .judged
        .iter()
        .filter(|judged| judged.is_in_the_way())
        .map(|judged| refusal(piece, zone, own, judged))
        .collect();
    if !has_work(&own.schedule.steps) {
        refusals.push(PlanRefusal {
            piece: piece.name.clone(),
            zone: Some(zone.name.clone()),
            field: format!("piece \"{}\", zone \"{}\", steps", piece.name, zone.name),
            found: "no step on the zone itself".to_owned(),
            limit: "a schedule of your own has at least one step that is done to the zone".to_owned(),
            right: "a step such as cleaning, or the derived schedule again".to_owned(),
            in_file: Some(InFile {
                key: "steps",
                entry: None,
                write: None,
            }),
        });
    }
    refusals
}

fn refusal(piece: &Piece, zone: &Zone, own: &OwnSchedule, judged: &Judged) -> PlanRefusal {
    let finding = &judged.finding;
    let message = RuleId::parse(&finding.rule).map_or(finding.message.as_str(), |rule| &rule.rule().message);
    let place = match finding.step {
        Some(step_idx) => format!("steps {}", step_idx + 1),
        None => "steps, at their end".to_owned(),
    };
    let (limit, right, write) = if finding.severity == Severity::Stop {
        (
            format!(
                "this is a stop ({}), and a stop cannot be overruled: {message} {}",
                finding.rule, finding.why
            ),
            finding.do_.clone(),
            None,
        )
    } else {
        let before = judged.lapsed.as_ref().map(lapsed_words).unwrap_or_default();
        let consent = Overruled {
            rule: finding.rule.clone(),
            situation: finding.situation.clone(),
            reason: "…".to_owned(),
            by: "…".to_owned(),
            on: jiff::civil::Date::default(),
        };
        (
            format!(
                "this is a warning ({}), neither mended nor overruled: {message} {}{before}",
                finding.rule, finding.why
            ),
            format!("{} Or go on in spite of it, with a reason", finding.do_),
            Some(format!(
                "overruled = [ {} ]",
                write_consent(&consent).replace(&consent.on.to_string(), "YYYY-MM-DD")
            )),
        )
    };
    let step = finding
        .step
        .and_then(|step_idx| own.schedule.steps.get(step_idx))
        .map_or_else(|| "the end of the schedule".to_owned(), Step::words);
    PlanRefusal {
        piece: piece.name.clone(),
        zone: Some(zone.name.clone()),
        field: format!("piece \"{}\", zone \"{}\", {place}", piece.name, zone.name),
        found: step,
        limit,
        right,
        in_file: Some(InFile {
            key: "steps",
            entry: finding.step,
            write,
        }),
    }
}

/// Why a consent does not cover a finding.
fn lapsed_words(lapsed: &Lapsed) -> String {
    format!(
        " The consent of {} has lapsed: it was given for another situation ({}), and now it is {}.",
        lapsed.consent.on,
        or_nothing(&lapsed.then),
        or_nothing(&lapsed.now)
    )
}

fn or_nothing(parts: &[String]) -> String {
    if parts.is_empty() {
        "nothing more".to_owned()
    } else {
        parts.join(", ")
    }
}
