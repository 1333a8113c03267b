//! What is taken out to be put in again: whole groups, some of their strands, tails of strands, or a stretch of time.

use super::Weaver;
use crate::model::Minute;
use crate::pieces::Piece;

impl Weaver<'_> {
    /// Chooses what is taken out this time.
    pub(super) fn choose(&mut self) {
        self.pieces.all.clear();
        self.take_absent();
        match self.chance.below(8) {
            0 => self.take_groups(1),
            1 => self.take_groups(2),
            2 if self.strands.n_groups > 3 => self.take_groups(3),
            2 | 3 => self.take_stretch(),
            4 | 5 => self.take_tails(),
            _ => self.take_strands(),
        }
        self.take_followers();
        self.settle_pieces();
    }

    /// Whatever stands nowhere, with some of what leads up to it.
    fn take_absent(&mut self) {
        if self.missing == 0 {
            return;
        }
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

    /// A group by chance; one that costs much rather than one that costs nothing.
    pub(super) fn costly_group(&mut self) -> usize {
        let costs = &self.group_costs;
        let total: i64 = costs.iter().sum();
        if total == 0 || self.chance.once_in(3) {
            return self.chance.below(self.strands.n_groups);
        }
        let mut left = self.chance.part() * as_float(total);
        for (group, &cost) in costs.iter().enumerate() {
            left -= as_float(cost);
            if left < 0.0 {
                return group;
            }
        }
        costs.len() - 1
    }

    fn take_groups(&mut self, n: usize) {
        for _ in 0..n {
            let group = self.costly_group();
            for strand in 0..self.strands.all.len() {
                if self.strands.all[strand].group == group {
                    self.take(strand, 0, usize::MAX);
                }
            }
        }
    }

    /// A few strands near in time to one of a costly group.
    fn take_strands(&mut self) {
        let n = 1 + self.chance.below(5);
        for (strand, _) in self.near_strands(n) {
            self.take(strand, 0, usize::MAX);
        }
    }

    /// What comes after a moment on a few strands that are at work then.
    fn take_tails(&mut self) {
        let n = 2 + self.chance.below(8);
        for (strand, moment) in self.near_strands(n) {
            let activities = &self.strands.all[strand].activities;
            let is_after = |&index: &usize| self.board.places[index].is_none_or(|place| place.start >= moment);
            let from = activities.iter().position(is_after).unwrap_or(activities.len() - 1);
            self.take(strand, from, usize::MAX);
        }
    }

    /// So many strands at work around a moment of a costly group, with the moment.
    fn near_strands(&mut self, n: usize) -> Vec<(usize, Minute)> {
        let group = self.costly_group();
        let mine: Vec<usize> = (0..self.strands.all.len())
            .filter(|&strand| self.strands.all[strand].group == group)
            .collect();
        let Some(&strand) = mine.get(self.chance.below(mine.len())) else {
            return Vec::new();
        };
        let activities = &self.strands.all[strand].activities;
        let index = activities[self.chance.below(activities.len())];
        let Some(moment) = self.board.places[index].map(|place| place.start) else {
            return vec![(strand, Minute::MIN)];
        };
        let mut others: Vec<(Minute, usize)> = Vec::new();
        for (other, known) in self.strands.all.iter().enumerate() {
            let (Some(&first), Some(&last)) = (known.activities.first(), known.activities.last()) else {
                continue;
            };
            let (Some(first), Some(last)) = (self.board.places[first], self.board.places[last]) else {
                continue;
            };
            let away = (first.start - moment).max(moment - last.end).max(0);
            let by_chance = i64::try_from(self.chance.below(1_440)).unwrap_or(0);
            others.push((if other == strand { -1 } else { away + by_chance }, other));
        }
        others.sort_unstable();
        others.truncate(n);
        others.into_iter().map(|(_, strand)| (strand, moment)).collect()
    }

    /// Everything in a stretch of time, where what comes before and after stays.
    fn take_stretch(&mut self) {
        let group = self.costly_group();
        let mine: Vec<usize> = (0..self.board.places.len())
            .filter(|&index| self.strands.group[index] == group)
            .collect();
        let Some(place) = mine
            .get(self.chance.below(mine.len()))
            .and_then(|&index| self.board.places[index])
        else {
            return;
        };
        let wide = 240 + i64::try_from(self.chance.below(2_880)).unwrap_or(0);
        let (from, to) = (place.start - wide / 2, place.start + wide / 2);
        for strand in 0..self.strands.all.len() {
            let inside =
                |&index: &usize| self.board.places[index].is_some_and(|place| place.start < to && place.end > from);
            let activities = &self.strands.all[strand].activities;
            let (Some(first), Some(last)) = (activities.iter().position(inside), activities.iter().rposition(inside))
            else {
                continue;
            };
            self.take(strand, first, last);
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
                for &next in &self.board.of.next[index] {
                    let Some((strand, place)) = self.strands.of[next] else {
                        continue;
                    };
                    let last = self.strands.all[strand].activities.len() - 1;
                    let known = self
                        .pieces
                        .all
                        .iter()
                        .any(|known| known.strand == strand && known.from <= place);
                    if strand != piece.strand && !known {
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

    /// Pieces of the same strand are joined.
    fn settle_pieces(&mut self) {
        self.pieces.all.sort_unstable();
        self.pieces.all.dedup_by(|next, kept| {
            let same = next.strand == kept.strand;
            if same {
                kept.to = kept.to.max(next.to);
            }
            same
        });
    }
}

#[expect(clippy::cast_precision_loss, reason = "costs are far below 2^53")]
pub(super) fn as_float(value: i64) -> f64 {
    value as f64
}
