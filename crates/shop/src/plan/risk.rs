//! The risk of a wrong guess: what happens to a schedule when the found finish, identified by tests and not for certain, is another.
//!
//! The one idea: the schedule is checked again over each class that the layer may be. What the check finds there and did not find
//! before is what the wrong guess costs; the probability is that of the tests.

use finish::identify::{Identification, parting};
use finish::{Finding, Limits, RuleId, Severity, Step};
use quantity::{Currency, Money};
use trade::FinishClass;

use super::output::{GuessRisk, IfItIs, Sum, Test, WouldHappen};
use crate::model::{FoundLayer, Guess, Zone};

/// A class less probable than this is not asked after: five such are one chance in ten.
const WORTH_ASKING: f64 = 0.02;
/// Most classes that are asked after.
const MOST_CLASSES: usize = 6;

/// The layer of a zone that was identified by tests: the outermost of them.
pub(super) fn guessed(zone: &Zone) -> Option<(usize, &FoundLayer, &Guess)> {
    let layers = zone.found.iter().enumerate().rev();
    layers
        .filter_map(|(place, layer)| Some((place, layer, layer.guess.as_ref()?)))
        .next()
}

/// The classes that a guessed layer may be with their probabilities, likeliest first, without the one it is planned as.
pub(super) fn others(found: &Identification, planned_as: FinishClass) -> Vec<(FinishClass, f64)> {
    let candidates = found.candidates().iter();
    candidates
        .filter(|candidate| candidate.class != planned_as && candidate.probability >= WORTH_ASKING)
        .take(MOST_CLASSES)
        .map(|candidate| (candidate.class, candidate.probability))
        .collect()
}

/// What is asked about: the zone as it is planned, and the layer of it that was guessed.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) zone: &'a finish::Zone,
    pub(super) wish: &'a finish::Wish,
    pub(super) limits: &'a Limits,
    pub(super) layer: usize,
    pub(super) currency: Currency,
}

impl Asked<'_> {
    /// The zone with another class for the guessed layer.
    pub(super) fn with(&self, class: FinishClass) -> finish::Zone {
        let mut zone = self.zone.clone();
        if let Some(layer) = zone.found.get_mut(self.layer) {
            layer.class = class;
        }
        zone
    }

    /// What goes wrong with these steps over the class that does not go wrong as planned.
    pub(super) fn goes_wrong(&self, steps: &[Step], class: FinishClass) -> Vec<Finding> {
        let as_planned = finish::check(self.zone, self.wish, self.limits, steps);
        let over_it = finish::check(&self.with(class), self.wish, self.limits, steps);
        let is_new = |finding: &Finding| {
            let same = |old: &Finding| old.rule == finding.rule && old.step == finding.step;
            finding.severity > Severity::Note && !as_planned.iter().any(same)
        };
        over_it.into_iter().filter(is_new).collect()
    }

    /// Whether the steps hold over every one of these classes.
    pub(super) fn holds(&self, steps: &[Step], classes: &[(FinishClass, f64)]) -> bool {
        classes
            .iter()
            .all(|(class, _)| self.goes_wrong(steps, *class).is_empty())
    }

    /// What it costs to take everything off again and do it right: the cheapest schedule from what then lies there, old and new.
    fn redone(&self, steps: &[Step], class: FinishClass) -> Option<(i64, u32)> {
        let mut zone = self.with(class);
        let coats = steps.iter().filter(|step| step.operation.is_coating());
        for class in coats.filter_map(Step::finish) {
            zone.found.push(finish::FoundLayer {
                coats: Some(1),
                ..finish::FoundLayer::of(class)
            });
        }
        let mut wish = self.wish.clone();
        wish.strip = true;
        let schedules = finish::plan(&zone, &wish, self.limits).ok()?;
        let cheapest = schedules.iter().min_by_key(|schedule| schedule.measures.cost_minor)?;
        Some((cheapest.measures.cost_minor, cheapest.measures.hands_on_min))
    }
}

/// The risk of these steps. `safe` names a schedule of the zone that holds whatever the layer is, by its key and its words.
pub(super) fn of(asked: &Asked<'_>, steps: &[Step], guess: &Guess, safe: Option<(String, String)>) -> GuessRisk {
    let found = guess.identification();
    let planned_as = asked
        .zone
        .found
        .get(asked.layer)
        .map_or(FinishClass::Unknown, |layer| layer.class);
    let others: Vec<IfItIs> = others(&found, planned_as)
        .into_iter()
        .map(|(class, chance)| if_it_is(asked, steps, &found, planned_as, class, chance))
        .collect();
    let fails: f64 = others
        .iter()
        .filter(|other| !other.happens.is_empty())
        .map(|other| other.chance)
        .sum();
    GuessRisk {
        layer: asked.layer,
        planned_as: planned_as.id().to_owned(),
        planned_as_words: planned_as.label().to_owned(),
        chance: hundredths(found.probability_of(planned_as)),
        fails: hundredths(fails),
        holds_whatever_it_is: others.iter().all(|other| other.happens.is_empty()),
        others,
        safe: safe.as_ref().map(|(key, _)| key.clone()),
        safe_words: safe.map(|(_, words)| words),
    }
}

fn if_it_is(
    asked: &Asked<'_>,
    steps: &[Step],
    found: &Identification,
    planned_as: FinishClass,
    class: FinishClass,
    chance: f64,
) -> IfItIs {
    let happens: Vec<WouldHappen> = asked
        .goes_wrong(steps, class)
        .into_iter()
        .map(|finding| WouldHappen {
            message: RuleId::parse(&finding.rule)
                .map_or_else(|| finding.message.clone(), |rule| rule.rule().message.clone()),
            at: finding.step.and_then(|step| steps.get(step)).map(Step::words),
            rule: finding.rule,
            severity: finding.severity.id(),
            why: finding.why,
            do_: finding.do_,
            source: finding.source,
        })
        .collect();
    let redone = if happens.is_empty() {
        None
    } else {
        asked.redone(steps, class)
    };
    IfItIs {
        class: class.id().to_owned(),
        words: class.label().to_owned(),
        chance: hundredths(chance),
        redo: redone.map(|(minor, _)| Sum::new(Money::from_minor(minor), asked.currency)),
        redo_hands_on_min: redone.map(|(_, hands_on_min)| hands_on_min),
        test: parting(found, planned_as_or_likeliest(found, planned_as), class).map(|observation| Test {
            id: observation.id(),
            words: observation.label(),
            how: observation.how(),
        }),
        happens,
    }
}

/// Where the plan takes the layer for nothing in particular, the likeliest class is what another is to be told from.
fn planned_as_or_likeliest(found: &Identification, planned_as: FinishClass) -> FinishClass {
    if planned_as == FinishClass::Unknown {
        found.likeliest().class
    } else {
        planned_as
    }
}

fn hundredths(share: f64) -> f64 {
    (share * 100.0).round() / 100.0
}
