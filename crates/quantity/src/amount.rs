//! Numbers with units: `18 3/4"`, `5' 6 1/2"`, `2 h 30`, `300 ft2/gal`.
//!
//! One grammar for every quantity: parts of a number and a unit, the units falling in size, only the last part with a
//! fraction. The unit of a last part may be left out where everybody leaves it out (`5'6`, `2 h 30`). A bare number
//! takes the unit that the caller says, or is refused.

use crate::typed::{LONGEST, Number, Reader, plain};
use crate::{Refusal, UnitSystem};

/// A unit: its spellings in plain form, its size in the stored unit, and what may follow it.
pub(crate) struct Unit {
    pub(crate) spellings: &'static [&'static str],
    pub(crate) size: f64,
    pub(crate) then: Then,
}

/// What a number without a unit means behind this unit.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Then {
    /// Nothing: it is refused.
    Nothing,
    /// The unit of that spelling, even without a space between.
    Unit(&'static str),
    /// The unit of that spelling, but only behind a space: `5 ft2` is an area.
    UnitAfterSpace(&'static str),
}

/// All that is needed to read one quantity and to refuse what is none.
pub(crate) struct Kind {
    pub(crate) units: &'static [Unit],
    /// For the refusal: “a length in in, ft, mm, cm or m up to 100 m (328 ft)”.
    pub(crate) expected: &'static str,
    /// Examples for imperial and metric, and the spellings of the units a bare number takes.
    pub(crate) example: [&'static str; 2],
    pub(crate) bare: [&'static str; 2],
    /// The limits in the stored unit, both included.
    pub(crate) least: f64,
    pub(crate) most: f64,
}

const fn of_system(pair: [&'static str; 2], units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Imperial => pair[0],
        UnitSystem::Metric => pair[1],
    }
}

impl Kind {
    /// Reads what was typed to the stored unit.
    pub(crate) fn read(&self, typed: &str, bare: Option<UnitSystem>) -> Result<f64, Refusal> {
        self.value(typed, bare)
            .map_err(|problem| self.refuse(typed, problem, bare.unwrap_or_default()))
    }

    pub(crate) fn refuse(&self, typed: &str, problem: String, units: UnitSystem) -> Refusal {
        Refusal::new(typed, problem, self.expected, of_system(self.example, units))
    }

    /// [`Kind::read`] without the wording around the problem.
    pub(crate) fn value(&self, typed: &str, bare: Option<UnitSystem>) -> Result<f64, String> {
        let text = guarded(typed)?;
        if text.starts_with('-') {
            return Err("is below nothing".to_owned());
        }
        let value = self.parts(&text, bare)?;
        self.within(value)
    }

    /// Refuses what lies outside the limits.
    pub(crate) fn within(&self, value: f64) -> Result<f64, String> {
        if value > self.most {
            Err("is more than anything this is meant for".to_owned())
        } else if value < self.least {
            Err(if value == 0.0 {
                "is nothing"
            } else {
                "is less than anything this is meant for"
            }
            .to_owned())
        } else {
            Ok(value)
        }
    }

    fn unit(&self, spelling: &str) -> Option<&'static Unit> {
        self.units.iter().find(|unit| unit.spellings.contains(&spelling))
    }

    fn parts(&self, text: &str, bare: Option<UnitSystem>) -> Result<f64, String> {
        let mut reader = Reader::new(text);
        let mut sum = 0.0;
        let mut before: Option<&'static Unit> = None;
        loop {
            let spaced = reader.skip_spaces();
            if reader.is_at_end() {
                return if before.is_some() {
                    Ok(sum)
                } else {
                    Err("has no number in it".to_owned())
                };
            }
            let number = reader.number().ok_or_else(|| unexpected(&reader, before.is_some()))??;
            reader.skip_spaces();
            let unit = match (self.take_unit(&mut reader)?, before) {
                (Some(unit), _) => unit,
                (None, Some(before)) => self.elided(before, spaced)?,
                (None, None) => bare
                    .and_then(|units| self.unit(of_system(self.bare, units)))
                    .ok_or_else(|| "has no unit".to_owned())?,
            };
            if let Some(before) = before {
                smaller_part(number, unit, before)?;
            }
            if !number.whole && !reader.is_at_end() {
                let mut ahead = reader;
                ahead.skip_spaces();
                if ahead.number().is_some() {
                    return Err("has a fraction before its last part".to_owned());
                }
            }
            sum += number.value * unit.size;
            before = Some(unit);
        }
    }

    /// The longest spelling that comes next, or none where a number or the end comes. Anything else is an unknown unit.
    fn take_unit(&self, reader: &mut Reader<'_>) -> Result<Option<&'static Unit>, String> {
        let longest = self
            .units
            .iter()
            .flat_map(|unit| unit.spellings.iter().map(move |spelling| (unit, *spelling)))
            .filter(|(_, spelling)| {
                reader.rest().strip_prefix(spelling).is_some_and(|rest| {
                    let letters = spelling.ends_with(char::is_alphabetic);
                    let digits = spelling.ends_with(|c: char| c.is_ascii_digit());
                    !(rest.starts_with(char::is_alphabetic) && (letters || digits)
                        || rest.starts_with(|c: char| c.is_ascii_digit()) && digits)
                })
            })
            .max_by_key(|(_, spelling)| spelling.len());
        if let Some((unit, spelling)) = longest {
            reader.take(spelling);
            if spelling.ends_with(char::is_alphabetic) {
                reader.take(".");
            }
            return Ok(Some(unit));
        }
        let mut ahead = *reader;
        if ahead.is_at_end() || ahead.number().is_some() {
            return Ok(None);
        }
        Err(unexpected(reader, true))
    }

    fn elided(&self, before: &Unit, spaced: bool) -> Result<&'static Unit, String> {
        let spelling = match before.then {
            Then::Unit(spelling) => Some(spelling),
            Then::UnitAfterSpace(spelling) if spaced => Some(spelling),
            _ => None,
        };
        spelling
            .and_then(|spelling| self.unit(spelling))
            .ok_or_else(|| "ends in a number without a unit".to_owned())
    }
}

/// The plain form of an entry that is worth reading.
pub(crate) fn guarded(typed: &str) -> Result<String, String> {
    if typed.chars().count() > LONGEST {
        return Err(format!("is longer than the {LONGEST} signs that are read"));
    }
    let text = plain(typed);
    if text.is_empty() {
        Err("is empty".to_owned())
    } else {
        Ok(text)
    }
}

fn smaller_part(number: Number, unit: &Unit, before: &Unit) -> Result<(), String> {
    if unit.size >= before.size {
        return Err(format!(
            "has {} behind {}, which is not larger",
            unit.spellings[0], before.spellings[0]
        ));
    }
    let most = before.size / unit.size;
    if number.value >= most * (1.0 - 1e-12) {
        return Err(format!(
            "has {} {} where fewer than {most:.0} make the next unit up",
            number.value, unit.spellings[0]
        ));
    }
    Ok(())
}

/// What to say of something that is neither number nor unit.
fn unexpected(reader: &Reader<'_>, unit_wanted: bool) -> String {
    let mut ahead = *reader;
    let word = ahead.word();
    match (word.is_empty(), unit_wanted) {
        (false, true) => format!("has an unknown unit, {word}"),
        (false, false) => "does not start with a number".to_owned(),
        (true, _) => {
            let sign: String = reader.rest().chars().take(1).collect();
            format!("has a sign that does not belong there: {sign}")
        }
    }
}
