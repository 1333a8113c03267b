//! Variables by how busy they are: a binary heap whose members can be raised in place.

/// Largest weight on top; ties go to the lower variable.
#[derive(Debug, Default)]
pub(super) struct Heap {
    order: Vec<u32>,
    place: Vec<u32>,
    weight: Vec<f64>,
}

const OUT: u32 = u32::MAX;

impl Heap {
    /// The next variable joins, with no weight.
    pub(super) fn add(&mut self) {
        let var = crate::number::small(self.weight.len());
        self.weight.push(0.0);
        self.place.push(OUT);
        self.insert(var);
    }

    pub(super) fn insert(&mut self, var: u32) {
        if self.place[var as usize] == OUT {
            self.place[var as usize] = crate::number::small(self.order.len());
            self.order.push(var);
            self.up(self.order.len() - 1);
        }
    }

    pub(super) fn pop(&mut self) -> Option<u32> {
        let top = *self.order.first()?;
        let last = self.order.pop()?;
        self.place[top as usize] = OUT;
        if last != top {
            self.order[0] = last;
            self.place[last as usize] = 0;
            self.down(0);
        }
        Some(top)
    }

    pub(super) fn bump(&mut self, var: u32, by: f64) {
        self.weight[var as usize] += by;
        let place = self.place[var as usize];
        if place != OUT {
            self.up(place as usize);
        }
    }

    pub(super) fn rescale(&mut self, by: f64) {
        self.weight.iter_mut().for_each(|weight| *weight *= by);
    }

    fn before(&self, a: u32, b: u32) -> bool {
        let (x, y) = (self.weight[a as usize], self.weight[b as usize]);
        x > y || (x >= y && a < b)
    }

    fn up(&mut self, mut at: usize) {
        while at > 0 && self.before(self.order[at], self.order[(at - 1) / 2]) {
            self.swap(at, (at - 1) / 2);
            at = (at - 1) / 2;
        }
    }

    fn down(&mut self, mut at: usize) {
        loop {
            let mut best = at;
            for child in [2 * at + 1, 2 * at + 2] {
                if child < self.order.len() && self.before(self.order[child], self.order[best]) {
                    best = child;
                }
            }
            if best == at {
                return;
            }
            self.swap(at, best);
            at = best;
        }
    }

    fn swap(&mut self, a: usize, b: usize) {
        self.order.swap(a, b);
        self.place[self.order[a] as usize] = crate::number::small(a);
        self.place[self.order[b] as usize] = crate::number::small(b);
    }
}

#[cfg(test)]
mod tests {
    use super::Heap;

    #[test]
    fn the_busiest_comes_first() {
        let mut heap = Heap::default();
        (0..5).for_each(|_| heap.add());
        heap.bump(3, 2.0);
        heap.bump(1, 1.0);
        heap.bump(1, 0.5);
        assert_eq!(
            (0..5).map(|_| heap.pop()).collect::<Vec<_>>(),
            [3, 1, 0, 2, 4].map(Some).to_vec()
        );
        assert_eq!(heap.pop(), None);
    }
}
