//! When there is no plan, the answer names what cannot hold together, and no more.

use schedule::{
    Activity, ActivityId, Block, Demand, Effort, Hand, Lag, Outcome, Pin, Problem, Resource, ResourceId, Span, Use,
    Wait, refusals, solve,
};

fn two_days() -> Problem {
    let mut problem = Problem {
        horizon: 2880,
        ..Problem::default()
    };
    let periods = vec![Span::new(540, 1020), Span::new(1980, 2460)];
    problem.hands.push(Hand {
        name: "me".into(),
        periods,
    });
    problem
}

fn demands(problem: &Problem) -> Vec<Demand> {
    match solve(problem, &Effort::schedules(200)) {
        Outcome::Infeasible(conflict) => {
            assert!(conflict.minimal);
            conflict.demands
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_deadline_before_the_wait_is_over_is_named_with_the_wait() {
    let mut problem = two_days();
    let coat = problem.add(Activity::new("coat", 30));
    let refit = problem.add(Activity {
        deadline: Some(1020),
        ..Activity::new("refit", 30)
    });
    let other = problem.add(Activity {
        deadline: Some(2000),
        ..Activity::new("other", 30)
    });
    problem.lags.push(Lag::after(coat, refit, Wait::Minutes(480)));
    problem.lags.push(Lag::after(coat, other, Wait::Minutes(5)));
    assert_eq!(
        demands(&problem),
        [Demand::Deadline(refit), Demand::ShortestWait(0), Demand::Hours(coat)]
    );
}

#[test]
fn two_pins_nearer_than_their_wait_are_named() {
    let mut problem = two_days();
    let pin = |start| {
        Some(Pin {
            start,
            hands: Vec::new(),
            begun: false,
        })
    };
    let first = problem.add(Activity {
        pin: pin(600),
        ..Activity::new("first", 30)
    });
    let second = problem.add(Activity {
        pin: pin(700),
        ..Activity::new("second", 30)
    });
    problem.add(Activity::new("third", 30));
    problem.lags.push(Lag::after(first, second, Wait::Minutes(120)));
    assert_eq!(
        demands(&problem),
        [Demand::Pin(first), Demand::Pin(second), Demand::ShortestWait(0)]
    );
}

#[test]
fn a_block_on_the_only_day_is_named_with_the_hours() {
    let mut problem = two_days();
    problem.horizon = 1440;
    let step = problem.add(Activity::new("step", 300));
    problem.blocks.push(Block {
        name: "market".into(),
        hand: None,
        span: Span::new(700, 800),
    });
    problem.blocks.push(Block {
        name: "evening".into(),
        hand: None,
        span: Span::new(1100, 1200),
    });
    assert_eq!(
        demands(&problem),
        [Demand::Block(0), Demand::Hours(step), Demand::Horizon]
    );
}

#[test]
fn more_needed_than_there_is_names_the_resource() {
    let mut problem = two_days();
    problem.resources.push(Resource::constant("sander", 1));
    let step = Activity {
        uses: vec![Use {
            resource: ResourceId(0),
            amount: 2,
        }],
        ..Activity::new("step", 30)
    };
    problem.add(step);
    assert_eq!(demands(&problem), [Demand::Resource(0)]);
}

#[test]
fn an_index_that_points_nowhere_is_refused_by_name() {
    let mut problem = two_days();
    let step = problem.add(Activity::new("step", -5));
    problem.lags.push(Lag::after(step, ActivityId(9), Wait::Minutes(0)));
    let said: Vec<String> = refusals(&problem).iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(
        said[0].contains("activity 0 (step)") && said[0].contains("-5 min"),
        "{said:?}"
    );
    assert!(
        said[1].contains("lag 0") && said[1].contains("1 activities"),
        "{said:?}"
    );
    assert!(matches!(solve(&problem, &Effort::schedules(1)), Outcome::Refused(_)));
}
