//! Mends a plan that people already follow: what a slip damaged is put right, and nothing else moves unless that pays.
//!
//! The walk begins at the repaired plan, in which everything that can stay has stayed. A move takes a few activities out
//! around what is late or has moved, and puts each chain of them in again where lateness and moved steps together
//! count least ([`threading`]): a start that the activity had before counts nothing, any other what a move is worth.
//! What comes of it is kept only if the whole is better, so every move must pay for itself.
//!
//! A large improvement of a plan that was poor before is not this module's work: that is a new plan.

mod part;
mod threading;

use crate::board::Board;
use crate::chance::Chance;
use crate::compiled::Compiled;
use crate::draft::{Draft, Place};
use crate::exchange::Exchange;
use crate::model::{Minute, Score};
use crate::number::minutes;
use crate::pieces::{Piece, Pieces};
use crate::score::{Worth, worth, worth_up_to};
use crate::search::latest_by_dues;
use crate::strands::Strands;
use threading::Threading;

/// Moves without gain after which there is no more to be expected: so many, and so many for each strand.
const PATIENCE: u64 = 400;
const PATIENCE_EACH: u64 = 4;
/// One of these is drawn for each move: once in so many an opening is overlooked; 0 for never.
const OVERLOOK: [usize; 4] = [0, 0, 20, 5];

/// The walk, which can be interrupted and taken up again.
pub(crate) struct Mender<'a> {
    of: &'a Compiled<'a>,
    board: Board<'a>,
    strands: Strands,
    threading: Threading,
    chance: Chance,
    /// Where each activity was before, if it was and is free to move.
    was: Vec<Option<Minute>>,
    worth_moving: i64,
    /// The latest start from which everything after could still be on time, hours left out.
    latest: Vec<Minute>,
    /// What a minute late of each group counts.
    weights: Vec<i64>,
    /// What is out just now.
    pieces: Pieces,
    near: Vec<(Minute, usize)>,
    /// What each group is late and has moved, weighted.
    group_costs: Vec<i64>,
    here: Option<Worth>,
    /// Moves since the last gain, and after how many there is no more to be expected.
    idle: u64,
    patience: u64,
    /// Starts given so far.
    starts_assigned: u64,
}

impl<'a> Mender<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, seed: u64) -> Self {
        let problem = of.problem;
        let strands = Strands::new(of);
        let mut weights = vec![0; strands.n_groups];
        for due in &problem.dues {
            weights[strands.group[due.activity.0]] += i64::from(due.weight);
        }
        let previous = problem.previous.as_ref();
        let was = problem.activities.iter().enumerate().map(|(index, activity)| {
            let place = previous?.placements[index].as_ref()?;
            activity.pin.is_none().then_some(place.start)
        });
        Self {
            of,
            board: Board::new(of),
            threading: Threading::default(),
            chance: Chance::new(seed),
            was: was.collect(),
            worth_moving: previous.map_or(0, |previous| previous.worth_moving_min),
            latest: latest_by_dues(of),
            weights,
            pieces: Pieces::default(),
            near: Vec::new(),
            group_costs: vec![0; strands.n_groups],
            patience: PATIENCE + PATIENCE_EACH * minutes(strands.all.len()).unsigned_abs(),
            strands,
            here: None,
            idle: 0,
            starts_assigned: 0,
        }
    }

    /// Schedules made so far: starts given, over the number of activities.
    pub(crate) fn made(&self) -> u64 {
        self.starts_assigned / minutes(self.of.problem.activities.len().max(1)).unsigned_abs()
    }

    /// Takes up a plan, whole or not.
    pub(crate) fn start_from(&mut self, draft: &Draft) {
        self.board.clear();
        for (index, place) in draft.places.iter().enumerate() {
            if let Some(place) = place {
                self.board.put(index, *place);
            }
        }
        self.here = Some(worth(self.of, draft));
        self.idle = 0;
        self.count_costs();
    }

    /// Works until so many schedules are made in all, the search is settled or over, or no more is to be expected.
    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        while self.made() < until && !exchange.is_settled() && !is_over() {
            let Some((missing, score)) = self.here else { return };
            let bound = exchange.bound();
            let at_its_least = missing == 0 && score.weighted <= bound.weighted;
            if at_its_least && score.completion <= bound.completion {
                exchange.close();
                return;
            }
            // Completion alone is worth a shorter look.
            if self.idle >= if at_its_least { self.patience / 4 } else { self.patience } {
                return;
            }
            self.step(exchange);
        }
    }

    fn step(&mut self, exchange: &Exchange) {
        // A move that gives no start at all counts as one all the same.
        self.starts_assigned += 1;
        self.idle += 1;
        self.choose();
        self.pieces.take_out(&self.strands, &mut self.board);
        let overlook = OVERLOOK[self.chance.below(OVERLOOK.len())];
        self.put_in(overlook);
        let known = self.here.unwrap_or((usize::MAX, Score::default()));
        let Some(new) = worth_up_to(self.of, &self.board.places, known) else {
            self.pieces.put_back(&self.strands, &mut self.board);
            return;
        };
        if self.here.is_none_or(|here| new < here) {
            self.idle = 0;
            exchange.offer(new, &self.board.draft());
        }
        self.here = Some(new);
        self.count_costs();
    }

    /// Puts the pieces in again, each once everything that leads up to it has been tried.
    fn put_in(&mut self, overlook: usize) {
        let mut order = self.in_order();
        while !order.is_empty() {
            let waits = |piece: &Piece| piece.waits(&self.strands, &order);
            let next = order.iter().position(|piece| !waits(piece)).unwrap_or(0);
            let piece = order.remove(next);
            self.thread(piece, overlook);
        }
    }

    /// The pieces in the order in which they are put in.
    fn in_order(&mut self) -> Vec<Piece> {
        let rule = self.chance.below(4);
        let mut keyed: Vec<(i64, i64, Piece)> = Vec::with_capacity(self.pieces.all.len());
        for &piece in &self.pieces.all {
            let strand = &self.strands.all[piece.strand];
            let by_chance = minutes(self.chance.below(1 << 20));
            let first = strand.activities[piece.from];
            let key = match rule {
                0 => by_chance,
                // What costs most.
                1 => -self.group_costs[strand.group],
                // What is urgent, with a little chance in it.
                2 => self.latest[first] + by_chance % 720,
                // What was first before.
                _ => self.was[first].unwrap_or(self.latest[first]),
            };
            keyed.push((key, by_chance, piece));
        }
        keyed.sort_unstable();
        keyed.into_iter().map(|(_, _, piece)| piece).collect()
    }

    fn thread(&mut self, piece: Piece, overlook: usize) {
        let strand = &self.strands.all[piece.strand];
        let activities = &strand.activities[piece.from..=piece.to];
        let ties = &strand.ties[piece.from..piece.to];
        self.starts_assigned += minutes(activities.len()).unsigned_abs();
        let last = activities[activities.len() - 1];
        let weight = self.weights[strand.group];
        let (mut threading, mut chance) = (std::mem::take(&mut self.threading), self.chance.clone());
        let end_costs = |place: Place| self.end_costs(last, weight, place);
        let wish = threading::Wish {
            was: &self.was,
            worth_moving: self.worth_moving.max(1),
            end_costs: &end_costs,
            overlook,
        };
        let places = threading.places(&self.board, activities, ties, &wish, &mut chance);
        (self.threading, self.chance) = (threading, chance);
        let Some(places) = places else { return };
        for (at, (&index, &place)) in activities.iter().zip(&places).enumerate() {
            if !self.board.stands(index, place) {
                activities[..at].iter().for_each(|&index| self.board.lift(index));
                return;
            }
            self.board.put(index, place);
        }
    }

    /// What it costs that a piece's last activity ends here: its own lateness, what it makes late, and what it pushes
    /// away from where it was.
    fn end_costs(&self, last: usize, weight: i64, place: Place) -> i64 {
        let problem = self.of.problem;
        let own = self.of.dues_of[last].iter().map(|&due| &problem.dues[due]);
        let late: i64 = own.map(|due| i64::from(due.weight) * (place.end - due.at).max(0)).sum();
        let to_come = weight * (place.start - self.latest[last]).max(0);
        let pushed = self.of.lags_of[last].iter().filter(|&&lag| {
            let lag = &problem.lags[lag];
            let to = lag.to.0;
            let is_out = lag.from.0 == last && self.board.places[to].is_none();
            let is_too_late = |was: Minute| self.of.over(lag.min, place.at(lag.from_point)) > was;
            is_out && self.was[to].is_some_and(is_too_late)
        });
        late.max(to_come) + self.worth_moving * minutes(pushed.count())
    }

    /// Notes what each group is late and has moved.
    fn count_costs(&mut self) {
        let problem = self.of.problem;
        self.group_costs.fill(0);
        for due in &problem.dues {
            let end = self.board.places[due.activity.0].map_or(problem.horizon, |place| place.end);
            self.group_costs[self.strands.group[due.activity.0]] += i64::from(due.weight) * (end - due.at).max(0);
        }
        for index in 0..self.was.len() {
            if self.has_moved(index) {
                self.group_costs[self.strands.group[index]] += self.worth_moving;
            }
        }
    }

    /// Whether it stands elsewhere than before.
    fn has_moved(&self, index: usize) -> bool {
        match (self.was[index], self.board.places[index]) {
            (Some(was), Some(place)) => place.start != was,
            _ => false,
        }
    }
}
