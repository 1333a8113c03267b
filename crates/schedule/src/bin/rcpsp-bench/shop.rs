//! The shop JSON: chains of steps with waits, working windows, weather days, one room, due dates.

use crate::instance::Instance;
use schedule::{Activity, ActivityId, Due, Effect, Hand, Lag, Minute, Problem, RoomId, Span, Wait};
use serde::Deserialize;

#[derive(Deserialize)]
struct Shop {
    id: String,
    grid: Minute,
    horizon: Minute,
    workers: usize,
    windows: Vec<(Minute, Minute, usize)>,
    weather_ok: Vec<(Minute, Minute)>,
    pieces: Vec<Piece>,
    makespan_weight: u32,
}

#[derive(Deserialize)]
struct Piece {
    release: Minute,
    due: Minute,
    weight: u32,
    zones: Vec<Zone>,
    #[serde(rename = "final")]
    last: Step,
}

#[derive(Deserialize)]
struct Zone {
    steps: Vec<Step>,
}

#[derive(Deserialize)]
struct Step {
    id: String,
    dur: Minute,
    need: usize,
    kind: String,
    #[serde(default)]
    wet: Minute,
    #[serde(default)]
    weather: bool,
    #[serde(default)]
    lag: Gap,
    #[serde(default)]
    after_zones: Minute,
}

#[derive(Deserialize, Default, Clone, Copy)]
struct Gap {
    #[serde(default)]
    min: Minute,
    max: Option<Minute>,
    recoat: Option<(Minute, Minute)>,
}

pub(crate) fn read(text: &str) -> Result<Instance, String> {
    let shop: Shop = serde_json::from_str(text).map_err(|error| error.to_string())?;
    let mut problem = Problem {
        horizon: shop.horizon,
        grid: shop.grid,
        completion_weight: shop.makespan_weight,
        ..Problem::default()
    };
    for worker in 0..shop.workers {
        let there = shop.windows.iter().filter(|window| window.2 > worker);
        let periods = there.map(|&(from, to, _)| Span::new(from, to)).collect();
        problem.hands.push(Hand {
            name: format!("worker {worker}"),
            periods,
        });
    }
    for piece in &shop.pieces {
        let last = add(&mut problem, &piece.last, piece.release, &shop.weather_ok);
        for zone in &piece.zones {
            let mut before: Option<(ActivityId, Gap, Minute)> = None;
            for step in &zone.steps {
                let id = add(&mut problem, step, piece.release, &shop.weather_ok);
                if let Some((before, gap, _)) = before {
                    let mut lag = Lag::after(before, id, Wait::Minutes(gap.min));
                    lag.max = gap.max.map(Wait::Minutes);
                    lag.closed = gap
                        .recoat
                        .map(|(soon, late)| (Wait::Minutes(soon), Wait::Minutes(late)));
                    problem.lags.push(lag);
                }
                before = Some((id, step.lag, step.wet));
            }
            if let Some((before, _, wet)) = before {
                let wait = piece.last.after_zones.max(wet);
                problem.lags.push(Lag::after(before, last, Wait::Minutes(wait)));
            }
        }
        problem.dues.push(Due {
            activity: last,
            at: piece.due,
            weight: piece.weight,
        });
    }
    Ok(Instance {
        name: shop.id,
        problem,
        critical_path: None,
    })
}

fn add(problem: &mut Problem, step: &Step, release: Minute, weather: &[(Minute, Minute)]) -> ActivityId {
    let mut activity = Activity::new(step.id.clone(), step.dur);
    activity.hands = step.need;
    activity.release = release;
    if step.weather {
        // The whole step lies in the weather; days that touch are told apart as the format says.
        let fits = |&(from, to): &(Minute, Minute)| Span::new(from, to - step.dur + 1);
        activity.start_windows = weather.iter().map(fits).filter(|window| window.length() > 0).collect();
    }
    activity.room = match step.kind.as_str() {
        "dust" => Some((RoomId(0), Effect::Dust)),
        "coat" => Some((
            RoomId(0),
            Effect::Coat {
                wet: Wait::Minutes(step.wet),
            },
        )),
        _ => None,
    };
    problem.add(activity)
}
