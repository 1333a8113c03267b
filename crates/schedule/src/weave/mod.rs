//! Takes a few strands out of a plan and puts them in again at their best places, and keeps what pays: ruin and recreate.
//!
//! A strand is a chain of activities with waits between, put in as a whole by [`threading`], so that longest waits and
//! closed stretches are kept without repair. What is taken out follows what costs: late groups before others. A worse
//! plan is gone on from now and then, less and less often within a round (annealing), and a round begins at the best.

mod ruin;
#[cfg(test)]
mod tests;
mod threading;

use crate::board::Board;
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::Draft;
use crate::exchange::Exchange;
use crate::model::Minute;
use crate::number::minutes;
use crate::pieces::{Piece, Pieces};
use crate::score::{Worth, worth};
use crate::strands::Strands;
use ruin::as_float;
use threading::{Lean, Manner, Threading};

/// What an activity without a place costs a plan, beside weighted minutes.
const ABSENT: f64 = 1e8;
/// How much worse a plan may be to be gone on from, as a part of what there is: at the beginning and the end of a round.
const HOT: f64 = 0.3;
const COLD: f64 = 0.003;
/// One of these is drawn for each move: once in so many an opening is overlooked; 0 for never.
const OVERLOOK: [usize; 4] = [0, 50, 12, 4];
/// Moves of the first round; each later one is longer.
const FIRST_ROUND: u64 = 1_000;

/// The walk, which can be interrupted and taken up again.
pub(crate) struct Weaver<'a> {
    of: &'a Compiled<'a>,
    board: Board<'a>,
    strands: Strands,
    threading: Threading,
    chance: Chance,
    /// What is out just now.
    pieces: Pieces,
    missing: usize,
    /// What each group is late, weighted.
    group_costs: Vec<i64>,
    here: f64,
    best: Option<(Worth, Draft)>,
    round: u64,
    overlook: usize,
    round_at: u64,
    moves: u64,
    /// Starts given so far.
    starts_assigned: u64,
}

impl<'a> Weaver<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Self {
        let strands = Strands::new(of);
        Self {
            of,
            board: Board::new(of),
            threading: Threading::default(),
            chance: Chance::new(seed),
            pieces: Pieces::default(),
            missing: 0,
            group_costs: vec![0; strands.n_groups],
            strands,
            here: f64::INFINITY,
            best: None,
            round: FIRST_ROUND,
            round_at: 0,
            overlook: 0,
            moves: 0,
            starts_assigned: 0,
        }
    }

    /// Schedules made so far: starts given, over the number of activities.
    pub(crate) fn made(&self) -> u64 {
        self.starts_assigned / minutes(self.of.problem.activities.len().max(1)).unsigned_abs()
    }

    /// Takes up another plan, whole or not.
    pub(crate) fn start_from(&mut self, draft: &Draft) {
        self.board.clear();
        for (index, place) in draft.places.iter().enumerate() {
            if let Some(place) = place {
                self.board.put(index, *place);
            }
        }
        self.here = self.energy();
    }

    /// Works until so many schedules are made in all or the search is settled or over.
    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        while !self.strands.all.is_empty() && self.made() < until && !exchange.is_settled() && !is_over() {
            if self.moves.is_multiple_of(64)
                && let Some((worth, draft)) = exchange.better_than(self.best.as_ref().map(|(worth, _)| *worth))
            {
                self.start_from(&draft);
                self.best = Some((worth, draft));
            }
            if self.round_at == self.round {
                self.round_at = 0;
                self.round += self.round / 2;
                if let Some((_, draft)) = self.best.take() {
                    self.start_from(&draft);
                    self.best = Some((worth(self.of, &draft), draft));
                }
            }
            self.step(exchange);
        }
    }

    fn step(&mut self, exchange: &Exchange) {
        self.moves += 1;
        self.round_at += 1;
        // A move that gives no start at all counts as one all the same.
        self.starts_assigned += 1;
        self.choose();
        self.overlook = OVERLOOK[self.chance.below(OVERLOOK.len())];
        self.pieces.take_out(&self.strands, &mut self.board);
        self.put_in();
        let was = self.here;
        let now = self.energy();
        let worst = was - self.heat() * self.chance.part().max(1e-9).ln();
        if now > worst {
            self.pieces.put_back(&self.strands, &mut self.board);
            self.energy();
            return;
        }
        self.here = now;
        self.note_best(exchange);
    }

    /// Offers the plan on the board, if it is whole and the best so far.
    fn note_best(&mut self, exchange: &Exchange) {
        let now = self.here;
        if self.missing == 0
            && self
                .best
                .as_ref()
                .is_none_or(|(best, _)| now <= as_float(best.1.weighted) + 1e7)
        {
            let draft = self.board.draft();
            let new = worth(self.of, &draft);
            if self.best.as_ref().is_none_or(|(best, _)| new < *best) {
                exchange.offer(new, &draft);
                self.best = Some((new, draft));
            }
        }
    }

    /// How much worse a plan may well be to be gone on from.
    fn heat(&self) -> f64 {
        let scale = self
            .best
            .as_ref()
            .map_or(1e5, |(best, _)| as_float(best.1.weighted.max(best.1.completion)));
        let part = as_float(self.round_at.cast_signed()) / as_float(self.round.cast_signed());
        scale * HOT * (COLD / HOT).powf(part)
    }

    /// Puts the pieces in again, each once everything that leads up to it has been tried.
    fn put_in(&mut self) {
        let mut order = self.in_order();
        while !order.is_empty() {
            let waits = |piece: &Piece| piece.waits(&self.strands, &order);
            let next = order.iter().position(|piece| !waits(piece)).unwrap_or(0);
            let piece = order.remove(next);
            self.thread(piece);
        }
    }

    /// The pieces in the order in which they are put in.
    fn in_order(&mut self) -> Vec<Piece> {
        let rule = self.chance.below(4);
        let mut keyed: Vec<(f64, Piece)> = Vec::with_capacity(self.pieces.all.len());
        let group_key: Vec<f64> = (0..self.strands.n_groups).map(|_| self.chance.part()).collect();
        for &piece in &self.pieces.all {
            let strand = &self.strands.all[piece.strand];
            let by_chance = self.chance.part();
            let key = match rule {
                0 => by_chance,
                // One group after the other.
                1 => group_key[strand.group] + by_chance / 1e3,
                // What is due first.
                2 => self.due_of(strand.group) * (0.8 + 0.4 * by_chance),
                // What costs most.
                _ => -as_float(self.group_costs[strand.group]) * (0.5 + by_chance) + by_chance,
            };
            // What closes a group follows as soon as it can.
            let closes = self.strands.before[strand.activities[piece.from]].len() > 1 && piece.from == 0;
            keyed.push((if closes { f64::NEG_INFINITY } else { key }, piece));
        }
        keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        keyed.into_iter().map(|(_, piece)| piece).collect()
    }

    /// The first date a group has to keep.
    fn due_of(&self, group: usize) -> f64 {
        let dues = &self.of.problem.dues;
        let mine = dues.iter().filter(|due| self.strands.group[due.activity.0] == group);
        as_float(mine.map(|due| due.at).min().unwrap_or(self.of.problem.horizon))
    }

    fn thread(&mut self, piece: Piece) {
        let strand = &self.strands.all[piece.strand];
        let activities = &strand.activities[piece.from..=piece.to];
        let ties = &strand.ties[piece.from..piece.to];
        let manner = Manner {
            lean: match self.chance.below(4) {
                0 => Lean::Early,
                1 => Lean::Late,
                2 => Lean::ByChance,
                _ => Lean::CoatsLate,
            },
            overlook: self.overlook,
        };
        self.starts_assigned += minutes(activities.len()).unsigned_abs();
        let Some(places) = self
            .threading
            .places(&self.board, activities, ties, manner, &mut self.chance)
        else {
            return;
        };
        for (at, (&index, &place)) in activities.iter().zip(&places).enumerate() {
            if !self.board.stands(index, place) {
                activities[..at].iter().for_each(|&index| self.board.lift(index));
                return;
            }
            self.board.put(index, place);
        }
    }

    /// What the board as it stands costs; notes what is missing and what each group costs.
    fn energy(&mut self) -> f64 {
        let problem = self.of.problem;
        self.missing = self.board.places.iter().filter(|place| place.is_none()).count();
        self.group_costs.fill(0);
        let end_of = |index: usize| self.board.places[index].map_or(problem.horizon, |place| place.end);
        let completion: Minute = (0..self.board.places.len()).map(end_of).max().unwrap_or(0);
        let mut weighted = i64::from(problem.completion_weight) * completion;
        let mut lean = 0;
        for due in &problem.dues {
            let end = end_of(due.activity.0);
            let late = i64::from(due.weight) * (end - due.at).max(0);
            weighted += late;
            lean += i64::from(due.weight) * end;
            self.group_costs[self.strands.group[due.activity.0]] += late;
        }
        if problem.completion_weight == 0 {
            lean += 100 * completion;
        }
        as_float(weighted) + 1e-3 * as_float(lean) + ABSENT * as_float(minutes(self.missing))
    }
}
