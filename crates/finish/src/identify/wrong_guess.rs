//! What a schedule is in for if a found layer is not what it was taken for.
//!
//! One idea: the same steps are held against the zone as it would be with each other class on it. Where that breaks a rule that
//! was kept before, the finish would fail, and the failed finish would have to come off and be done over; what that costs, times
//! the chance of the class, is what the guess puts at stake.

use trade::FinishClass;

use super::Identification;
use crate::finding::{Finding, Severity};
use crate::limits::Limits;
use crate::plan::{check, plan};
use crate::schedule::Measures;
use crate::step::Step;
use crate::wish::Wish;
use crate::zone::{FoundLayer, Zone};

/// Classes less likely than this are not looked at: ten such are one chance in twenty.
const WORTH_A_LOOK: f64 = 0.005;

/// A found layer that was told by tests and not for certain, in the zone as it is planned.
#[derive(Debug, Clone, Copy)]
pub struct Guessed<'a> {
    /// The zone, its layer of the class that it is planned as.
    pub zone: &'a Zone,
    /// The wish.
    pub wish: &'a Wish,
    /// What may be reckoned with.
    pub limits: &'a Limits,
    /// The layer's place in `zone.found`, from 0 at the substrate.
    pub layer: usize,
    /// What the tests say of it.
    pub found: &'a Identification,
}

/// A schedule's risk from one guessed layer.
#[derive(Debug, Clone, PartialEq)]
pub struct AtStake {
    /// The chance that the layer is a class over which these steps break a rule that they keep as planned, 0 to 1.
    pub chance: f64,
    /// What doing it over costs on the mean, minor units: the sum of chance and cost over those classes.
    pub expected_minor: f64,
    /// Each other class that it may be, likeliest first.
    pub others: Vec<IfItIs>,
}

/// What happens if the layer is of this class after all.
#[derive(Debug, Clone, PartialEq)]
pub struct IfItIs {
    /// The class.
    pub class: FinishClass,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// What goes wrong over it that does not go wrong as planned, worst first; nothing where the steps hold.
    pub findings: Vec<Finding>,
    /// What stripping the failed finish and doing it over takes, by the cheapest way; `None` where the steps hold, and where even that
    /// finds no way.
    pub over_again: Option<Measures>,
}

impl Guessed<'_> {
    /// What `steps` are in for if the layer is another class than it was planned with.
    ///
    /// # Examples
    /// ```
    /// use finish::identify::{Answer, Era, Guessed, Observation, Outcome, identify};
    /// use finish::{FoundLayer, Limits, Look, Wish, Zone, plan};
    /// use trade::{FinishClass, Species, Substrate};
    ///
    /// // Taken for varnish by its look alone, and varnished over.
    /// let mut zone = Zone::bare("lid", Substrate::Solid(Species::HardMaple));
    /// zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane)];
    /// let wish = Wish { class: Some(FinishClass::OilBasedPolyurethane), ..Wish::of(Look::Clear) };
    /// let limits = Limits::default();
    /// let steps = &plan(&zone, &wish, &limits)?[0].steps;
    /// let look = Answer::new(Observation::Look, Outcome::ClearFilm).expect("a clear film is a look");
    /// let found = identify(Era::From1900, &[look]);
    /// let guessed = Guessed { zone: &zone, wish: &wish, limits: &limits, layer: 0, found: &found };
    /// let risk = guessed.at_stake(steps);
    /// assert!(risk.fails_over().any(|over| over.class == FinishClass::WaxedShellac));
    /// # Ok::<(), Box<finish::NoSchedule>>(())
    /// ```
    #[must_use]
    pub fn at_stake(&self, steps: &[Step]) -> AtStake {
        let as_planned = check(self.zone, self.wish, self.limits, steps);
        let other = |(class, probability)| {
            let findings = self.goes_wrong(steps, class, &as_planned);
            let fails = !findings.is_empty();
            IfItIs {
                class,
                probability,
                findings,
                over_again: fails.then(|| self.over_again(steps, class)).flatten(),
            }
        };
        let others: Vec<IfItIs> = self.other_classes().map(other).collect();
        let fails = || others.iter().filter(|other| !other.findings.is_empty());
        AtStake {
            chance: fails().map(|over| over.probability).sum(),
            expected_minor: fails().map(expected_minor).sum(),
            others,
        }
    }

    /// Whether `steps` keep over every class that the layer may be what they keep as planned.
    #[must_use]
    pub fn holds(&self, steps: &[Step]) -> bool {
        let as_planned = check(self.zone, self.wish, self.limits, steps);
        self.other_classes()
            .all(|(class, _)| self.goes_wrong(steps, class, &as_planned).is_empty())
    }

    /// The zone with the layer of another class.
    #[must_use]
    pub fn zone_with(&self, class: FinishClass) -> Zone {
        let mut zone = self.zone.clone();
        if let Some(layer) = zone.found.get_mut(self.layer) {
            layer.class = class;
        }
        zone
    }

    /// The class that the layer is planned as.
    #[must_use]
    pub fn planned_as(&self) -> FinishClass {
        self.zone
            .found
            .get(self.layer)
            .map_or(FinishClass::Unknown, |layer| layer.class)
    }

    /// The other classes that it may be, likeliest first.
    fn other_classes(&self) -> impl Iterator<Item = (FinishClass, f64)> {
        let planned_as = self.planned_as();
        self.found
            .candidates()
            .iter()
            .filter(move |candidate| candidate.class != planned_as && candidate.probability >= WORTH_A_LOOK)
            .map(|candidate| (candidate.class, candidate.probability))
    }

    fn goes_wrong(&self, steps: &[Step], class: FinishClass, as_planned: &[Finding]) -> Vec<Finding> {
        let mut findings = check(&self.zone_with(class), self.wish, self.limits, steps);
        findings.retain(|finding| {
            let is_known = |old: &Finding| old.rule == finding.rule && old.step == finding.step;
            finding.severity > Severity::Note && !as_planned.iter().any(is_known)
        });
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
        findings
    }

    /// The cheapest schedule from the failed finish to the wish, down to the bare substrate.
    fn over_again(&self, steps: &[Step], class: FinishClass) -> Option<Measures> {
        let mut failed = self.zone_with(class);
        let coats = steps.iter().filter(|step| step.operation.is_coating());
        for class in coats.filter_map(Step::finish) {
            match failed.found.last_mut() {
                Some(top) if top.class == class => top.coats = Some(top.coats.unwrap_or(1).saturating_add(1)),
                _ => failed.found.push(FoundLayer {
                    coats: Some(1),
                    ..FoundLayer::of(class)
                }),
            }
        }
        let wish = Wish {
            strip: true,
            ..self.wish.clone()
        };
        let schedules = plan(&failed, &wish, self.limits).ok()?;
        let measures = schedules.into_iter().map(|schedule| schedule.measures);
        measures.min_by_key(|measures| measures.cost_minor)
    }
}

impl AtStake {
    /// The classes over which the steps fail, likeliest first.
    pub fn fails_over(&self) -> impl Iterator<Item = &IfItIs> {
        self.others.iter().filter(|other| !other.findings.is_empty())
    }
}

#[expect(clippy::cast_precision_loss, reason = "costs are far below 2^52 minor units")]
fn expected_minor(over: &IfItIs) -> f64 {
    let cost_minor = over.over_again.as_ref().map_or(0, |measures| measures.cost_minor);
    over.probability * cost_minor as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::identify::{Answer, Era, Observation, Outcome, identify};
    use crate::wish::Look;
    use trade::{Species, Substrate};

    fn varnished() -> (Zone, Wish) {
        let mut zone = Zone::bare("lid", Substrate::Solid(Species::HardMaple));
        zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane)];
        let wish = Wish {
            class: Some(FinishClass::OilBasedPolyurethane),
            ..Wish::of(Look::Clear)
        };
        (zone, wish)
    }

    #[test]
    fn varnish_over_what_may_be_shellac_puts_the_chance_of_shellac_at_stake() {
        let (zone, wish) = varnished();
        let limits = Limits::default();
        let schedules = plan(&zone, &wish, &limits).unwrap();
        let kept = schedules.iter().find(|schedule| schedule.keeps_old_finish).unwrap();
        let look = Answer::new(Observation::Look, Outcome::ClearFilm).unwrap();
        let found = identify(Era::From1900, &[look]);
        let guessed = Guessed {
            zone: &zone,
            wish: &wish,
            limits: &limits,
            layer: 0,
            found: &found,
        };
        let risk = guessed.at_stake(&kept.steps);
        assert!(!guessed.holds(&kept.steps));
        let shellac = risk
            .fails_over()
            .find(|over| over.class == FinishClass::WaxedShellac)
            .unwrap();
        assert!((shellac.probability - found.probability_of(FinishClass::WaxedShellac)).abs() < 1e-12);
        assert!(
            shellac
                .findings
                .iter()
                .any(|finding| finding.rule == "waxed-shellac-under-film")
        );
        // Doing it over means stripping, which takes longer by hand than what was planned.
        let over = shellac.over_again.unwrap();
        assert!(over.hands_on_min > kept.measures.hands_on_min, "{over:?}");
        assert!(risk.chance >= shellac.probability && risk.chance <= 1.0);
        let mean: f64 = risk.fails_over().map(expected_minor).sum();
        assert!((risk.expected_minor - mean).abs() < 1e-9 && mean > 0.0);
    }

    #[test]
    fn what_is_stripped_to_bare_wood_puts_little_at_stake_and_a_test_puts_less() {
        let (zone, mut wish) = varnished();
        let limits = Limits::default();
        let look = Answer::new(Observation::Look, Outcome::ClearFilm).unwrap();
        let alcohol = Answer::new(Observation::Alcohol, Outcome::Nothing).unwrap();
        let before = identify(Era::From1900, &[look]);
        let after = identify(Era::From1900, &[look, alcohol]);
        let steps = plan(&zone, &wish, &limits).unwrap().remove(0).steps;
        let chance = |steps: &[Step], wish: &Wish, found| {
            let guessed = Guessed {
                zone: &zone,
                wish,
                limits: &limits,
                layer: 0,
                found,
            };
            let chance = guessed.at_stake(steps).chance;
            assert_eq!(guessed.holds(steps), chance == 0.0);
            chance
        };
        assert!(chance(&steps, &wish, &after) < chance(&steps, &wish, &before));
        wish.strip = true;
        let stripped = plan(&zone, &wish, &limits).unwrap().remove(0).steps;
        assert!(chance(&stripped, &wish, &before) < 0.2 * chance(&steps, &wish, &before));
    }
}
