//! What a schedule is in for if a found layer is not what it was taken for.
//!
//! One idea: the same steps are held against the zone as it would be with each other class on it. Where that breaks a rule that
//! was kept before, the finish would fail, and the failed finish would have to come off and be done over; what that costs, times
//! the chance of the class, is what the guess puts at stake.

use serde::Serialize;
use trade::FinishClass;

use super::Identification;
use crate::finding::{Finding, Severity};
use crate::limits::Limits;
use crate::plan::{check, plan};
use crate::schedule::Measures;
use crate::step::Step;
use crate::wish::Wish;
use crate::zone::{FoundLayer, Zone};

/// Classes less likely than this are not looked at.
const WORTH_A_LOOK: f64 = 0.005;

/// A schedule's risk from one guessed layer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AtStake {
    /// The chance that the layer is a class over which these steps break a rule that they keep as planned, 0 to 1.
    pub chance: f64,
    /// What doing it over costs on the mean, minor units: the sum of chance and cost over those classes.
    pub expected_minor: f64,
    /// Each class over which they would, likeliest first.
    pub fails_over: Vec<FailsOver>,
}

/// One class over which the steps would fail.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FailsOver {
    /// The class.
    pub class: FinishClass,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// What goes wrong, worst first.
    pub findings: Vec<Finding>,
    /// What stripping the failed finish and doing it over takes; `None` where even that finds no way.
    pub over_again: Option<Measures>,
}

/// What `steps` are in for if the layer at `layer` of `zone.found` is another class than it was planned with.
///
/// # Examples
/// ```
/// use finish::identify::{Answer, Era, Observation, Outcome, at_stake, identify};
/// use finish::{FoundLayer, Limits, Look, Wish, Zone, plan};
/// use trade::{FinishClass, Species, Substrate};
///
/// // Taken for varnish by its look alone, and varnished over.
/// let mut zone = Zone::bare("lid", Substrate::Solid(Species::HardMaple));
/// zone.found = vec![FoundLayer::of(FinishClass::OilBasedPolyurethane)];
/// let wish = Wish { class: Some(FinishClass::OilBasedPolyurethane), ..Wish::of(Look::Clear) };
/// let steps = &plan(&zone, &wish, &Limits::default())?[0].steps;
/// let look = Answer::new(Observation::Look, Outcome::ClearFilm).expect("a clear film is a look");
/// let risk = at_stake(&zone, &wish, &Limits::default(), steps, 0, &identify(Era::From1900, &[look]));
/// assert!(risk.fails_over.iter().any(|over| over.class == FinishClass::WaxedShellac));
/// # Ok::<(), Box<finish::NoSchedule>>(())
/// ```
#[must_use]
pub fn at_stake(
    zone: &Zone,
    wish: &Wish,
    limits: &Limits,
    steps: &[Step],
    layer: usize,
    found: &Identification,
) -> AtStake {
    let kept = broken(&check(zone, wish, limits, steps));
    let mut fails_over = Vec::new();
    for candidate in found.candidates() {
        let is_planned = zone.found.get(layer).is_none_or(|taken| taken.class == candidate.class);
        if is_planned || candidate.probability < WORTH_A_LOOK {
            continue;
        }
        let mut other = zone.clone();
        other.found[layer].class = candidate.class;
        let mut findings = check(&other, wish, limits, steps);
        findings.retain(|finding| finding.severity > Severity::Note && !kept.contains(&finding.rule));
        if findings.is_empty() {
            continue;
        }
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
        fails_over.push(FailsOver {
            class: candidate.class,
            probability: candidate.probability,
            findings,
            over_again: over_again(&other, wish, limits, steps),
        });
    }
    AtStake {
        chance: fails_over.iter().map(|over| over.probability).sum(),
        expected_minor: fails_over.iter().map(expected_minor).sum(),
        fails_over,
    }
}

fn broken(findings: &[Finding]) -> Vec<String> {
    findings.iter().map(|finding| finding.rule.clone()).collect()
}

#[expect(clippy::cast_precision_loss, reason = "costs are far below 2^52 minor units")]
fn expected_minor(over: &FailsOver) -> f64 {
    let cost_minor = over.over_again.as_ref().map_or(0, |measures| measures.cost_minor);
    over.probability * cost_minor as f64
}

/// The schedule good all round from the failed finish to the wish, down to the bare substrate.
fn over_again(zone: &Zone, wish: &Wish, limits: &Limits, steps: &[Step]) -> Option<Measures> {
    let mut failed = zone.clone();
    for class in steps
        .iter()
        .filter(|step| step.operation.is_coating())
        .filter_map(Step::finish)
    {
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
        ..wish.clone()
    };
    plan(&failed, &wish, limits).ok().map(|schedules| schedules[0].measures)
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
        let risk = at_stake(&zone, &wish, &limits, &kept.steps, 0, &found);
        let shellac = risk
            .fails_over
            .iter()
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
        let mean: f64 = risk.fails_over.iter().map(expected_minor).sum();
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
        let chance = |steps: &[Step], wish: &Wish, found| at_stake(&zone, wish, &limits, steps, 0, found).chance;
        assert!(chance(&steps, &wish, &after) < chance(&steps, &wish, &before));
        wish.strip = true;
        let stripped = plan(&zone, &wish, &limits).unwrap().remove(0).steps;
        assert!(chance(&stripped, &wish, &before) < 0.2 * chance(&steps, &wish, &before));
    }
}
