//! Problems made from a stream of random numbers, with a little of everything in them.

use schedule::{
    Activity, ActivityId, Block, Breaks, Clock, ClockId, Due, Effect, Hand, HandId, Hold, Lag, Minute, Pin, Point,
    Problem, ProductId, Resource, ResourceId, RoomId, Span, Use, Wait,
};

/// A stream of small numbers: the test's dice.
pub(crate) struct Dice<'a>(pub(crate) std::iter::Cycle<std::slice::Iter<'a, u32>>, pub(crate) u64);

impl<'a> Dice<'a> {
    pub(crate) fn new(from: &'a [u32]) -> Self {
        Self(from.iter().cycle(), 0)
    }

    /// 0 .. n.
    pub(crate) fn below(&mut self, n: i64) -> i64 {
        self.1 = self
            .1
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(u64::from(*self.0.next().unwrap_or(&1)));
        ((self.1 >> 33) % n.unsigned_abs().max(1)).cast_signed()
    }

    pub(crate) fn index(&mut self, n: usize) -> usize {
        usize::try_from(self.below(i64::try_from(n).unwrap())).unwrap()
    }

    pub(crate) fn one_in(&mut self, n: i64) -> bool {
        self.below(n) == 0
    }
}

const DAY: Minute = 1440;

/// A problem with up to `most` activities.
pub(crate) fn problem(dice: &mut Dice<'_>, most: usize) -> Problem {
    let days = 10;
    let mut problem = Problem {
        horizon: days * DAY,
        ..Problem::default()
    };
    problem.grid = [1, 1, 5][dice.index(3)];
    for hand in 0..1 + dice.index(3) {
        let mut periods = Vec::new();
        for day in 0..days {
            if dice.one_in(6) {
                continue;
            }
            let from = day * DAY + 480 + dice.below(4) * 30;
            periods.push(Span::new(from, from + 120 + dice.below(120)));
            periods.push(Span::new(from + 300, from + 360 + dice.below(240)));
        }
        problem.hands.push(Hand {
            name: format!("hand {hand}"),
            periods,
        });
    }
    if dice.one_in(2) {
        let from = dice.below(days * DAY);
        let hand = dice.one_in(2).then_some(HandId(0));
        problem.blocks.push(Block {
            name: "away".into(),
            hand,
            span: Span::new(from, from + 300),
        });
    }
    problem.resources.push(Resource::constant("sander", 1));
    let free_from = 1 + dice.below(2 * DAY);
    problem.resources.push(Resource {
        name: "rack".into(),
        capacity: vec![(0, 2), (free_from, 3)],
    });
    problem.clocks.push(Clock::new(
        (0..days * 4)
            .map(|six_hours| (six_hours * 360, 1 + dice.below(12)))
            .collect(),
    ));
    problem.clean_up_min = vec![10, 20];
    for index in 0..1 + dice.index(most) {
        let activity = activity(dice, index, &problem);
        problem.add(activity);
    }
    waits(dice, &mut problem);
    problem.completion_weight = u32::try_from(dice.below(2)).unwrap();
    problem
}

fn activity(dice: &mut Dice<'_>, index: usize, problem: &Problem) -> Activity {
    let mut activity = Activity::new(format!("a{index}"), dice.below(20) * 5);
    activity.hands = match dice.below(8) {
        0 => 0,
        1 => 2.min(problem.hands.len()),
        _ => 1,
    };
    if dice.one_in(5) && activity.hands == 1 {
        activity.among = vec![HandId(dice.index(problem.hands.len()))];
    }
    if dice.one_in(4) {
        activity.breaks = Breaks::Split;
    }
    if dice.one_in(5) {
        activity.release = dice.below(2 * DAY);
    }
    if dice.one_in(8) {
        activity.deadline = Some(3 * DAY + dice.below(5 * DAY));
    }
    if dice.one_in(6) {
        activity.start_windows = (0..5)
            .map(|k| Span::new(2 * k * DAY + 300, 2 * k * DAY + 300 + DAY))
            .collect();
    }
    if dice.one_in(4) {
        let resource = ResourceId(dice.index(2));
        activity.uses.push(Use { resource, amount: 1 });
    }
    if dice.one_in(3) {
        activity.product = Some(ProductId(dice.index(2)));
    }
    let room = RoomId(7 + dice.index(2));
    activity.room = match dice.below(4) {
        0 => Some((room, Effect::Dust)),
        1 => Some((room, Effect::Coat { wet: wait(dice, 200) })),
        _ => None,
    };
    if dice.one_in(25) {
        activity.pin = Some(Pin {
            start: dice.below(2 * DAY),
            hands: Vec::new(),
            begun: true,
        });
    }
    activity
}

fn wait(dice: &mut Dice<'_>, most: i64) -> Wait {
    if dice.one_in(4) {
        Wait::Progress {
            clock: ClockId(0),
            progress: dice.below(most * 6),
        }
    } else {
        Wait::Minutes(dice.below(most))
    }
}

fn waits(dice: &mut Dice<'_>, problem: &mut Problem) {
    let n = problem.activities.len();
    for to in 1..n {
        if dice.one_in(3) {
            continue;
        }
        let from = to - 1 - dice.index(to.min(3));
        let mut lag = Lag::after(ActivityId(from), ActivityId(to), wait(dice, 600));
        match dice.below(6) {
            0 => lag.max = Some(Wait::Minutes(700 + dice.below(3 * DAY))),
            1 => {
                lag.min = Wait::Minutes(5);
                lag.max = Some(Wait::Minutes(25));
            }
            2 => lag.closed = Some((Wait::Minutes(600), Wait::Minutes(600 + dice.below(DAY)))),
            3 => lag.from_point = Point::Start,
            _ => {}
        }
        problem.lags.push(lag);
        if dice.one_in(5) {
            let (after, until) = (ActivityId(from), ActivityId(to));
            problem.holds.push(Hold {
                resource: ResourceId(1),
                amount: 1,
                after,
                until,
            });
        }
    }
    for _ in 0..dice.below(4) {
        let activity = ActivityId(dice.index(n));
        problem.dues.push(Due {
            activity,
            at: dice.below(6 * DAY),
            weight: 1 + u32::try_from(dice.below(4)).unwrap(),
        });
    }
}
