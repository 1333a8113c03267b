//! What is kept of a plan so that it can be made again after the program was ended, and stand as it stood.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::{Plan, PreviousStarts};
use crate::model::Shop;

/// Where the steps of a plan stood, when it was made, and of which shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeptPlan {
    /// The moment it was made at.
    pub made_at: Timestamp,
    /// Where its steps stand.
    pub starts: PreviousStarts,
    /// A print of the shop that it was made of: another shop has another one.
    print: String,
}

impl KeptPlan {
    /// What is to be kept of a plan of this shop, made at this moment.
    pub fn of(plan: &Plan, shop: &Shop, made_at: Timestamp) -> Self {
        KeptPlan {
            made_at,
            starts: PreviousStarts::of(plan),
            print: print_of(shop),
        }
    }

    /// Whether it was made of this very shop, so that nothing was changed since.
    pub fn is_of(&self, shop: &Shop) -> bool {
        self.print == print_of(shop)
    }
}

/// Sixty-four bits of the shop's own JSON (FNV-1a), as text: it only tells one's own states apart, and keeps no secret.
fn print_of(shop: &Shop) -> String {
    let bytes = serde_json::to_vec(shop).unwrap_or_default();
    let print = bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |print, byte| {
        (print ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{print:016x}")
}
