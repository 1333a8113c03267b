//! Whoever generates schedules: breeding for plain projects, mending for plans that are followed, weaving for what hands
//! do, and a walk over orders for all others.

use crate::bred::Bred;
use crate::compiled::Compiled;
use crate::exchange::Exchange;
use crate::mend::Mender;
use crate::project::Project;
use crate::search::Search;
use crate::solve::{is_mended, is_woven};
use crate::weave::Weaver;

/// Ways of repairing a plan after a slip that are tried before it is mended.
const REPAIRS: u64 = 4;

/// Whoever generates schedules.
pub(crate) enum Maker<'a> {
    Breeding(Box<Bred<'a>>),
    Search(Box<Search<'a>>),
    /// The weaver is made once it is needed.
    Weaver(Box<Search<'a>>, Option<Box<Weaver<'a>>>, &'a Compiled<'a>, u64),
    Mender(Box<Search<'a>>, Box<Mender<'a>>),
}

impl<'a> Maker<'a> {
    pub(crate) fn new(of: &'a Compiled<'a>, project: Option<&'a Project>, seed: u64) -> Self {
        match project {
            Some(project) => Self::Breeding(Box::new(Bred::new(of, project, &[], u64::MAX, seed))),
            None if is_mended(of) => Self::Mender(Box::new(Search::new(of, seed)), Box::new(Mender::new(of, seed))),
            None if !is_woven(of) => Self::Search(Box::new(Search::new(of, seed))),
            None => Self::Weaver(Box::new(Search::new(of, seed)), None, of, seed),
        }
    }

    pub(crate) fn made(&self) -> u64 {
        match self {
            Self::Breeding(bred) => bred.made(),
            Self::Search(search) => search.made(),
            Self::Weaver(search, weaver, ..) => search.made() + weaver.as_ref().map_or(0, |weaver| weaver.made()),
            Self::Mender(search, mender) => search.made() + mender.made(),
        }
    }

    pub(crate) fn advance(&mut self, until: u64, exchange: &Exchange, is_over: &dyn Fn() -> bool) {
        match self {
            Self::Search(search) => search.advance(until, exchange, is_over),
            Self::Weaver(search, weaver, of, seed) => {
                if search.made() < 4 {
                    search.advance(until.min(4), exchange, is_over);
                    if let Some(weaver) = weaver {
                        weaver.start_from(search.best());
                    }
                }
                let left = until.saturating_sub(search.made());
                if left > 0 {
                    let weaver = weaver.get_or_insert_with(|| {
                        let mut weaver = Box::new(Weaver::new(of, *seed));
                        weaver.start_from(search.best());
                        weaver
                    });
                    weaver.advance(left, exchange, is_over);
                }
            }
            Self::Mender(search, mender) => {
                if search.made() < REPAIRS {
                    search.advance(until.min(REPAIRS), exchange, is_over);
                    mender.start_from(search.best());
                }
                mender.advance(until.saturating_sub(search.made()), exchange, is_over);
                // What cannot be mended into a whole plan is laid out in other orders.
                if exchange.worth().is_none() {
                    search.advance(until.saturating_sub(mender.made()), exchange, is_over);
                }
            }
            Self::Breeding(bred) => bred.advance(until, exchange, is_over),
        }
    }
}
