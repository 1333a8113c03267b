//! The search against plain enumeration, on zones small enough for it. Tests only.
//!
//! The enumeration knows nothing of wants and remedies: it tries every act of an alphabet at every state that any sequence
//! reaches, keeps what is exactly nondominated at exactly equal states, and so finds every nondominated path there is.

use std::collections::HashMap;

use trade::methods::Method;
use trade::{FinishClass, Grit, Operation, PrepClass, Species, Substrate};

use crate::act::Act;
use crate::bench::Bench;
use crate::object::{at_end, object, wear};
use crate::rule::RuleId;
use crate::search::{Boldness, Path, Spent, perform, search};
use crate::surface::Surface;
use crate::{FoundLayer, Limits, Look, Wish, Zone};

/// How far a path may stand behind an enumerated one and still stand for it: the slack of the search, a few times over.
const BEHIND: f64 = 1.08;
const BEHIND_MIN: u32 = 90;

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
            _ => (Operation::ClearCoat, Method::Brush),
        };
        acts.push(Act::coat(op, *class, method));
    }
    acts
}

/// Every nondominated end: what it took, with the last coat's time to light use, and its wear.
fn enumerate(bench: &Bench<'_>, alphabet: &[Act], most_steps: usize) -> Vec<(Spent, u8)> {
    let mut ends: Vec<(Spent, u8)> = Vec::new();
    let mut seen: HashMap<Surface, Vec<Spent>> = HashMap::new();
    let mut layer = vec![(Surface::found(bench), Spent::default())];
    for _ in 0..most_steps {
        let mut next = Vec::new();
        for (surface, spent) in layer {
            if at_end(&surface, bench).serious().is_empty() {
                let mut total = spent;
                let light_min = surface
                    .planned_top()
                    .map_or(0, |top| bench.figures(top.class).light_min);
                total.elapsed_min += light_min.saturating_sub(surface.top_age_min);
                ends.push((total, wear(&surface, bench)));
            }
            for act in alphabet {
                let hits = object(&surface, act, bench);
                let barred =
                    !hits.serious().is_empty() || hits.has(RuleId::TryAPatchFirst) || hits.has(RuleId::NothingToDo);
                if barred {
                    continue;
                }
                let (after, _, took) = perform(&surface, *act, bench);
                let mut total = spent;
                total.add(&took);
                let exact = settled(after);
                let front = seen.entry(exact).or_default();
                if front.iter().any(|other| other.is_as_good_as(&total)) {
                    continue;
                }
                front.retain(|other| !total.is_as_good_as(other));
                front.push(total);
                next.push((after, total));
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

/// Whether one end stands for another.
fn stands_for(mine: (Spent, u32, u8), other: &(Spent, u8)) -> bool {
    let near = |mine: f64, other: f64, least: f64| mine <= other * BEHIND + least;
    let (spent, elapsed_min, wear) = mine;
    wear >= other.1
        && elapsed_min <= other.0.elapsed_min + BEHIND_MIN
        && near(f64::from(spent.hands_on_min), f64::from(other.0.hands_on_min), 4.0)
        && near(as_f64(spent.cost), as_f64(other.0.cost), 300_000.0)
        && near(as_f64(spent.exposure), as_f64(other.0.exposure), 12_000.0)
}

#[expect(clippy::cast_precision_loss, reason = "thousandths of a cost are far below 2^52")]
fn as_f64(value: u64) -> f64 {
    value as f64
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
    let ends = enumerate(&bench, &alphabet(classes), most_steps);
    assert!(!ends.is_empty(), "the enumeration reaches no end in {most_steps} steps");
    for end in &ends {
        let covered = found
            .iter()
            .any(|path| stands_for((path.spent, path.elapsed_min, path.wear), end));
        assert!(
            covered,
            "nothing found stands for {end:?}; found {:?}",
            found.iter().map(|p| (p.spent, p.wear)).collect::<Vec<_>>()
        );
    }
    // No end lies clearly ahead of a path found: better by more than the slack in every measure at once.
    for path in &found {
        let behind = ends.iter().find(|(spent, wear)| is_clearly_ahead(spent, *wear, path));
        assert!(behind.is_none(), "{:?} lies behind {behind:?}", path.spent);
    }
}

fn is_clearly_ahead(end: &Spent, end_wear: u8, path: &Path) -> bool {
    end_wear >= path.wear
        && end.elapsed_min + BEHIND_MIN < path.elapsed_min
        && end.hands_on_min + 4 < path.spent.hands_on_min
        && as_f64(end.cost) * BEHIND + 100_000.0 < as_f64(path.spent.cost)
        && as_f64(end.exposure) * BEHIND + 4_000.0 < as_f64(path.spent.exposure)
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
    agrees(&zone, &Wish::of(Look::Paint), &classes, 8);
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
    agrees(&zone, &Wish::of(Look::Paint), &classes, 9);
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
