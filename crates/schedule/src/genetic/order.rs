//! From priorities to an order that keeps what comes before what.

use super::Breeding;
use crate::number::small;
use crate::project::Net;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

impl Breeding<'_> {
    /// Activities by key, the lowest first, but none before what it comes after.
    pub(super) fn in_order(&mut self, net: &Net) -> Vec<u32> {
        let n = self.passes.of.n;
        let mut order = Vec::with_capacity(n);
        let mut heap = BinaryHeap::with_capacity(n);
        for at in 0..n {
            self.waiting[at] = small(net.before[at].len());
            if self.waiting[at] == 0 {
                heap.push(Reverse((self.keys[at], small(at))));
            }
        }
        while let Some(Reverse((_, at))) = heap.pop() {
            order.push(at);
            for &(to, _) in &net.after[at as usize] {
                self.waiting[to as usize] -= 1;
                if self.waiting[to as usize] == 0 {
                    heap.push(Reverse((self.keys[to as usize], to)));
                }
            }
        }
        order
    }
}
