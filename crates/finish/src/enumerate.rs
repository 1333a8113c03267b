//! The search against plain enumeration, on zones small enough for it. Tests only.
//!
//! The enumeration knows nothing of wants and remedies: it tries every act of an alphabet at every state that any sequence
//! reaches, keeps what is exactly nondominated at exactly equal states, and so finds every nondominated path there is. The search must
//! find the same, without any slack.

use std::collections::HashMap;

use trade::methods::Method;
use trade::{FinishClass, Grit, Operation, PrepClass, Species, Substrate};

use crate::act::Act;
use crate::bench::Bench;
use crate::express::steps;
use crate::object::{at_end, object, wear};
use crate::rule::RuleId;
use crate::search::{Boldness, Path, Spent, perform, search};
use crate::surface::Surface;
use crate::{FoundLayer, Limits, Look, Wish, Zone};

/// Every act worth trying on a small zone: the operations, each with the grits or classes named.
fn alphabet(classes: &[FinishClass]) -> Vec<Act> {
    let mut acts = vec![
        Act::prep(Operation::Clean, PrepClass::NeutralCleaner),
        Act::prep(Operation::Clean, PrepClass::AlkalineCleaner),
        Act::of(Operation::Rinse),
        Act::prep(Operation::Rinse, PrepClass::MineralSpirits),
        Act::prep(Operation::StripChemical, PrepClass::GelStripper),
        Act::of(Operation::Scrape),
        Act::abrade(Operation::StripSand, Grit::P60, false),
        Act::prep(Operation::DustOff, PrepClass::TackCloth),
        Act::abrade(Operation::Scuff, Grit::P220, false),
        Act::abrade(Operation::Scuff, Grit::P320, false),
    ];
    let grits = [Grit::P80, Grit::P100, Grit::P120, Grit::P150, Grit::P180, Grit::P220];
    acts.extend(grits.map(|grit| Act::abrade(Operation::Sand, grit, false)));
    for class in classes {
        use trade::finish_rows::Group;
        let (op, method) = match class.row().group {
            Group::Primer => (Operation::Prime, Method::Brush),
            Group::Paint => (Operation::Paint, Method::Brush),
            Group::Oil => (Operation::Oil, Method::Pad),
            Group::Sealer => (Operation::Seal, Method::Pad),
            _ if *class == FinishClass::GelVarnish => (Operation::ClearCoat, Method::Pad),
            _ => (Operation::ClearCoat, Method::Brush),
        };
        acts.push(Act::coat(op, *class, method));
    }
    acts
}

/// An end: what it took, with the last coat's time to light use, its wear, and the way there.
struct End {
    spent: Spent,
    wear: u8,
    acts: Vec<Act>,
}

/// Every end that no other at the same state is as good as.
fn enumerate(bench: &Bench<'_>, alphabet: &[Act], most_steps: usize) -> Vec<End> {
    let mut ends: Vec<End> = Vec::new();
    let mut seen: HashMap<Surface, Vec<Spent>> = HashMap::new();
    let mut layer = vec![(Surface::found(bench), Spent::default(), Vec::<Act>::new())];
    for _ in 0..most_steps {
        let mut next = Vec::new();
        for (surface, spent, acts) in layer {
            if at_end(&surface, bench).serious().is_empty() {
                let mut total = spent;
                let light_min = surface
                    .planned_top()
                    .map_or(0, |top| bench.figures(top.class).light_min);
                total.elapsed_min += light_min.saturating_sub(surface.top_age_min);
                ends.push(End {
                    spent: total,
                    wear: wear(&surface, bench),
                    acts: acts.clone(),
                });
            }
            for act in alphabet {
                let hits = object(&surface, act, bench);
                let barred =
                    !hits.serious().is_empty() || hits.has(RuleId::TryAPatchFirst) || hits.has(RuleId::NothingToDo);
                if barred {
                    continue;
                }
                let (after, done, took) = perform(&surface, *act, bench);
                let mut total = spent;
                total.add(&took);
                let exact = settled(after);
                let front = seen.entry(exact).or_default();
                if front.iter().any(|other| other.is_as_good_as(&total)) {
                    continue;
                }
                front.retain(|other| !total.is_as_good_as(other));
                front.push(total);
                next.push((after, total, acts.iter().copied().chain([done]).collect()));
            }
        }
        layer = next;
    }
    ends
}

/// The state with its ages cut where they can make no more difference, so that the enumeration ends.
fn settled(mut surface: Surface) -> Surface {
    surface.wiped_age_min = 0;
    surface.bare_age_min = 0;
    if surface.drying.is_over() {
        surface.drying = crate::surface::Clock::default();
    }
    if surface.setting.is_over() {
        surface.setting = crate::surface::Clock::default();
    }
    surface.top_age_min = surface.top_age_min.min(31 * 24 * 60);
    surface
}

fn agrees(zone: &Zone, wish: &Wish, classes: &[FinishClass], most_steps: usize) {
    let limits = Limits {
        never: FinishClass::CHOOSABLE
            .iter()
            .copied()
            .filter(|class| !classes.contains(class))
            .collect(),
        ..Limits::default()
    };
    let bench = Bench::new(zone, wish, &limits);
    let found = search(&bench, Boldness::Sure).paths;
    let alphabet = alphabet(classes);
    let ends = enumerate(&bench, &alphabet, most_steps);
    assert!(!ends.is_empty(), "the enumeration reaches no end in {most_steps} steps");
    for end in &ends {
        let covered = found
            .iter()
            .any(|path| path.wear >= end.wear && of_path(path).is_as_good_as(&end.spent));
        assert!(
            covered,
            "nothing found is as good as {:?}, wear {}: {:#?}\nThe quickest found: {:#?}",
            end.spent,
            end.wear,
            words(&end.acts, &bench),
            found
                .iter()
                .filter(|path| path.wear >= end.wear && path.elapsed_min <= end.spent.elapsed_min)
                .map(|path| (of_path(path), words(&path.acts, &bench)))
                .collect::<Vec<_>>()
        );
    }
    // And nothing found is worse than what is there: each path of the alphabet's acts is one of the ends, to the minute and the
    // thousandth.
    let known = |act: &Act| {
        alphabet.iter().any(|letter| {
            let as_wet = letter.wet == act.wet || act.grit.is_none();
            (letter.material, letter.grit) == (act.material, act.grit)
                && as_wet
                && (letter.op == act.op || letter.is_full_coat())
        })
    };
    for path in found
        .iter()
        .filter(|path| path.acts.len() <= most_steps && path.acts.iter().all(known))
    {
        let is_an_end = ends
            .iter()
            .any(|end| end.spent.is_as_good_as(&of_path(path)) && end.wear >= path.wear);
        assert!(
            is_an_end,
            "{:?} is no end of the enumeration: {:#?}",
            path.spent,
            words(&path.acts, &bench)
        );
    }
}

fn words(acts: &[Act], bench: &Bench<'_>) -> Vec<String> {
    steps(acts, bench)
        .iter()
        .map(|step| format!("{}, then {:?}", step.words(), step.wait))
        .collect()
}

/// What a path took until its last coat bears light use.
fn of_path(path: &Path) -> Spent {
    Spent {
        elapsed_min: path.elapsed_min,
        ..path.spent
    }
}

#[test]
fn painting_bare_beech_agrees() {
    let zone = Zone::bare("front", Substrate::Solid(Species::Beech));
    let classes = [
        FinishClass::WaterborneAcrylicEnamel,
        FinishClass::AlkydEnamel,
        FinishClass::WaterborneBondingPrimer,
        FinishClass::ShellacPrimer,
    ];
    agrees(&zone, &Wish::of(Look::Paint), &classes, 10);
}

#[test]
fn painting_over_an_old_enamel_agrees() {
    let mut zone = Zone::bare("front", Substrate::Solid(Species::Beech));
    zone.found = vec![FoundLayer::of(FinishClass::AlkydEnamel)];
    let classes = [
        FinishClass::WaterborneAcrylicEnamel,
        FinishClass::UrethaneAlkydEnamel,
        FinishClass::WaterborneBondingPrimer,
    ];
    agrees(&zone, &Wish::of(Look::Paint), &classes, 10);
}

#[test]
fn stripping_to_a_clear_finish_agrees() {
    let mut zone = Zone::bare("top", Substrate::Solid(Species::HardMaple));
    zone.found = vec![FoundLayer::of(FinishClass::NitrocelluloseLacquer)];
    let mut wish = Wish::of(Look::Clear);
    wish.strip = true;
    agrees(
        &zone,
        &wish,
        &[
            FinishClass::HardwaxOil,
            FinishClass::GelVarnish,
            FinishClass::DewaxedShellac,
        ],
        12,
    );
}

#[test]
fn light_paint_over_oak_agrees() {
    let zone = Zone::bare("front", Substrate::Solid(Species::RedOak));
    let classes = [
        FinishClass::WaterborneAcrylicEnamel,
        FinishClass::WaterborneStainBlockingPrimer,
        FinishClass::ShellacPrimer,
    ];
    agrees(&zone, &Wish::of(Look::Paint), &classes, 9);
}
