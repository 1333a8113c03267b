//! Why an amount cannot be worked out, in words for the person who gave the figures.

use quantity::MoneyOverflow;

/// What was asked for cannot be reckoned; says the limit and what would be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refused {
    /// An amount that does not fit.
    #[error(transparent)]
    TooLarge(#[from] MoneyOverflow),
    /// A margin that leaves nothing for the cost.
    #[error("a margin of {percent} % leaves nothing of the price for the cost; take less than 100 %, for example 40 %")]
    MarginTooHigh {
        /// The margin asked for.
        percent: f64,
    },
    /// An amount, a time or a quantity below nothing.
    #[error("{what} is below nothing; give zero or more")]
    BelowNothing {
        /// What it was, as a noun with its article.
        what: &'static str,
    },
    /// A divisor that is zero or no number: the size of a can, the life of a machine.
    #[error("{what} is nothing, and nothing can be shared out over it; give more than zero")]
    Nothing {
        /// What it was, as a noun with its article.
        what: &'static str,
    },
    /// A spread that is negative, endless or no number.
    #[error(
        "an uncertainty of {log_sd} cannot be reckoned with; give between 0 and 3 (0.2 is about a fifth either way)"
    )]
    Uncertainty {
        /// The standard deviation of the logarithm that was given.
        log_sd: f64,
    },
    /// A chance that is none.
    #[error("a chance of {chance} cannot be reckoned with; give more than 0 and less than 1, for example 0.1")]
    Chance {
        /// The chance that was given.
        chance: f64,
    },
    /// A material that no shop in the list sells.
    #[error("no shop on the list sells {material}; add a can size with its price")]
    NotSold {
        /// The material as the caller names it.
        material: String,
    },
    /// A quantity beyond reason.
    #[error("{what} is more than {most}, the most that is reckoned with; check the unit")]
    TooMuch {
        /// What it was, as a noun with its article.
        what: &'static str,
        /// The limit with its unit.
        most: &'static str,
    },
    /// An offer of a shop that is not in the list.
    #[error("an offer of {material} names shop number {shop}, which is not on the list of shops; add the shop")]
    UnknownShop {
        /// The material as the caller names it.
        material: String,
        /// The place in the list that was named.
        shop: usize,
    },
    /// More shops with a cost of their own than can be compared exactly.
    #[error("{count} shops each cost a trip or a delivery; up to {most} can be compared, so leave some out")]
    TooManyShops {
        /// How many there were.
        count: usize,
        /// The most that are compared.
        most: usize,
    },
    /// A figure bound to a year that is not at hand, or only from memory.
    #[error("{figure} for {year} is not at hand; look it up at {ask}")]
    AskTheSource {
        /// The figure by its name.
        figure: &'static str,
        /// The year it is for.
        year: u16,
        /// Who publishes it.
        ask: &'static str,
    },
}
