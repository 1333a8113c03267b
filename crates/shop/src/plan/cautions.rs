//! What can hurt somebody in this plan: the seam to the hazard crate.
//!
//! Each piece is assessed as one job in its room, with the dates of its steps. A caution that says the same of several
//! pieces stands once; where the same caution says different things of two pieces, the second has a number to its id.

use std::collections::BTreeMap;

use finish::{RuleId, Severity, Use};
use hazard::{Job, PieceFacts as HazardPiece, RoomFacts, StepFacts, ZoneFacts};

use super::output::{Caution, Level};
use super::steps::Consent;
use super::whole::PieceFacts;
use super::work::{WorkPiece, WorkStep};
use crate::model::{LeadTested, Made, Piece, Shop};

/// Assesses every piece, gives each step the ids of its cautions, and returns each caution once, the gravest first.
///
/// `starts_min` holds the minute at which each step begins.
pub(crate) fn of(
    shop: &Shop,
    work: &mut [WorkPiece],
    facts: &[PieceFacts],
    starts_min: &BTreeMap<String, i64>,
) -> Vec<Caution> {
    let mut gathered: Vec<Caution> = Vec::new();
    for (piece, facts) in work.iter_mut().zip(facts) {
        let Some(said) = shop.piece(&piece.id) else { continue };
        let job = job(shop, said, piece, facts, starts_min);
        let name = piece.name.clone();
        let mut steps: Vec<&mut WorkStep> = piece.zones.iter_mut().flat_map(|zone| &mut zone.steps).collect();
        for told in hazard::assess(&job) {
            let text = if told.caution.ask.is_empty() {
                told.caution.text.clone()
            } else {
                format!("{} Ask: {}.", told.caution.text, told.caution.ask)
            };
            let id = gather(
                &mut gathered,
                told.caution.id,
                level(told.caution.level),
                &text,
                told.caution.source,
                &name,
            );
            for step_idx in told.steps {
                if let Some(step) = steps.get_mut(step_idx) {
                    step.cautions.push(id.clone());
                }
            }
        }
        for (zone, consents) in piece.zones.iter_mut().zip(&facts.consents) {
            for consent in consents {
                let finding = &consent.finding;
                let id = gather(
                    &mut gathered,
                    &finding.rule,
                    Level::Warn,
                    &went_on(consent),
                    &finding.source,
                    &name,
                );
                if let Some(step) = zone.steps.get_mut(consent.step_idx) {
                    step.cautions.push(id);
                }
            }
        }
        for note in &facts.notes {
            let level = match note.severity {
                Severity::Note => Level::Note,
                Severity::Warn => Level::Warn,
                Severity::Stop => Level::Stop,
            };
            gather(
                &mut gathered,
                &note.rule,
                level,
                &format!("{} {}", note.message, note.do_),
                &note.source,
                &name,
            );
        }
    }
    gathered.sort_by(|a, b| (a.level, &a.id).cmp(&(b.level, &b.id)));
    gathered
}

/// What the user went on in spite of, and why.
pub(super) fn went_on(consent: &Consent) -> String {
    let finding = &consent.finding;
    let message = RuleId::parse(&finding.rule).map_or(finding.message.as_str(), |rule| &rule.rule().message);
    format!(
        "You chose to go on although the check warns: {message} ({}) On {}, {}: “{}” {}",
        finding.rule, consent.consent.on, consent.consent.by, consent.consent.reason, finding.why
    )
}

/// Adds a caution or joins the piece to one that says the same, and returns its id.
fn gather(gathered: &mut Vec<Caution>, id: &str, level: Level, text: &str, source: &str, piece: &str) -> String {
    let alike = |caution: &Caution| caution.id == id || caution.id.strip_prefix(id).is_some_and(is_number);
    if let Some(same) = gathered
        .iter_mut()
        .find(|caution| alike(caution) && caution.text == text && caution.level == level)
    {
        if !same.pieces.iter().any(|other| other == piece) {
            same.pieces.push(piece.to_owned());
        }
        return same.id.clone();
    }
    let turn = 1 + gathered.iter().filter(|caution| alike(caution)).count();
    let id = if turn == 1 {
        id.to_owned()
    } else {
        format!("{id}-{turn}")
    };
    gathered.push(Caution {
        id: id.clone(),
        level,
        text: text.to_owned(),
        source: source.to_owned(),
        pieces: vec![piece.to_owned()],
    });
    id
}

fn is_number(rest: &str) -> bool {
    rest.strip_prefix('-')
        .is_some_and(|number| !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()))
}

fn level(level: hazard::Level) -> Level {
    match level {
        hazard::Level::Stop => Level::Stop,
        hazard::Level::Warn => Level::Warn,
        hazard::Level::Note => Level::Note,
    }
}

fn job(shop: &Shop, said: &Piece, piece: &WorkPiece, facts: &PieceFacts, starts_min: &BTreeMap<String, i64>) -> Job {
    let room = &shop.settings.rooms[piece.room_idx.min(shop.settings.rooms.len() - 1)];
    let mut steps = Vec::new();
    for (zone_idx, (zone, (_, finish_steps))) in piece.zones.iter().zip(&facts.zones).enumerate() {
        for (step, finish_step) in zone.steps.iter().zip(finish_steps) {
            let mut fact = StepFacts::new(zone_idx, step.operation)
                .with_area_m2(zone.area_m2)
                .with_quantity_l(step.likely_ml().unwrap_or(0.0) / 1000.0);
            fact.material = step.material;
            if let Some(method) = finish_step.method {
                fact.method = method;
            }
            fact.wet = finish_step.wet;
            fact.at_min = starts_min
                .get(&step.id)
                .and_then(|at| i32::try_from(*at).ok())
                .map(f64::from);
            steps.push(fact);
        }
    }
    Job {
        piece: HazardPiece {
            made: made(said.made),
            placement: said.placement(),
            kind: said.kind(),
            used: used(said.used_for),
            historic: false,
        },
        zones: piece
            .zones
            .iter()
            .zip(&facts.zones)
            .map(|(work, (zone, _))| {
                let lead = said.zone(&work.name).map(|zone| zone.lead).unwrap_or_default();
                zone_facts(&work.name, zone, lead, said.used_for)
            })
            .collect(),
        steps,
        room: RoomFacts::steady(room.volume.m3().max(1.0), room.air_changes_per_h.max(0.0)),
    }
}

fn zone_facts(name: &str, zone: &finish::Zone, lead: LeadTested, used_for: Use) -> ZoneFacts {
    let mut facts = ZoneFacts::new(name, zone.substrate)
        .with_area_m2(zone.area_m2)
        .with_lead(lead.facts());
    for layer in &zone.found {
        facts = facts.with_found(layer.class, layer.coats.unwrap_or(layer.class.row().coats));
    }
    facts.touches_food = matches!(used_for, Use::Kitchen | Use::Dining) && name.contains("top");
    facts
}

fn made(made: Made) -> hazard::Made {
    match made {
        Made::Unknown => hazard::Made::Unknown,
        Made::Year(year) => hazard::Made::Between(i32::from(year), i32::from(year)),
        Made::Decade(year) => hazard::Made::Between(i32::from(year), i32::from(year) + 9),
        Made::Before(year) => hazard::Made::Before(i32::from(year)),
        Made::After(year) => hazard::Made::Between(i32::from(year), i32::from(i16::MAX)),
    }
}

fn used(used_for: Use) -> hazard::Use {
    match used_for {
        Use::Display => hazard::Use::Display,
        Use::Bedroom => hazard::Use::Bedroom,
        Use::Desk => hazard::Use::Desk,
        Use::Seat => hazard::Use::Seat,
        Use::Dining => hazard::Use::Dining,
        Use::Kitchen => hazard::Use::Kitchen,
        Use::Nursery => hazard::Use::Nursery,
        Use::Outdoors => hazard::Use::Outdoors,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_words_stand_once_and_other_words_have_a_number() {
        let mut gathered = Vec::new();
        assert_eq!(
            gather(&mut gathered, "rags", Level::Warn, "spread them", "s", "box"),
            "rags"
        );
        assert_eq!(
            gather(&mut gathered, "rags", Level::Warn, "spread them", "s", "bench"),
            "rags"
        );
        assert_eq!(
            gather(&mut gathered, "rags", Level::Warn, "soak them", "s", "stool"),
            "rags-2"
        );
        assert_eq!(
            gather(&mut gathered, "rags", Level::Warn, "soak them", "s", "bed"),
            "rags-2"
        );
        assert_eq!(gathered[0].pieces, ["box", "bench"]);
        assert_eq!(gathered.len(), 2);
    }
}
