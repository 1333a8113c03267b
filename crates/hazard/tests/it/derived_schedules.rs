//! What the planner derives never meets a stop on lead: nothing that may hold it is planned to become dust or fume before a test.

use finish::plan;
use hazard::{FoundLayer, Job, LeadTest, Level, Made, PieceFacts, RoomFacts, StepFacts, ZoneFacts};

#[path = "../../../finish/tests/it/random_zones.rs"]
#[allow(dead_code, reason = "shared with the planner's tests, which use all of it")]
mod random_zones;

/// How many zones: enough that some hundred of them are old and untested.
const ZONES: usize = 1_000;

fn facts_of(zone: &finish::Zone) -> ZoneFacts {
    ZoneFacts {
        found: zone
            .found
            .iter()
            .map(|layer| FoundLayer {
                class: layer.class,
                coats: layer.coats.unwrap_or(layer.class.row().coats),
            })
            .collect(),
        lead: match zone.lead {
            finish::LeadTest::NotTested => LeadTest::NotTested,
            finish::LeadTest::None => LeadTest::NoneFound(None),
            finish::LeadTest::Present => LeadTest::LEAD_FOUND,
        },
        ..ZoneFacts::new(&zone.name, zone.substrate)
    }
}

fn made_of(zone: &finish::Zone) -> Made {
    match (zone.made.from, zone.made.to) {
        (Some(from), Some(to)) => Made::Between(from, to),
        (Some(from), None) => Made::Between(from, i32::MAX),
        (None, Some(to)) => Made::Before(to),
        (None, None) => Made::Unknown,
    }
}

#[test]
fn no_derived_schedule_is_stopped_for_lead() {
    let mut generator = random_zones::Draw::seeded(8);
    let mut old_and_untested = 0;
    for number in 0..ZONES {
        let (zone, wish, limits) = random_zones::draw(&mut generator);
        let facts = facts_of(&zone);
        let piece = PieceFacts {
            made: made_of(&zone),
            ..PieceFacts::unknown_age()
        };
        if matches!(
            hazard::lead::gate(&piece, &facts),
            hazard::lead::Gate::Open | hazard::lead::Gate::NoneFound
        ) {
            continue;
        }
        for schedule in plan(&zone, &wish, &limits).unwrap_or_default() {
            old_and_untested += 1;
            let steps = schedule
                .steps
                .iter()
                .map(|step| {
                    let mut fact = StepFacts::new(0, step.operation);
                    fact.material = step.material;
                    fact.wet = step.wet;
                    fact
                })
                .collect();
            let job = Job {
                piece: piece.clone(),
                zones: vec![facts.clone()],
                steps,
                room: RoomFacts::steady(200.0, 20.0),
            };
            let words: Vec<String> = schedule.steps.iter().map(finish::Step::words).collect();
            for told in hazard::assess(&job) {
                let is_lead_stop = told.caution.level == Level::Stop && told.caution.id.starts_with("lead");
                assert!(
                    !is_lead_stop,
                    "zone {number}: {} {words:#?} {zone:?}",
                    told.caution.text
                );
            }
        }
    }
    assert!(old_and_untested > 300, "only {old_and_untested} schedules to tell by");
}
