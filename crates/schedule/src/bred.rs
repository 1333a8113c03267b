//! Breeding over a plain project as a worker among others: takes the best from the exchange, gives back what it finds.

use crate::compiled::Compiled;
use crate::draft::{Draft, Place};
use crate::exchange::Exchange;
use crate::genetic::Breeding;
use crate::model::{Activity, Score};
use crate::passes::Timetable;
use crate::project::Project;
use crate::score::{Worth, worth};

/// Breeding with the problem it is for.
pub(crate) struct Bred<'a> {
    of: &'a Compiled<'a>,
    breeding: Breeding<'a>,
    /// Schedules to be bred before the best is walked on from; `u64::MAX` where nobody knows.
    planned: u64,
    /// Worth of the best, once something is bred.
    known: Option<Worth>,
}

impl<'a> Bred<'a> {
    /// `elders` are bred from first.
    pub(crate) fn new(
        of: &'a Compiled<'a>,
        project: &'a Project,
        elders: &[Timetable],
        planned: u64,
        seed: u64,
    ) -> Self {
        let mut breeding = Breeding::new(project, seed);
        breeding.begin_with(elders);
        Self {
            of,
            breeding,
            planned,
            known: None,
        }
    }

    /// Schedules made so far.
    pub(crate) fn made(&self) -> u64 {
        self.breeding.made()
    }

    /// See [`Breeding::disturbed`].
    pub(crate) fn disturbed(&mut self, table: &Timetable) -> Timetable {
        self.breeding.disturbed(table)
    }

    /// See [`Breeding::unlike`].
    pub(crate) fn unlike(&self, most: usize) -> Vec<Timetable> {
        self.breeding.unlike(most)
    }

    /// Breeds, or walks on from the best, until so many schedules are made in all, or everything is settled, or
    /// `is_over`.
    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        if let Some((_, draft)) = exchange.better_than(self.known) {
            let known = as_timetable(self.of, &draft);
            self.breeding.learn_of(&known.start, known.length);
        }
        self.breeding
            .advance(until, self.planned, &|| exchange.is_settled() || is_over());
        let draft = as_draft(self.of, self.breeding.best());
        let known = worth(self.of, &draft);
        self.known = Some(known);
        exchange.offer(known, &draft);
        if let Some(here) = self.breeding.here() {
            let draft = as_draft(self.of, &here);
            exchange.offer_like(worth(self.of, &draft), &draft);
        }
        let bound = self.of.problem.not_before + i64::from(self.breeding.bound());
        exchange.raise_bound(Score {
            completion: bound,
            ..Score::default()
        });
        if self.breeding.best().length <= self.breeding.bound() {
            exchange.close();
        }
    }
}

pub(crate) fn as_draft(of: &Compiled<'_>, table: &Timetable) -> Draft {
    let place = |(start, activity): (&i32, &Activity)| {
        let start = of.problem.not_before + i64::from(*start);
        Some(Place {
            start,
            end: start + activity.duration,
            team: None,
        })
    };
    Draft {
        places: table.start.iter().zip(&of.problem.activities).map(place).collect(),
        missing: 0,
    }
}

/// A complete draft of a plain project as a timetable from 0.
pub(crate) fn as_timetable(of: &Compiled<'_>, draft: &Draft) -> Timetable {
    let after = |minute: i64| i32::try_from(minute - of.problem.not_before).unwrap_or(i32::MAX);
    let places = || draft.places.iter();
    Timetable {
        start: places()
            .map(|place| place.map_or(0, |place| after(place.start)))
            .collect(),
        length: places()
            .flatten()
            .map(|place| after(place.end))
            .max()
            .unwrap_or_default(),
    }
}
