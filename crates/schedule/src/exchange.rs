//! The best plan so far, seen by all who search for a better one.

use crate::draft::Draft;
use crate::model::Score;
use crate::score::Worth;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

/// What is known so far.
#[derive(Debug, Clone, Default)]
pub(crate) struct Standing {
    /// The best draft, if any; complete ones only.
    pub(crate) best: Option<(Worth, Draft)>,
    /// Another of the same worth, if one was met since it was last asked for.
    pub(crate) like: Option<Draft>,
    /// No plan scores less.
    pub(crate) bound: Score,
    /// The first two levels of the best are the best there is.
    pub(crate) proved: bool,
    /// There is no plan.
    pub(crate) infeasible: bool,
}

/// A standing that several may read and improve.
#[derive(Debug, Default)]
pub(crate) struct Exchange {
    standing: Mutex<Standing>,
    settled: AtomicBool,
}

impl Exchange {
    fn with<T>(&self, act: impl FnOnce(&mut Standing) -> T) -> T {
        // Nobody panics while holding it, and if, what stands there is still whole.
        act(&mut self.standing.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Offers a draft; true if it is the best now.
    pub(crate) fn offer(&self, worth: Worth, draft: &Draft) -> bool {
        self.with(|standing| {
            let better = worth.0 == 0 && standing.best.as_ref().is_none_or(|(known, _)| worth < *known);
            if better {
                standing.best = Some((worth, draft.clone()));
                standing.like = None;
            }
            better
        })
    }

    /// Offers a draft that may be no better than the best, only different.
    pub(crate) fn offer_like(&self, worth: Worth, draft: &Draft) {
        self.with(|standing| {
            if standing.best.as_ref().is_some_and(|(known, _)| worth == *known) {
                standing.like = Some(draft.clone());
            }
        });
    }

    /// Another of the best one's worth, once.
    pub(crate) fn take_like(&self, known: Worth) -> Option<Draft> {
        self.with(|standing| {
            let is_like = standing.best.as_ref().is_some_and(|(worth, _)| *worth == known);
            standing.like.take().filter(|_| is_like)
        })
    }

    /// The best, if it is better than `known`.
    pub(crate) fn better_than(&self, known: Option<Worth>) -> Option<(Worth, Draft)> {
        self.with(|standing| {
            let is_better = |(worth, _): &&(Worth, Draft)| known.is_none_or(|known| *worth < known);
            standing.best.as_ref().filter(is_better).cloned()
        })
    }

    /// The best one's worth.
    pub(crate) fn worth(&self) -> Option<Worth> {
        self.with(|standing| standing.best.as_ref().map(|(worth, _)| *worth))
    }

    /// The bound as far as it is known.
    pub(crate) fn bound(&self) -> Score {
        self.with(|standing| standing.bound)
    }

    /// Raises the bound.
    pub(crate) fn raise_bound(&self, bound: Score) {
        self.with(|standing| {
            standing.bound.weighted = standing.bound.weighted.max(bound.weighted);
            standing.bound.completion = standing.bound.completion.max(bound.completion);
        });
    }

    /// Nothing better exists than the best there is now.
    pub(crate) fn close(&self) {
        self.with(|standing| {
            standing.proved = standing.best.is_some();
            standing.infeasible = standing.best.is_none();
        });
        self.stop();
    }

    /// Takes in what a search that knew nothing of others has found and shown; its best, if it has one.
    pub(crate) fn take_in(&self, own: Self) -> Option<Draft> {
        let is_settled = own.is_settled();
        let standing = own.into_standing();
        self.raise_bound(standing.bound);
        let best = standing.best.map(|(worth, draft)| {
            self.offer(worth, &draft);
            draft
        });
        if is_settled {
            self.close();
        }
        best
    }

    /// No more work is worth while.
    pub(crate) fn stop(&self) {
        self.settled.store(true, Ordering::Relaxed);
    }

    pub(crate) fn is_settled(&self) -> bool {
        self.settled.load(Ordering::Relaxed)
    }

    pub(crate) fn into_standing(self) -> Standing {
        self.standing.into_inner().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::Exchange;
    use crate::draft::Draft;
    use crate::model::{Minute, Score};

    fn score(completion: Minute) -> Score {
        Score {
            completion,
            ..Score::default()
        }
    }

    /// No plan, told from others by what is missing.
    fn draft(missing: usize) -> Draft {
        Draft {
            places: Vec::new(),
            missing,
        }
    }

    #[test]
    fn what_a_search_of_its_own_has_shown_is_taken_in_with_its_best() {
        let exchange = Exchange::default();
        exchange.offer((0, score(9)), &draft(0));
        let own = Exchange::default();
        own.offer((0, score(10)), &draft(1));
        own.raise_bound(score(7));
        assert_eq!(exchange.take_in(own).map(|best| best.missing), Some(1));
        assert_eq!(exchange.worth(), Some((0, score(9))), "the better one stays");
        assert_eq!((exchange.bound(), exchange.is_settled()), (score(7), false));
        let own = Exchange::default();
        own.offer((0, score(8)), &draft(2));
        own.close();
        assert!(exchange.take_in(own).is_some() && exchange.is_settled());
        let standing = exchange.into_standing();
        assert!(standing.proved && standing.best.is_some_and(|(worth, _)| worth.1 == score(8)));
    }

    #[test]
    fn another_of_the_same_worth_is_handed_on_once_and_goes_when_a_better_one_comes() {
        let worth = |completion| (0, score(completion));
        let exchange = Exchange::default();
        assert!(exchange.offer(worth(9), &draft(0)));
        exchange.offer_like(worth(10), &draft(1));
        assert!(
            exchange.take_like(worth(9)).is_none(),
            "a worse one is not like the best"
        );
        exchange.offer_like(worth(9), &draft(2));
        assert!(
            exchange.take_like(worth(10)).is_none(),
            "asked by one who knows a worse one only"
        );
        exchange.offer_like(worth(9), &draft(3));
        assert_eq!(exchange.take_like(worth(9)).map(|like| like.missing), Some(3));
        assert!(exchange.take_like(worth(9)).is_none(), "handed on already");
        exchange.offer_like(worth(9), &draft(4));
        assert!(exchange.offer(worth(8), &draft(0)));
        assert!(exchange.take_like(worth(8)).is_none(), "as good as the best of before");
    }
}
