//! The risk of a wrong guess: what happens to a schedule when a found finish, identified by tests and not for certain, is another.
//!
//! What goes wrong over which class, how likely that is and what doing it over takes is `finish`'s to say
//! ([`Guessed::at_stake`]); here it is put in words, with the test that would tell, and the schedule is looked for that holds
//! anyway. Every layer that was told by tests carries its risk, the covered ones too; each is asked by itself, the others as planned.

use finish::identify::{Guessed, Identification, IfItIs, parting};
use finish::{Finding, FinishingSchedule, Limits, RuleId, Step, Wish};
use quantity::{Currency, Money};
use trade::FinishClass;

use super::output::{GuessRisk, IfItIs as Told, Sum, Test, WouldHappen};
use crate::model::Zone;

/// A class less probable than this over which nothing goes wrong is not worth a line: five such are one chance in ten.
const WORTH_A_LINE: f64 = 0.02;

/// A zone as it is planned, with what the tests say of its guessed layers.
pub(super) struct Planned<'a> {
    pub(super) zone: &'a finish::Zone,
    pub(super) wish: &'a Wish,
    pub(super) limits: &'a Limits,
    pub(super) guesses: &'a [(usize, Identification)],
}

/// The layers of a zone that were identified by tests, the outermost first, each by its place from the substrate.
pub(super) fn guesses(zone: &Zone) -> Vec<(usize, Identification)> {
    let layers = zone.found.iter().enumerate().rev();
    layers
        .filter_map(|(place, layer)| Some((place, layer.guess.as_ref()?.identification())))
        .collect()
}

impl Planned<'_> {
    fn each(&self) -> impl Iterator<Item = Guessed<'_>> {
        self.guesses.iter().map(|(layer, found)| Guessed {
            zone: self.zone,
            wish: self.wish,
            limits: self.limits,
            layer: *layer,
            found,
        })
    }

    /// The risk of these steps from each guessed layer, the outermost first.
    pub(super) fn risks(&self, steps: &[Step], currency: Currency) -> Vec<GuessRisk> {
        self.each().map(|guessed| risk(&guessed, steps, currency)).collect()
    }

    /// The schedule that holds over every class that a guessed layer may well be: the default one if it does, else the first that
    /// does, else one derived for finishes that nobody knows, which is then added to the zone's schedules. `None` where nothing was
    /// guessed, and where no schedule holds.
    pub(super) fn safe(&self, default_idx: usize, schedules: &mut Vec<FinishingSchedule>) -> Option<usize> {
        if self.guesses.is_empty() {
            return None;
        }
        let holds = |schedule: &FinishingSchedule| self.each().all(|guessed| guessed.holds(&schedule.steps));
        if holds(&schedules[default_idx]) {
            return Some(default_idx);
        }
        if let Some(idx) = schedules.iter().position(holds) {
            return Some(idx);
        }
        let mut unknown = self.zone.clone();
        for (layer, _) in self.guesses {
            unknown.found.get_mut(*layer)?.class = FinishClass::Unknown;
        }
        let whatever = finish::plan(&unknown, self.wish, self.limits).ok()?;
        let sound = |schedule: &FinishingSchedule| finish::is_sound(self.zone, self.wish, self.limits, &schedule.steps);
        let first = whatever
            .into_iter()
            .find(|schedule| sound(schedule) && holds(schedule))?;
        schedules.push(FinishingSchedule {
            best_at: Vec::new(),
            ..first
        });
        Some(schedules.len() - 1)
    }
}

/// The risk of these steps from one guessed layer, in words.
pub(super) fn risk(guessed: &Guessed<'_>, steps: &[Step], currency: Currency) -> GuessRisk {
    let at_stake = guessed.at_stake(steps);
    let planned_as = guessed.planned_as();
    let worth_a_line = |other: &&IfItIs| !other.findings.is_empty() || other.probability >= WORTH_A_LINE;
    GuessRisk {
        layer: guessed.layer,
        planned_as: planned_as.id().to_owned(),
        planned_as_words: planned_as.label().to_owned(),
        chance: thousandths(guessed.found.probability_of(planned_as)),
        fails: thousandths(at_stake.chance),
        expected: Sum::new(Money::nearest(at_stake.expected_minor).unwrap_or(Money::ZERO), currency),
        holds_whatever_it_is: at_stake.fails_over().next().is_none(),
        others: at_stake
            .others
            .iter()
            .filter(worth_a_line)
            .map(|other| told(guessed, other, steps, currency))
            .collect(),
    }
}

fn told(guessed: &Guessed<'_>, other: &IfItIs, steps: &[Step], currency: Currency) -> Told {
    let from = told_from(guessed);
    Told {
        class: other.class.id().to_owned(),
        words: other.class.label().to_owned(),
        chance: thousandths(other.probability),
        happens: each_rule_once(&other.findings, steps),
        redo: other
            .over_again
            .map(|measures| Sum::new(Money::from_minor(measures.cost_minor), currency)),
        redo_hands_on_min: other.over_again.map(|measures| measures.hands_on_min),
        test: parting(guessed.found, from, other.class).map(|observation| Test {
            id: observation.id(),
            words: observation.label(),
            how: observation.how(),
        }),
    }
}

/// What another class is to be told from: the class that is planned, or the likeliest where the plan takes it for nothing in
/// particular.
fn told_from(guessed: &Guessed<'_>) -> FinishClass {
    match guessed.planned_as() {
        FinishClass::Unknown => guessed.found.likeliest().class,
        class => class,
    }
}

/// What goes wrong, each rule once, with every step that it goes wrong at.
fn each_rule_once(findings: &[Finding], steps: &[Step]) -> Vec<WouldHappen> {
    let mut all: Vec<WouldHappen> = Vec::new();
    for finding in findings {
        let more = happens(finding, steps);
        match all.iter_mut().find(|same| same.rule == more.rule) {
            Some(same) => {
                let places = [same.at.take(), more.at];
                let places: Vec<String> = places.into_iter().flatten().collect();
                same.at = (!places.is_empty()).then(|| places.join("; "));
            }
            None => all.push(more),
        }
    }
    all
}

fn happens(finding: &Finding, steps: &[Step]) -> WouldHappen {
    WouldHappen {
        message: RuleId::parse(&finding.rule)
            .map_or_else(|_| finding.message.clone(), |rule| rule.rule().message.clone()),
        at: finding
            .step
            .and_then(|idx| Some(format!("{}, {}", idx + 1, steps.get(idx)?.words()))),
        rule: finding.rule.clone(),
        severity: finding.severity.id(),
        why: finding.why.clone(),
        do_: finding.do_.clone(),
        source: finding.source.clone(),
    }
}

fn thousandths(share: f64) -> f64 {
    (share * 1000.0).round() / 1000.0
}
