//! Which of a zone's good schedules is planned when the user has not chosen.
//!
//! Each measure is put on a scale from 0 for the best of the zone's schedules to 1 for the worst, so that hours and
//! money can be added; the weights are the shop's leaning and are stated in the plan.

use finish::{BestAt, FinishingSchedule};

use crate::model::Prefer;

/// Weights of cost, hands-on minutes, elapsed time, wear and exposure.
#[derive(Debug, Clone, Copy)]
struct Weights([f64; 5]);

fn weights(prefer: Prefer) -> Weights {
    Weights(match prefer {
        Prefer::Balanced => [0.35, 0.15, 0.15, 0.25, 0.10],
        Prefer::Cost => [1.0, 0.05, 0.05, 0.05, 0.05],
        Prefer::Hands => [0.05, 1.0, 0.05, 0.05, 0.05],
        Prefer::Soon => [0.05, 0.05, 1.0, 0.05, 0.05],
        Prefer::Wear => [0.05, 0.05, 0.05, 1.0, 0.05],
        Prefer::Health => [0.05, 0.05, 0.05, 0.05, 1.0],
    })
}

/// The stated weighting, for the plan's list of what was taken for granted.
pub(crate) fn stated(prefer: Prefer) -> String {
    let Weights([cost, hands, elapsed, wear, exposure]) = weights(prefer);
    format!(
        "where no schedule was chosen, the best was taken by these weights: cost {cost}, hands-on time {hands}, elapsed time {elapsed}, wear {wear}, exposure {exposure}"
    )
}

/// A name for a schedule that stays the same as long as its steps do.
pub(crate) fn key(schedule: &FinishingSchedule) -> String {
    // FNV-1a, 64 bits: stable over runs and machines, which the standard hasher does not promise.
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for step in &schedule.steps {
        let material = step.material.map_or("", |material| material.id());
        let grit = step.grit.map_or("", |grit| grit.id());
        let method = step.method.map(|method| format!("{method:?}")).unwrap_or_default();
        for byte in format!("{} {material} {grit} {method} {:?};", step.operation.id(), step.coat).bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    format!("{hash:016x}")[..8].to_owned()
}

/// The schedule that the user chose, by its key or by what it is best at; `None` if there is no such schedule.
pub(crate) fn by_name(schedules: &[FinishingSchedule], chosen: &str) -> Option<usize> {
    schedules
        .iter()
        .position(|schedule| key(schedule) == chosen)
        .or_else(|| {
            let wanted = BestAt::parse(chosen).ok()?;
            schedules.iter().position(|schedule| schedule.best_at.contains(&wanted))
        })
}

/// The best schedule by the shop's leaning; the earlier of two equals.
pub(crate) fn by_weight(schedules: &[FinishingSchedule], prefer: Prefer) -> usize {
    let measured: Vec<[f64; 5]> = schedules.iter().map(measures).collect();
    let Weights(weights) = weights(prefer);
    let mut best = (f64::INFINITY, 0);
    for (schedule_idx, measures) in measured.iter().enumerate() {
        let score: f64 = (0..5)
            .map(|measure_idx| {
                let column = || measured.iter().map(|row| row[measure_idx]);
                let (least, most) = (
                    column().fold(f64::INFINITY, f64::min),
                    column().fold(f64::NEG_INFINITY, f64::max),
                );
                let span = most - least;
                if span > 0.0 {
                    weights[measure_idx] * (measures[measure_idx] - least) / span
                } else {
                    0.0
                }
            })
            .sum();
        if score < best.0 - 1e-12 {
            best = (score, schedule_idx);
        }
    }
    best.1
}

/// The five measures, less is better in each.
#[expect(clippy::cast_precision_loss, reason = "a cost is far below 2^53 minor units")]
fn measures(schedule: &FinishingSchedule) -> [f64; 5] {
    let measures = &schedule.measures;
    [
        measures.cost_minor as f64,
        f64::from(measures.hands_on_min),
        f64::from(measures.elapsed_min),
        -f64::from(measures.wear),
        f64::from(measures.exposure),
    ]
}

#[cfg(test)]
mod tests {
    use finish::Measures;

    use super::*;

    fn schedule(cost_minor: i64, hands_on_min: u32, wear: u8) -> FinishingSchedule {
        let measures = Measures {
            cost_minor,
            materials_minor: 0,
            hands_on_min,
            elapsed_min: 100,
            cured_min: 1000,
            wear,
            exposure: 1,
        };
        FinishingSchedule {
            best_at: vec![BestAt::AllRound],
            measures,
            keeps_old_finish: true,
            steps: Vec::new(),
            notes: Vec::new(),
        }
    }

    #[test]
    fn the_leaning_decides() {
        let both = [schedule(1000, 300, 5), schedule(4000, 60, 1)];
        assert_eq!(by_weight(&both, Prefer::Cost), 0);
        assert_eq!(by_weight(&both, Prefer::Hands), 1);
        assert_eq!(by_weight(&both, Prefer::Wear), 0);
    }

    #[test]
    fn of_two_alike_the_first_is_taken() {
        assert_eq!(by_weight(&[schedule(1, 1, 1), schedule(1, 1, 1)], Prefer::Balanced), 0);
    }
}
