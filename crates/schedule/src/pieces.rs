//! What is taken out of a plan to be put in again: stretches of strands, and where they stood.

use crate::board::Board;
use crate::draft::Place;
use crate::strands::Strands;

/// Activities on one strand, `from ..= to` by their place on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Piece {
    pub(crate) strand: usize,
    pub(crate) from: usize,
    pub(crate) to: usize,
}

impl Piece {
    /// The activities of the piece.
    pub(crate) fn activities<'s>(&self, strands: &'s Strands) -> &'s [usize] {
        &strands.all[self.strand].activities[self.from..=self.to]
    }

    /// Whether something that is out as well leads up to the piece.
    pub(crate) fn waits(&self, strands: &Strands, out: &[Self]) -> bool {
        let first = strands.all[self.strand].activities[self.from];
        let is_out = |&index: &usize| {
            strands.of[index].is_some_and(|(strand, place)| {
                let holds = |other: &&Self| other.strand == strand && other.from <= place && place <= other.to;
                out.iter().find(holds).is_some_and(|other| other != self)
            })
        };
        strands.before[first].iter().any(is_out)
    }
}

/// The pieces of one move.
#[derive(Debug, Default)]
pub(crate) struct Pieces {
    pub(crate) all: Vec<Piece>,
    /// Where what was taken out stood.
    stood: Vec<(usize, Place)>,
}

impl Pieces {
    /// Adds a piece; a strand's end if `to` is beyond it.
    pub(crate) fn take(&mut self, strands: &Strands, strand: usize, from: usize, to: usize) {
        let to = to.min(strands.all[strand].activities.len() - 1);
        self.all.push(Piece { strand, from, to });
    }

    /// Lifts the pieces off the board.
    pub(crate) fn take_out(&mut self, strands: &Strands, board: &mut Board<'_>) {
        self.stood.clear();
        for &index in self.all.iter().flat_map(|piece| piece.activities(strands)) {
            if let Some(place) = board.places[index] {
                self.stood.push((index, place));
                board.lift(index);
            }
        }
    }

    /// Puts everything back where it stood.
    pub(crate) fn put_back(&self, strands: &Strands, board: &mut Board<'_>) {
        for &index in self.all.iter().flat_map(|piece| piece.activities(strands)) {
            board.lift(index);
        }
        for &(index, place) in &self.stood {
            board.put(index, place);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Piece, Pieces};
    use crate::board::Board;
    use crate::compiled::Compiled;
    use crate::draft::Place;
    use crate::model::{Activity, ActivityId, Hand, Lag, Problem, Span, Wait};
    use crate::strands::Strands;

    /// Two chains of two steps that both lead up to a fifth.
    fn problem() -> Problem {
        let mut problem = Problem {
            horizon: 1_000,
            hands: vec![Hand {
                name: "you".into(),
                periods: vec![Span::new(0, 1_000)],
            }],
            activities: (0..5).map(|step| Activity::new(format!("step {step}"), 10)).collect(),
            ..Problem::default()
        };
        for (from, to) in [(0, 1), (2, 3), (1, 4), (3, 4)] {
            let wait = Wait::Minutes(0);
            problem.lags.push(Lag::after(ActivityId(from), ActivityId(to), wait));
        }
        problem
    }

    #[test]
    fn what_is_taken_out_is_put_back_where_it_stood() {
        let problem = problem();
        let of = Compiled::new(&problem);
        let strands = Strands::new(&of);
        let mut board = Board::new(&of);
        let at = |start| Place {
            start,
            end: start + 10,
            team: Some(0),
        };
        for (index, start) in [0, 10, 30, 60].into_iter().enumerate() {
            board.put(index, at(start));
        }
        let stood: Vec<Option<Place>> = board.places.clone();
        let (strand, place) = strands.of[0].unwrap();
        let mut pieces = Pieces::default();
        pieces.take(&strands, strand, place, usize::MAX);
        pieces.take_out(&strands, &mut board);
        assert!(board.places[0].is_none() && board.places[1].is_none() && board.places[2].is_some());
        assert!(board.hand_busy(0, 4, 5, 15).is_none(), "their hours are free");
        board.put(0, at(500));
        pieces.put_back(&strands, &mut board);
        assert_eq!(board.places, stood);
        assert!(board.hand_busy(0, 4, 5, 15).is_some(), "the hand is busy again");
    }

    #[test]
    fn a_piece_waits_for_what_leads_up_to_it_and_is_out_elsewhere() {
        let problem = problem();
        let of = Compiled::new(&problem);
        let strands = Strands::new(&of);
        let piece = |index: usize| {
            let (strand, place) = strands.of[index].unwrap();
            Piece {
                strand,
                from: place,
                to: place,
            }
        };
        assert!(piece(4).waits(&strands, &[piece(4), piece(3)]));
        assert!(
            !piece(4).waits(&strands, &[piece(4), piece(0)]),
            "two steps before, which stays"
        );
        assert!(
            !piece(3).waits(&strands, &[piece(3), piece(4)]),
            "what comes after does not hold it back"
        );
    }
}
