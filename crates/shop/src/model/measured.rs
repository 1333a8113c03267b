//! How a dimension was measured, and so how sure it is.
//!
//! A person says how sure a length is as *give or take*: in nine cases of ten the true one lies within it. The take-off
//! reckons with the standard error, so this is where the one becomes the other.

use std::collections::BTreeMap;

use quantity::{Length, UnitSystem};
use serde::{Deserialize, Serialize};
use takeoff::{Dimension, HowKnown};

/// Ninety of a hundred normal errors are smaller than this many standard errors.
pub const NINETY: f64 = 1.644_853_627;

/// By what a length is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Means {
    /// Read from a tape.
    #[default]
    Tape,
    /// Measured on a photograph, which states its error.
    Photograph,
    /// Read off a scan.
    Scan,
    /// Judged by eye.
    Eye,
    /// Guessed from what such a piece usually has.
    Guess,
}

impl Means {
    /// Each with its word.
    pub const WORDS: [(&'static str, Means); 5] = [
        ("tape", Means::Tape),
        ("photograph", Means::Photograph),
        ("scan", Means::Scan),
        ("eye", Means::Eye),
        ("guess", Means::Guess),
    ];

    /// In words, after a length.
    pub fn words(self) -> &'static str {
        match self {
            Means::Tape => "from the tape",
            Means::Photograph => "from a photograph",
            Means::Scan => "from a scan",
            Means::Eye => "by eye",
            Means::Guess => "a guess",
        }
    }

    fn known(self) -> HowKnown {
        match self {
            Means::Tape => HowKnown::Taped,
            Means::Photograph | Means::Scan => HowKnown::Photographed,
            Means::Eye => HowKnown::ByEye,
            Means::Guess => HowKnown::Assumed,
        }
    }
}

/// How a length was measured.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct HowMeasured {
    /// By what.
    pub means: Means,
    /// One standard deviation of what the true length may be; `None` for what such a means usually has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standard_error: Option<Length>,
}

impl HowMeasured {
    /// By this means, as sure as it usually is.
    pub const fn by(means: Means) -> Self {
        HowMeasured {
            means,
            standard_error: None,
        }
    }

    /// By this means, with a standard error of its own.
    pub const fn with_error(means: Means, standard_error: Length) -> Self {
        HowMeasured {
            means,
            standard_error: Some(standard_error),
        }
    }

    /// By this means, true within so much in nine cases of ten.
    pub fn give_or_take(means: Means, within: Length) -> Self {
        HowMeasured::with_error(means, Length::from_m(within.m() / NINETY))
    }

    /// Whether nothing was said of it: a tape, as sure as tapes are.
    pub fn is_plain(&self) -> bool {
        *self == HowMeasured::default()
    }

    /// The length as the take-off reckons with it.
    pub fn dimension(self, length: Length) -> Dimension {
        let usual = match self.means {
            Means::Tape => Dimension::taped(length),
            Means::Photograph | Means::Scan | Means::Eye => Dimension::by_eye(length),
            Means::Guess => Dimension::assumed(length),
        };
        Dimension {
            standard_error: self.standard_error.unwrap_or(usual.standard_error),
            known: self.means.known(),
            ..usual
        }
    }

    /// The half-width within which the true length lies in nine cases of ten.
    pub fn within(self, length: Length) -> Length {
        within_90(self.dimension(length).standard_error)
    }

    /// The length as a person writes it down: `31 1/2"` from the tape, `31 1/2" ± 1/8"` with an error of its own,
    /// `about 31"` by eye.
    pub fn show(self, length: Length, units: UnitSystem) -> String {
        match (self.standard_error, self.means) {
            (Some(error), _) => format!("{} ± {}", length.show(units), show_within(within_90(error), units)),
            (None, Means::Eye | Means::Guess) => format!("about {}", length.show(units)),
            (None, _) => length.show(units),
        }
    }

    /// Reads a length as [`HowMeasured::show`] writes it; `read` reads each single length.
    ///
    /// # Errors
    /// What would be right.
    pub fn parse(text: &str, read: impl Fn(&str) -> Result<Length, String>) -> Result<(Length, Self), String> {
        let text = text.trim();
        if let Some(rest) = text
            .strip_prefix("about ")
            .or_else(|| text.strip_prefix("About "))
            .or_else(|| text.strip_prefix('~'))
        {
            return read(rest).map(|length| (length, HowMeasured::by(Means::Eye)));
        }
        let parts = text.split_once('±').or_else(|| text.split_once("+/-"));
        let Some((length, within)) = parts else {
            return read(text).map(|length| (length, HowMeasured::default()));
        };
        let (length, within) = (read(length)?, read(within)?);
        check_within(length, within)?;
        Ok((length, HowMeasured::give_or_take(Means::Tape, within)))
    }
}

/// Whether a length can be known within so much.
///
/// # Errors
/// What would be right.
pub fn check_within(length: Length, within: Length) -> Result<(), String> {
    if within.m() > 0.0 && within.m() <= length.m() / 2.0 {
        Ok(())
    } else {
        Err(
            "what a length may be off by is more than nothing and at most half of it, such as 31 1/2 in ± 1/8 in"
                .to_owned(),
        )
    }
}

/// The half-width that holds nine cases of ten about this standard error.
pub fn within_90(standard_error: Length) -> Length {
    Length::from_m(standard_error.m() * NINETY)
}

/// A give-or-take: up to the next sixteenth of an inch, or millimetre.
pub fn show_within(within: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => Length::from_inches((within.inches() * 16.0 - 1e-6).ceil().max(1.0) / 16.0).show(units),
        UnitSystem::Metric => format!("{:.0} mm", (within.mm() - 1e-6).ceil().max(1.0)),
    }
}

/// How the three numbers of a form were measured.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct OutlineMeasured {
    /// Left to right.
    pub width: HowMeasured,
    /// Front to back.
    pub depth: HowMeasured,
    /// Floor to top.
    pub height: HowMeasured,
}

impl OutlineMeasured {
    /// Whether all three are plain readings of a tape.
    pub fn is_plain(&self) -> bool {
        *self == OutlineMeasured::default()
    }
}

/// A further dimension that was said, by the take-off's own name of it: `leg thickness`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SaidDimension {
    /// How long.
    pub length: Length,
    /// How it was measured.
    #[serde(default, skip_serializing_if = "HowMeasured::is_plain")]
    pub measured: HowMeasured,
}

/// Further dimensions by name.
pub type Dimensions = BTreeMap<String, SaidDimension>;

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Length, String> {
        Length::parse_in(text, UnitSystem::Imperial).map_err(|refusal| refusal.to_string())
    }

    #[test]
    fn what_is_shown_is_read_again() {
        let length = Length::from_inches(31.5);
        for how in [
            HowMeasured::default(),
            HowMeasured::by(Means::Eye),
            HowMeasured::give_or_take(Means::Tape, Length::from_inches(0.125)),
        ] {
            let shown = how.show(length, UnitSystem::Imperial);
            let (again, how_again) = HowMeasured::parse(&shown, read).unwrap();
            assert!((again.m() - length.m()).abs() < 1e-9, "{shown}");
            assert_eq!(how_again.means, how.means, "{shown}");
            assert!(
                (how_again.within(again).m() - how.within(length).m()).abs() < 1e-9,
                "{shown}"
            );
        }
    }

    #[test]
    fn give_or_take_holds_nine_cases_of_ten_of_the_standard_error() {
        // Of a normal error 90 % lie within 1.645 standard errors.
        let how = HowMeasured::with_error(Means::Photograph, Length::from_mm(2.0));
        assert!((how.within(Length::from_m(1.0)).mm() - 3.29).abs() < 0.01);
        assert_eq!(how.dimension(Length::from_m(1.0)).known, HowKnown::Photographed);
        assert_eq!(how.show(Length::from_m(0.8), UnitSystem::Metric), "80 cm ± 4 mm");
    }

    #[test]
    fn an_error_of_nothing_or_as_long_as_the_thing_is_refused() {
        for text in ["31 ± 0", "31 ± 31", "31 ± ", "± 2"] {
            assert!(HowMeasured::parse(text, read).is_err(), "{text}");
        }
    }
}
