//! The sheet of known size that lies on the front.

use super::PhotographRefusal;
use quantity::Length;

/// The shortest and longest side that a stated sheet may have.
const SIDE: (Length, Length) = (Length::from_mm(20.0), Length::from_m(2.5));
/// The most by which one side may exceed the other.
const SLIMMEST: f64 = 6.0;

/// A flat rectangle of known size, either way up.
///
/// # Source
/// `iso-216` (A4), `ansi-y14-1` (Letter), `iso-7810` (the card), all recalled.
///
/// ```
/// use takeoff::photograph::Sheet;
/// assert!((Sheet::Letter.sides().0.inches() - 11.0).abs() < 1e-9);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Sheet {
    /// US Letter paper, 11 by 8 1/2 inches.
    Letter,
    /// A4 paper, 297 by 210 mm.
    A4,
    /// A bank or identity card, 85.60 by 53.98 mm. Its corners are round: tap where its edges would meet.
    Card,
    /// Any other rectangle, by its two sides: between 20 mm and 2.5 m, at most 6 times as long as wide.
    Stated(Length, Length),
}

impl Sheet {
    /// The longer and the shorter side.
    #[must_use]
    pub const fn sides(self) -> (Length, Length) {
        match self {
            Self::Letter => (Length::from_inches(11.0), Length::from_inches(8.5)),
            Self::A4 => (Length::from_mm(297.0), Length::from_mm(210.0)),
            Self::Card => (Length::from_mm(85.60), Length::from_mm(53.98)),
            Self::Stated(a, b) if a.m() < b.m() => (b, a),
            Self::Stated(a, b) => (a, b),
        }
    }

    /// How the sheet is called in a sentence.
    pub(super) fn words(self) -> String {
        match self {
            Self::Letter => "a Letter sheet".to_owned(),
            Self::A4 => "an A4 sheet".to_owned(),
            Self::Card => "a card".to_owned(),
            Self::Stated(..) => {
                let (long, short) = self.sides();
                format!("a sheet of {:.0} by {:.0} mm", long.mm(), short.mm())
            }
        }
    }

    /// The sides in metres, if they are usable.
    pub(super) fn checked_m(self) -> Result<(f64, f64), PhotographRefusal> {
        let (long, short) = self.sides();
        let fits = long.is_finite() && short.is_finite() && short >= SIDE.0 && long <= SIDE.1;
        if fits && long.m() <= SLIMMEST * short.m() {
            Ok((long.m(), short.m()))
        } else {
            Err(PhotographRefusal::SheetSize { long, short })
        }
    }
}
