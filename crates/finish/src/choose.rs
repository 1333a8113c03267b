//! From all nondominated paths to the few a person wants to choose from, each named by what it is best at.

use crate::schedule::BestAt;
use crate::search::Path;

/// How many are shown at most.
const MOST: usize = 6;
/// Two paths whose every measure lies this near are one choice to a person.
const NEAR: f64 = 0.08;

/// At most six paths with their names; the one that is good all round first.
pub(crate) fn choose(paths: &[Path]) -> Vec<(usize, Vec<BestAt>)> {
    let mut chosen: Vec<(usize, Vec<BestAt>)> = Vec::new();
    let mut add = |idx: usize, name: BestAt| {
        let same = chosen.iter().position(|(have, _)| alike(&paths[*have], &paths[idx]));
        match same {
            Some(at) if !chosen[at].1.contains(&name) => chosen[at].1.push(name),
            None if chosen.len() < MOST => chosen.push((idx, vec![name])),
            _ => {}
        }
    };
    if let Some(idx) = all_round(paths) {
        add(idx, BestAt::AllRound);
    }
    if let Some(idx) = best(BestAt::FromTheShelf, paths) {
        add(idx, BestAt::FromTheShelf);
    }
    for name in BestAt::EVERY
        .iter()
        .copied()
        .filter(|name| !matches!(name, BestAt::AllRound | BestAt::FromTheShelf))
    {
        if let Some(idx) = best(name, paths) {
            add(idx, name);
        }
    }
    chosen
}

/// The best path under a name; ties go to the one that is better all round, then to the first.
fn best(name: BestAt, paths: &[Path]) -> Option<usize> {
    let scales = scales(paths);
    let key = |path: &Path| -> Option<u64> {
        Some(match name {
            BestAt::Cheapest => path.spent.cost,
            BestAt::LeastHandsOn => u64::from(path.spent.hands_on_min),
            BestAt::SoonestDone => u64::from(path.elapsed_min),
            BestAt::HardestWearing => u64::from(u8::MAX - path.wear),
            BestAt::GentlestToBreathe => path.spent.exposure,
            BestAt::KeepsOldFinish if path.keeps_old_finish => 0,
            BestAt::FromTheShelf if path.on_shelf => 0,
            BestAt::KeepsOldFinish | BestAt::FromTheShelf | BestAt::AllRound => return None,
        })
    };
    let ranked = paths
        .iter()
        .enumerate()
        .filter_map(|(idx, path)| key(path).map(|key| (key, idx)));
    ranked
        .min_by(|(a, i), (b, k)| {
            a.cmp(b)
                .then(score(&paths[*i], &scales).total_cmp(&score(&paths[*k], &scales)))
                .then(i.cmp(k))
        })
        .map(|(_, idx)| idx)
}

struct Scales {
    least: [f64; 4],
}

#[expect(clippy::cast_precision_loss, reason = "measures are far below 2^52")]
fn measures(path: &Path) -> [f64; 4] {
    [
        path.spent.cost as f64 + 1.0,
        f64::from(path.spent.hands_on_min) + 1.0,
        f64::from(path.elapsed_min) + 60.0,
        path.spent.exposure as f64 + 20_000.0,
    ]
}

fn scales(paths: &[Path]) -> Scales {
    let mut least = [f64::MAX; 4];
    for path in paths {
        for (have, new) in least.iter_mut().zip(measures(path)) {
            *have = have.min(new);
        }
    }
    Scales { least }
}

/// How far a path stands from the best in each measure, as a sum of logarithms: doubling one measure weighs as much as another,
/// money and hands twice, time and breath half; a class of wear counts as a quarter of a doubling. What stands on the shelf is
/// preferred, what burns or sensitises is not offered first. A judgement.
fn score(path: &Path, scales: &Scales) -> f64 {
    const WEIGHTS: [f64; 4] = [1.0, 1.0, 0.5, 0.5];
    const WEAR: f64 = 0.25;
    let behind: f64 = measures(path)
        .iter()
        .zip(scales.least)
        .zip(WEIGHTS)
        .map(|((have, least), weight)| weight * (have / least).log2())
        .sum();
    const HARSH: f64 = 1.5;
    const ON_SHELF: f64 = 1.5;
    let bonus = if path.on_shelf { ON_SHELF } else { 0.0 };
    behind - WEAR * f64::from(path.wear) + if path.harsh { HARSH } else { 0.0 } - bonus
}

fn all_round(paths: &[Path]) -> Option<usize> {
    let scales = scales(paths);
    (0..paths.len()).min_by(|a, b| {
        score(&paths[*a], &scales)
            .total_cmp(&score(&paths[*b], &scales))
            .then(a.cmp(b))
    })
}

/// Whether two paths are one choice to a person: nothing that matters differs.
fn alike(one: &Path, other: &Path) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= NEAR * a.max(b);
    one.wear == other.wear
        && one.keeps_old_finish == other.keeps_old_finish
        && measures(one).iter().zip(measures(other)).all(|(a, b)| near(*a, b))
}
