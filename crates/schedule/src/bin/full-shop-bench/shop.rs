//! The shop that is measured: pieces of several zones, each a chain of steps, made from a seed by the rules below. It stands for no
//! real one.

use schedule::{
    Activity, ActivityId, Clock, ClockId, Due, Effect, Hand, Lag, Minute, Problem, ProductId, RoomId, Span, Wait,
};

pub(crate) const DAY: Minute = 1440;

/// A stream of numbers from a seed.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % n.unsigned_abs().max(1)).cast_signed()
    }

    fn index(&mut self, n: usize) -> usize {
        usize::try_from(self.below(i64::try_from(n).unwrap_or(1))).unwrap_or(0)
    }
}

/// A shop of so many zones; `weeks` of working days.
pub(crate) fn shop(zones: usize, pieces: usize, steps: usize, weeks: i64, seed: u64) -> Problem {
    let mut dice = Dice(seed);
    let mut problem = Problem {
        horizon: weeks * 7 * DAY,
        grid: 5,
        clean_up_min: vec![10, 15, 5],
        ..Problem::default()
    };
    for name in ["one", "the other"] {
        let mut periods = Vec::new();
        for day in (0..weeks * 7).filter(|day| day % 7 < 6) {
            periods.push(Span::new(day * DAY + 480, day * DAY + 720));
            periods.push(Span::new(day * DAY + 780, day * DAY + 1020));
        }
        problem.hands.push(Hand {
            name: name.into(),
            periods,
        });
    }
    problem.clocks.push(Clock::new(rates(weeks, seed)));
    let mut lasts: Vec<Vec<ActivityId>> = vec![Vec::new(); pieces];
    for zone in 0..zones {
        let n = steps / zones + usize::from(zone < steps % zones);
        let mut before: Option<ActivityId> = None;
        for step in 0..n {
            let id = add_step(&mut problem, &mut dice, format!("zone {zone} step {step}"));
            if let Some(before) = before {
                add_wait(&mut problem, &mut dice, before, id);
            }
            before = Some(id);
        }
        lasts[zone % pieces].extend(before);
    }
    for ends in lasts {
        let refit = problem.add(Activity::new("refit", 30));
        for end in ends {
            problem.lags.push(Lag::after(
                end,
                refit,
                Wait::Progress {
                    clock: ClockId(0),
                    progress: 900_000,
                },
            ));
        }
        let at = (5 + dice.below(weeks * 6)) * DAY + 1020;
        problem.dues.push(Due {
            activity: refit,
            at,
            weight: 1 + u32::try_from(dice.below(4)).unwrap_or(0),
        });
    }
    problem
}

/// The weather: warm by day, slow by night, each hour by chance a little more or less.
pub(crate) fn rates(weeks: i64, seed: u64) -> Vec<(Minute, i64)> {
    let mut dice = Dice(seed);
    let mut rate = |hour: i64| 600 + if (8..20).contains(&(hour % 24)) { 400 } else { 0 } + dice.below(200);
    (0..weeks * 168).map(|hour| (hour * 60, rate(hour))).collect()
}

fn add_step(problem: &mut Problem, dice: &mut Dice, name: String) -> ActivityId {
    let mut activity = Activity::new(name, 10 + 5 * dice.below(7));
    match dice.below(3) {
        0 => activity.room = Some((RoomId(0), Effect::Dust)),
        1 => {
            let wet = Wait::Progress {
                clock: ClockId(0),
                progress: 30_000 + 10_000 * dice.below(6),
            };
            activity.room = Some((RoomId(0), Effect::Coat { wet }));
            activity.product = Some(ProductId(dice.index(3)));
        }
        _ => {}
    }
    problem.add(activity)
}

fn add_wait(problem: &mut Problem, dice: &mut Dice, before: ActivityId, id: ActivityId) {
    let coat = matches!(problem.activities[before.0].room, Some((_, Effect::Coat { .. })));
    let hours = if coat { 1 + dice.below(16) } else { 0 };
    let mut lag = Lag::after(
        before,
        id,
        Wait::Progress {
            clock: ClockId(0),
            progress: hours * 50_000,
        },
    );
    match dice.below(12) {
        0 if coat => lag.max = Some(Wait::Minutes(5 * DAY)),
        1 if coat => lag.closed = Some((Wait::Minutes(2 * DAY), Wait::Minutes(4 * DAY))),
        _ => {}
    }
    problem.lags.push(lag);
}
