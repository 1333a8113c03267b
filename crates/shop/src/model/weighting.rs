//! What the shop leans to when several good schedules lie before it.

use serde::{Deserialize, Serialize};

/// What the default choice among nondominated schedules leans to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prefer {
    /// A bit of everything: bench hours at the shop's wage and materials together, then wear, days and what is breathed.
    #[default]
    Balanced,
    /// The least spent on materials.
    Cost,
    /// The least time at the bench.
    Hands,
    /// The earliest end.
    Soon,
    /// What bears most.
    Wear,
    /// What harms the worker least.
    Health,
}

impl Prefer {
    /// Each with its word.
    pub const WORDS: [(&'static str, Prefer); 6] = [
        ("balanced", Prefer::Balanced),
        ("cost", Prefer::Cost),
        ("hands", Prefer::Hands),
        ("soon", Prefer::Soon),
        ("wear", Prefer::Wear),
        ("health", Prefer::Health),
    ];
}
