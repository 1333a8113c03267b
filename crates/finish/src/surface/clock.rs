//! What runs by itself after a step: drying, setting, dwelling.

/// A process that runs by itself: how long it needs and how long it has had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(crate) struct Clock {
    pub(crate) need_min: u32,
    pub(crate) age_min: u32,
}

impl Clock {
    pub(crate) const fn start(need_min: u32) -> Self {
        Self { need_min, age_min: 0 }
    }

    pub(crate) const fn is_over(self) -> bool {
        self.age_min >= self.need_min
    }

    pub(super) const fn pass(&mut self, time_min: u32) {
        self.age_min = self.age_min.saturating_add(time_min);
    }

    /// The same clock as far as the rules can tell: over, or not.
    pub(super) const fn settled(self) -> Self {
        if self.is_over() {
            Self {
                need_min: 0,
                age_min: 0,
            }
        } else {
            self
        }
    }
}
