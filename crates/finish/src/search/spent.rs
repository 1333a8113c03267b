//! What a path took so far, and when one path is nowhere worse than another.

/// Time, hands, money and breath. Money in thousandths of a minor unit, exposure in thousandths.
///
/// Whole numbers throughout, so that sums do not depend on their order and equal is equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Spent {
    pub(crate) elapsed_min: u32,
    pub(crate) hands_on_min: u32,
    pub(crate) cost: u64,
    pub(crate) materials: u64,
    pub(crate) exposure: u64,
}

impl Spent {
    /// Whether this is nowhere worse than the other.
    pub(crate) const fn is_as_good_as(&self, other: &Spent) -> bool {
        self.elapsed_min <= other.elapsed_min
            && self.hands_on_min <= other.hands_on_min
            && self.cost <= other.cost
            && self.exposure <= other.exposure
    }

    pub(crate) fn add(&mut self, more: &Spent) {
        self.elapsed_min += more.elapsed_min;
        self.hands_on_min += more.hands_on_min;
        self.cost += more.cost;
        self.materials += more.materials;
        self.exposure += more.exposure;
    }
}
