//! What is taken out to be put in again: parts of chains around what is late or has moved.

use super::Mender;
use crate::model::Minute;
use crate::number::minutes;
use crate::pieces::Piece;

impl Mender<'_> {
    /// Chooses what is taken out this time.
    pub(super) fn choose(&mut self) {
        self.pieces.all.clear();
        self.take_absent();
        let Some((strand, place)) = self.focus() else { return };
        let moment = self.moment_of(strand, place);
        match self.chance.below(6) {
            0 => self.take_stretch(strand, moment),
            1 => {
                self.take(strand, place, usize::MAX);
                self.take_tails(moment);
            }
            2 | 3 => {
                let from = self.chance.below(place + 1);
                self.take(strand, from, usize::MAX);
                self.take_singles(moment);
            }
            4 => self.take_moved(strand),
            _ => {
                self.take(strand, place, place);
                self.take_singles(moment);
            }
        }
        self.take_followers();
        self.settle_pieces();
    }

    /// Whatever stands nowhere, with some of what leads up to it.
    fn take_absent(&mut self) {
        for strand in 0..self.strands.all.len() {
            let activities = &self.strands.all[strand].activities;
            let is_absent = |index: &usize| self.board.places[*index].is_none();
            if let Some(first) = activities.iter().position(is_absent) {
                let from = self.chance.below(first + 1);
                self.take(strand, from, usize::MAX);
            }
        }
    }

    fn take(&mut self, strand: usize, from: usize, to: usize) {
        self.pieces.take(&self.strands, strand, from, to);
    }

    /// A place on a strand of a group that costs something, now and then of any; rather one that has moved.
    fn focus(&mut self) -> Option<(usize, usize)> {
        let group = self.costly_group();
        let mine: Vec<usize> = (0..self.board.places.len())
            .filter(|&index| self.strands.group[index] == group && self.strands.of[index].is_some())
            .collect();
        let moved: Vec<usize> = mine.iter().copied().filter(|&index| self.has_moved(index)).collect();
        let among = if moved.is_empty() || self.chance.once_in(2) {
            mine
        } else {
            moved
        };
        let &index = among.get(self.chance.below(among.len()))?;
        self.strands.of[index]
    }

    /// A group by chance, the more likely the more it costs.
    fn costly_group(&mut self) -> usize {
        let total: i64 = self.group_costs.iter().sum();
        let total = usize::try_from(total).unwrap_or(0);
        if total == 0 || self.chance.once_in(8) {
            return self.chance.below(self.strands.n_groups);
        }
        let mut left = minutes(self.chance.below(total));
        for (group, &cost) in self.group_costs.iter().enumerate() {
            left -= cost;
            if left < 0 {
                return group;
            }
        }
        self.strands.n_groups - 1
    }

    /// When the activity at a place of a strand starts, or was to; or where the one before it ends.
    fn moment_of(&self, strand: usize, place: usize) -> Minute {
        let index = self.strands.all[strand].activities[place];
        let here = self.board.places[index].map(|place| place.start);
        here.or(self.was[index]).unwrap_or(self.of.problem.not_before)
    }

    /// Everything in a stretch of time, and the rest of the strand from then on.
    fn take_stretch(&mut self, strand: usize, moment: Minute) {
        let wide = 60 + minutes(self.chance.below(960));
        let (from, to) = (moment - wide, moment + wide / 2);
        let after = |index: &usize| self.board.places[*index].is_none_or(|place| place.end > from);
        if let Some(first) = self.strands.all[strand].activities.iter().position(after) {
            self.take(strand, first, usize::MAX);
        }
        for other in 0..self.strands.all.len() {
            let inside =
                |index: &usize| self.board.places[*index].is_some_and(|place| place.start < to && place.end > from);
            let activities = &self.strands.all[other].activities;
            if let (Some(first), Some(last)) = (activities.iter().position(inside), activities.iter().rposition(inside))
            {
                self.take(other, first, last);
            }
        }
    }

    /// What comes after a moment on a few strands that are at work near it.
    fn take_tails(&mut self, moment: Minute) {
        let n = 1 + self.chance.below(5);
        for (strand, place) in self.near(moment, n) {
            self.take(strand, place, usize::MAX);
        }
    }

    /// Single activities near a moment.
    fn take_singles(&mut self, moment: Minute) {
        let n = 1 + self.chance.below(12);
        for (strand, place) in self.near(moment, n) {
            self.take(strand, place, place);
        }
    }

    /// So many activities that stand near a moment, by place.
    fn near(&mut self, moment: Minute, n: usize) -> Vec<(usize, usize)> {
        let spread = [120, 480, 1_440][self.chance.below(3)];
        let mut near = std::mem::take(&mut self.near);
        near.clear();
        for (index, place) in self.board.places.iter().enumerate() {
            if let Some(place) = place.filter(|_| self.strands.of[index].is_some()) {
                near.push(((place.start - moment).abs() + minutes(self.chance.below(spread)), index));
            }
        }
        if n < near.len() {
            near.select_nth_unstable(n);
            near.truncate(n);
        }
        near.sort_unstable();
        let places = near.iter().filter_map(|&(_, index)| self.strands.of[index]).collect();
        self.near = near;
        places
    }

    /// All of a group that has moved, and what now stands where it was.
    fn take_moved(&mut self, strand: usize) {
        let group = self.strands.all[strand].group;
        let moved: Vec<usize> = (0..self.was.len())
            .filter(|&index| self.strands.group[index] == group && self.has_moved(index))
            .collect();
        for &index in &moved {
            let (Some((strand, place)), Some(was)) = (self.strands.of[index], self.was[index]) else {
                continue;
            };
            self.take(strand, place, place);
            let until = was + self.of.problem.activities[index].duration;
            for other in 0..self.board.places.len() {
                let in_the_way = self.board.places[other].is_some_and(|place| place.start < until && place.end > was);
                if let Some((strand, place)) = self.strands.of[other].filter(|_| in_the_way) {
                    self.take(strand, place, place);
                }
            }
        }
    }

    /// What closes a group goes with what leads up to it, lest it hold it back.
    fn take_followers(&mut self) {
        let mut at = 0;
        while let Some(&piece) = self.pieces.all.get(at) {
            at += 1;
            let activities = &self.strands.all[piece.strand].activities;
            if piece.to + 1 < activities.len() {
                continue;
            }
            for &index in &activities[piece.from..=piece.to] {
                for &next in &self.of.next[index] {
                    let Some((strand, place)) = self.strands.of[next] else {
                        continue;
                    };
                    let last = self.strands.all[strand].activities.len() - 1;
                    let holds = |known: &Piece| known.strand == strand && known.from <= place && known.to == last;
                    if strand != piece.strand && !self.pieces.all.iter().any(holds) {
                        self.pieces.all.push(Piece {
                            strand,
                            from: place,
                            to: last,
                        });
                    }
                }
            }
        }
    }

    /// Pieces of the same strand that touch are joined; the others stay apart.
    fn settle_pieces(&mut self) {
        self.pieces.all.sort_unstable();
        self.pieces.all.dedup_by(|next, kept| {
            let touches = next.strand == kept.strand && next.from <= kept.to + 1;
            if touches {
                kept.to = kept.to.max(next.to);
            }
            touches
        });
    }
}
