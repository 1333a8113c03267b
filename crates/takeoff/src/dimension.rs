//! One length of a piece and how sure it is.
//!
//! A take-off is only as good as the tape that went into it. Every length of a form therefore carries its standard
//! error, and the area's own error follows from these (see [`crate::take_off`]).

use quantity::Length;
use serde::{Deserialize, Serialize};

/// Standard error of a length read from a tape, in metres (common practice: a line or two of a worn steel tape).
const TAPE_SE_M: f64 = 0.002;
/// Standard error, as a share, of a length judged by eye beside something known (common practice).
const BY_EYE_SHARE: f64 = 0.05;
/// Standard error, as a share, of a length nobody gave: the usual size for such a piece (common practice).
const ASSUMED_SHARE: f64 = 0.20;

/// A length with its standard error.
///
/// ```
/// use quantity::Length;
/// use takeoff::Dimension;
/// let width = Dimension::taped(Length::from_inches(42.0));
/// assert!((width.standard_error.mm() - 2.0).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Dimension {
    /// The length itself.
    pub length: Length,
    /// One standard deviation of what the true length may be around it.
    pub standard_error: Length,
    /// Where the length comes from.
    pub known: HowKnown,
}

/// Where a length comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HowKnown {
    /// Read from a tape.
    Taped,
    /// Judged by eye.
    ByEye,
    /// Measured on a photograph.
    Photographed,
    /// Not given: what such a piece usually has.
    Assumed,
}

impl Dimension {
    /// A length read from a tape: 2 mm.
    #[must_use]
    pub const fn taped(length: Length) -> Self {
        Self {
            length,
            standard_error: Length::from_m(TAPE_SE_M),
            known: HowKnown::Taped,
        }
    }

    /// A length judged by eye: 5 %.
    #[must_use]
    pub fn by_eye(length: Length) -> Self {
        Self {
            length,
            standard_error: length * BY_EYE_SHARE,
            known: HowKnown::ByEye,
        }
    }

    /// A length taken from a photograph, with the error that the measurement stated.
    #[must_use]
    pub const fn photographed(length: Length, standard_error: Length) -> Self {
        Self {
            length,
            standard_error,
            known: HowKnown::Photographed,
        }
    }

    /// A length nobody gave: 20 %.
    #[must_use]
    pub fn assumed(length: Length) -> Self {
        Self {
            length,
            standard_error: length * ASSUMED_SHARE,
            known: HowKnown::Assumed,
        }
    }

    /// The length in metres as the model builders use it: what is no number or below nothing becomes nothing.
    pub(crate) fn m(self) -> f64 {
        let m = self.length.m();
        if m.is_finite() { m.clamp(0.0, 50.0) } else { 0.0 }
    }

    /// The same with another length, for the numerical derivative.
    pub(crate) fn moved(self, by_m: f64) -> Self {
        Self {
            length: Length::from_m(self.length.m() + by_m),
            ..self
        }
    }
}

/// An assumed length given in millimetres; the builders' short form.
pub(crate) fn assumed_mm(mm: f64) -> Dimension {
    Dimension::assumed(Length::from_mm(mm))
}
