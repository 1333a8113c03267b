//! From the scheduler's placements back to dated steps, day sheets, and the moments at which a piece is ready and cured.

use std::collections::BTreeMap;

use jiff::civil::Date;
use schedule::{Placement, Plan as Placements};

use super::bench_log::BenchLog;
use super::calendar::{PlanClock, Stretch, working_stretches};
use super::output::{Amount, Day, DayBlock, PlannedStep, UsedUp, Wait};
use super::problem::{StepPlace, dried_at};
use super::work::{WorkPiece, WorkStep};
use crate::model::Shop;

/// Placements and all that is needed to read them.
pub(crate) struct Dating<'d> {
    pub(crate) shop: &'d Shop,
    pub(crate) work: &'d [WorkPiece],
    pub(crate) clock: &'d PlanClock,
    pub(crate) clocks: &'d [schedule::Clock],
    pub(crate) log: &'d BenchLog,
    pub(crate) places: &'d [StepPlace],
    pub(crate) placements: &'d Placements,
}

/// The dated steps of one piece.
pub(crate) struct DatedPiece {
    /// Steps of each zone.
    pub(crate) zones: Vec<Vec<PlannedStep>>,
    /// The opening step, if there is one, and the closing step.
    pub(crate) whole: Vec<PlannedStep>,
    /// Minute at which the piece is put together.
    pub(crate) ready_min: i64,
    /// Minute at which every coat is fully hard.
    pub(crate) cured_min: i64,
}

/// The minute at which each step begins.
pub(crate) fn starts(work: &[WorkPiece], places: &[StepPlace], placements: &Placements) -> BTreeMap<String, i64> {
    let ids = places.iter().map(|place| match *place {
        StepPlace::Zone {
            piece_idx,
            zone_idx,
            step_idx,
        } => work[piece_idx].zones[zone_idx].steps[step_idx].id.clone(),
        StepPlace::Opening { piece_idx } => work[piece_idx]
            .opening
            .as_ref()
            .map_or_else(String::new, |step| step.id.clone()),
        StepPlace::Closing { piece_idx } => work[piece_idx].closing.id.clone(),
    });
    ids.zip(&placements.placements)
        .map(|(id, placement)| (id, placement.start))
        .collect()
}

impl Dating<'_> {
    fn placement(&self, place: StepPlace) -> Option<&Placement> {
        let activity_idx = self.places.iter().position(|other| *other == place)?;
        self.placements.placements.get(activity_idx)
    }

    /// The dated steps of a piece.
    pub(crate) fn piece(&self, piece_idx: usize) -> DatedPiece {
        let piece = &self.work[piece_idx];
        let mut dated = DatedPiece {
            zones: Vec::new(),
            whole: Vec::new(),
            ready_min: 0,
            cured_min: 0,
        };
        if let (Some(step), Some(placement)) = (&piece.opening, self.placement(StepPlace::Opening { piece_idx })) {
            dated.whole.push(self.step(piece, step, placement));
        }
        for (zone_idx, zone) in piece.zones.iter().enumerate() {
            let mut steps = Vec::new();
            for (step_idx, step) in zone.steps.iter().enumerate() {
                let Some(placement) = self.placement(StepPlace::Zone {
                    piece_idx,
                    zone_idx,
                    step_idx,
                }) else {
                    continue;
                };
                if step.coats_with().is_some() {
                    let cured = dried_at(
                        self.clocks,
                        piece.room_idx,
                        Some(zone.cure_model),
                        placement.end,
                        zone.cure_min,
                    );
                    dated.cured_min = dated.cured_min.max(cured);
                }
                steps.push(self.step(piece, step, placement));
            }
            dated.zones.push(steps);
        }
        if let Some(placement) = self.placement(StepPlace::Closing { piece_idx }) {
            dated.whole.push(self.step(piece, &piece.closing, placement));
            dated.ready_min = placement.end;
        }
        dated.cured_min = dated.cured_min.max(dated.ready_min);
        dated
    }

    fn step(&self, piece: &WorkPiece, step: &WorkStep, placement: &Placement) -> PlannedStep {
        let wait_ends = step.wait.filter(|wait| wait.min_min > 0).map(|wait| {
            let ends = dried_at(self.clocks, piece.room_idx, wait.model, placement.end, wait.min_min);
            self.clock
                .moment(self.log.of(&step.id).tacky_until.map_or(ends, |until| until.max(ends)))
        });
        let wet_ends = step.coats_with().filter(|_| step.wet_min > 0).map(|class| {
            let model = super::drying::model_of(class);
            self.clock.moment(dried_at(
                self.clocks,
                piece.room_idx,
                Some(model),
                placement.end,
                step.wet_min,
            ))
        });
        PlannedStep {
            id: step.id.clone(),
            operation: step.operation.id().to_owned(),
            material: step.material.map(|material| material.id().to_owned()),
            product: step.product.clone(),
            grit: step.grit.map(|grit| grit.id().to_owned()),
            coat: step.coat,
            hands_on_min: step.hands_on_min,
            pace: step.pace,
            quantity_ml: step.likely_ml().map(tenths),
            quantity: step.quantity.as_ref().map(|quantity| Amount {
                low_ml: tenths(quantity.ml.low),
                likely_ml: tenths(quantity.ml.typical),
                high_ml: tenths(quantity.ml.high),
                thinner_ml: tenths(quantity.thinner_ml.typical),
                basis: quantity.basis.clone(),
            }),
            mixes: step.mixes,
            took_ml: self.log.of(&step.id).took_ml,
            supplies: step.supplies.iter().map(used_up).collect(),
            wait: step.wait.map(|wait| Wait {
                kind: wait.kind.word().to_owned(),
                min_min: wait.min_min,
                max_min: wait.max_min,
            }),
            starts: self.clock.moment(placement.start),
            ends: self.clock.moment(placement.end),
            wait_ends,
            wet_ends,
            hand: placement.hands.first().map_or(0, |hand| hand.0),
            because: step.because.clone(),
            cautions: step.cautions.clone(),
            words: step.words.clone(),
            progress: self.log.of(&step.id).progress(),
        }
    }

    fn source(&self, place: StepPlace) -> (&WorkPiece, &str, &WorkStep) {
        match place {
            StepPlace::Zone {
                piece_idx,
                zone_idx,
                step_idx,
            } => {
                let piece = &self.work[piece_idx];
                let zone = &piece.zones[zone_idx];
                (piece, &zone.name, &zone.steps[step_idx])
            }
            StepPlace::Opening { piece_idx } => {
                let piece = &self.work[piece_idx];
                (piece, "", piece.opening.as_ref().unwrap_or(&piece.closing))
            }
            StepPlace::Closing { piece_idx } => (&self.work[piece_idx], "", &self.work[piece_idx].closing),
        }
    }

    /// Every day with work, first day first, its blocks in order.
    pub(crate) fn days(&self) -> Vec<Day> {
        let mut days: BTreeMap<Date, Vec<(i64, i64, DayBlock)>> = BTreeMap::new();
        let mut last_min = 0;
        for (place, placement) in self.places.iter().zip(&self.placements.placements) {
            let (piece, zone, step) = self.source(*place);
            last_min = last_min.max(placement.end);
            // What is done takes nobody's hands in the problem; on the sheet it stands under the first.
            let hands: Vec<usize> = if placement.hands.is_empty() {
                vec![0]
            } else {
                placement.hands.iter().map(|hand| hand.0).collect()
            };
            for segment in &placement.segments {
                for (from, to) in self.by_day(segment.from, segment.to) {
                    for hand in &hands {
                        let block = DayBlock {
                            hand: *hand,
                            step: step.id.clone(),
                            piece: piece.name.clone(),
                            zone: zone.to_owned(),
                            from: self.clock.moment(from),
                            to: self.clock.moment(to),
                            words: step.words.clone(),
                        };
                        days.entry(block.from.date()).or_default().push((from, to, block));
                    }
                }
            }
        }
        let working: Vec<Stretch> = (0..self.shop.settings.hands.len())
            .flat_map(|hand_idx| working_stretches(&self.shop.settings, hand_idx, self.clock, last_min + 1440))
            .collect();
        days.into_iter()
            .map(|(date, mut blocks)| {
                blocks.sort_by(|a, b| (a.0, a.2.hand, &a.2.step).cmp(&(b.0, b.2.hand, &b.2.step)));
                let worked: i64 = blocks.iter().map(|(from, to, _)| to - from).sum();
                let open = self.minutes_on(date, &working);
                Day {
                    date,
                    blocks: blocks.into_iter().map(|(_, _, block)| block).collect(),
                    free_min: u32::try_from(open - worked).unwrap_or(0),
                }
            })
            .collect()
    }

    /// A stretch cut at every midnight of the shop.
    fn by_day(&self, from: i64, to: i64) -> Vec<Stretch> {
        let mut parts = Vec::new();
        let mut at = from;
        while at < to {
            let midnight = self
                .clock
                .end_of(self.clock.moment(at).date())
                .filter(|midnight| *midnight > at)
                .unwrap_or(to);
            parts.push((at, midnight.min(to)));
            at = midnight;
        }
        parts
    }

    fn minutes_on(&self, date: Date, working: &[Stretch]) -> i64 {
        let Some(end) = self.clock.end_of(date) else { return 0 };
        let start = date
            .yesterday()
            .ok()
            .and_then(|yesterday| self.clock.end_of(yesterday))
            .unwrap_or(end - 1440);
        working
            .iter()
            .map(|(from, to)| (to.min(&end) - from.max(&start)).max(0))
            .sum()
    }
}

fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

fn used_up(used: &finish::Used) -> UsedUp {
    let hundredths = |number: f64| (number * 100.0).round() / 100.0;
    UsedUp {
        id: used.what.id(),
        words: used.what.label(),
        unit: unit_word(used.what.unit()),
        low: hundredths(used.amount.low),
        likely: hundredths(used.amount.typical),
        high: hundredths(used.amount.high),
    }
}

/// The word for a unit in the JSON.
pub(crate) const fn unit_word(unit: trade::Unit) -> &'static str {
    match unit {
        trade::Unit::Piece => "piece",
        trade::Unit::Metre => "m",
        trade::Unit::Millilitre => "ml",
    }
}
