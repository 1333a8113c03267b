//! How a command ended: its exit status and what it says.

/// A plan was made, or a question answered.
pub const ANSWERED: u8 = 0;
/// The input is wrong; nothing was written.
pub const REFUSED: u8 = 2;
/// The input is sound, and no schedule exists for it; nothing was written.
pub const NO_SCHEDULE: u8 = 3;

/// How a command ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// Exit status: [`ANSWERED`], [`REFUSED`] or [`NO_SCHEDULE`].
    pub status: u8,
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
}

impl Outcome {
    /// All went well, and this is the answer.
    pub fn answered(out: impl Into<String>) -> Self {
        Outcome {
            status: ANSWERED,
            out: out.into(),
            err: String::new(),
        }
    }

    /// The input is wrong, for this reason.
    pub fn refused(err: impl Into<String>) -> Self {
        Outcome {
            status: REFUSED,
            out: String::new(),
            err: err.into(),
        }
    }

    /// There is no schedule, for this reason.
    pub fn no_schedule(err: impl Into<String>) -> Self {
        Outcome {
            status: NO_SCHEDULE,
            out: String::new(),
            err: err.into(),
        }
    }
}
