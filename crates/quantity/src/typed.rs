//! What people type, made plain: one spelling of primes, fractions, spaces and dashes, and numbers read from it.
//!
//! Nothing here knows a unit. A comma may be a decimal comma or a thousands separator; where it could be either the
//! number is refused, because guessing wrong is a factor of a thousand.

use std::ops::RangeInclusive;

/// The longest entry that is looked at; what is longer is no quantity.
pub(crate) const LONGEST: usize = 80;

const VULGAR: [(char, &str); 18] = [
    ('½', "1/2"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
    ('⅗', "3/5"),
    ('⅘', "4/5"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
    ('⅐', "1/7"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅑', "1/9"),
    ('⅒', "1/10"),
];

const SUPERSCRIPT: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const SUBSCRIPT: &str = "₀₁₂₃₄₅₆₇₈₉";

/// The entry in lower case with one spelling for each mark: `'` and `"` for primes and quotes, `-` for dashes, `/` for
/// fraction bars and “per”, `u` for micro, single spaces and none around `/`. Fraction signs become digits.
pub(crate) fn plain(typed: &str) -> String {
    let mut text = String::with_capacity(typed.len() + 8);
    let mut after_superscript = false;
    for c in typed.chars().flat_map(char::to_lowercase) {
        let after_digit = text.ends_with(|last: char| last.is_ascii_digit());
        let raised = digit_in(SUPERSCRIPT, c);
        if let Some((_, fraction)) = VULGAR.iter().find(|(sign, _)| *sign == c) {
            if after_digit {
                text.push(' ');
            }
            text.push_str(fraction);
        } else if let Some(digit) = raised {
            if after_digit && !after_superscript {
                text.push(' ');
            }
            text.push(digit);
        } else if let Some(digit) = digit_in(SUBSCRIPT, c) {
            text.push(digit);
        } else {
            push_mark(&mut text, c);
        }
        after_superscript = raised.is_some();
    }
    let text = text.replace("''", "\"").replace(" per ", "/");
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace(" /", "/")
        .replace("/ ", "/")
}

fn digit_in(digits: &str, c: char) -> Option<char> {
    digits
        .chars()
        .zip('0'..='9')
        .find(|(sign, _)| *sign == c)
        .map(|(_, digit)| digit)
}

fn push_mark(text: &mut String, c: char) {
    match c {
        '′' | '’' | '‘' | 'ʹ' | 'ʼ' | '´' | '`' => text.push('\''),
        '″' | '”' | '“' | '„' | 'ʺ' => text.push('"'),
        '−' | '–' | '—' | '‐' | '‑' => text.push('-'),
        '⁄' | '∕' => text.push('/'),
        'º' | '˚' => text.push('°'),
        '℃' => text.push_str("°c"),
        '℉' => text.push_str("°f"),
        'µ' | 'μ' => text.push('u'),
        c if c.is_whitespace() => text.push(' '),
        c => text.push(c),
    }
}

/// What a comma with exactly three digits behind it is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LoneComma {
    /// It could be either, so it is refused.
    Refused,
    /// A separator of thousands, where three decimals cannot be meant.
    Thousands,
}

/// The digits before and after the decimal mark of a number written with `.` or `,`.
pub(crate) fn decimal_digits(text: &str, lone_comma: LoneComma) -> Result<(String, String), String> {
    let malformed = || format!("has a number that cannot be read: {text}");
    let commas = text.matches(',').count();
    let dots = text.matches('.').count();
    let mark = match (commas, dots) {
        (0, 0) => None,
        (0, 1) => Some('.'),
        (1, 0) if !looks_like_thousands(text) => Some(','),
        (1, 0) if lone_comma == LoneComma::Refused => {
            return Err(format!(
                "could mean {} or {}",
                text.replace(',', ""),
                text.replace(',', ".")
            ));
        }
        (_, 0) | (0, _) => None,
        (_, 1) if text.rfind('.') > text.rfind(',') => Some('.'),
        (1, _) if text.rfind(',') > text.rfind('.') => Some(','),
        _ => return Err(malformed()),
    };
    let (whole, fraction) = match mark {
        Some(mark) => text.rsplit_once(mark).unwrap_or((text, "")),
        None => (text, ""),
    };
    let groups: Vec<&str> = whole.split([',', '.']).collect();
    let grouped =
        groups.len() == 1 || (groups[1..].iter().all(|group| group.len() == 3) && (1..=3).contains(&groups[0].len()));
    let comma_ends = mark == Some(',') && (whole.is_empty() || fraction.is_empty());
    if !grouped || comma_ends || (whole.is_empty() && fraction.is_empty()) {
        return Err(malformed());
    }
    let whole = groups.concat();
    if whole.len() + fraction.len() > 15 {
        return Err("has more digits than anything measured".to_owned());
    }
    Ok((whole, fraction.to_owned()))
}

fn looks_like_thousands(text: &str) -> bool {
    const BEFORE: RangeInclusive<usize> = 1..=3;
    text.split_once(',')
        .is_some_and(|(before, after)| after.len() == 3 && BEFORE.contains(&before.len()) && !before.starts_with('0'))
}

/// A place in a plain text, moving forward.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reader<'a> {
    rest: &'a str,
}

impl<'a> Reader<'a> {
    pub(crate) const fn new(text: &'a str) -> Self {
        Self { rest: text }
    }

    pub(crate) const fn rest(&self) -> &'a str {
        self.rest
    }

    pub(crate) const fn is_at_end(&self) -> bool {
        self.rest.is_empty()
    }

    /// Passes over spaces; says whether there were any.
    pub(crate) fn skip_spaces(&mut self) -> bool {
        let trimmed = self.rest.trim_start();
        let moved = trimmed.len() != self.rest.len();
        self.rest = trimmed;
        moved
    }

    /// Passes over `prefix` if it comes next.
    pub(crate) fn take(&mut self, prefix: &str) -> bool {
        match self.rest.strip_prefix(prefix) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn take_while(&mut self, belongs: impl Fn(char) -> bool) -> &'a str {
        let end = self.rest.find(|c| !belongs(c)).unwrap_or(self.rest.len());
        let (taken, rest) = self.rest.split_at(end);
        self.rest = rest;
        taken
    }

    /// Passes over the letters that come next.
    pub(crate) fn word(&mut self) -> &'a str {
        self.take_while(char::is_alphabetic)
    }

    /// A number without sign: `18`, `0.46`, `1,5`, `3/4`, `18 3/4`, `18-3/4`. `None` when no number comes next.
    pub(crate) fn number(&mut self) -> Option<Result<Number, String>> {
        let starts = self.rest.starts_with(|c: char| c.is_ascii_digit())
            || (self.rest.starts_with('.') && self.rest[1..].starts_with(|c: char| c.is_ascii_digit()));
        starts.then(|| self.number_here())
    }

    fn number_here(&mut self) -> Result<Number, String> {
        let first = self.take_while(|c| c.is_ascii_digit() || c == '.' || c == ',');
        if let Some(fraction) = self.fraction_below(first)? {
            return Ok(Number {
                value: fraction,
                whole: false,
            });
        }
        let (whole_digits, decimals) = decimal_digits(first, LoneComma::Refused)?;
        let value: f64 = format!("0{whole_digits}.{decimals}0")
            .parse()
            .map_err(|_| format!("has a number that cannot be read: {first}"))?;
        let mut ahead = *self;
        if decimals.is_empty() && (ahead.take(" ") || ahead.take("-")) {
            let numerator = ahead.take_while(|c| c.is_ascii_digit());
            if let Some(fraction) = ahead.fraction_below(numerator)? {
                if fraction >= 1.0 {
                    return Err("has a fraction of one or more behind a whole number".to_owned());
                }
                *self = ahead;
                return Ok(Number {
                    value: value + fraction,
                    whole: false,
                });
            }
        }
        Ok(Number {
            value,
            whole: decimals.is_empty(),
        })
    }

    /// The fraction whose numerator has just been read, if a bar and digits follow.
    fn fraction_below(&mut self, numerator: &str) -> Result<Option<f64>, String> {
        let mut ahead = *self;
        if !ahead.take("/") {
            return Ok(None);
        }
        let denominator = ahead.take_while(|c| c.is_ascii_digit());
        if denominator.is_empty() {
            return Ok(None);
        }
        let unreadable = || format!("has a fraction that cannot be read: {numerator}/{denominator}");
        let (above, below): (u32, u32) = numerator
            .parse()
            .ok()
            .zip(denominator.parse().ok())
            .ok_or_else(unreadable)?;
        if below == 0 {
            return Err("has a fraction with nothing below the bar".to_owned());
        }
        *self = ahead;
        Ok(Some(f64::from(above) / f64::from(below)))
    }
}

/// A number as read, and whether it was written without fraction or decimals.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Number {
    pub(crate) value: f64,
    pub(crate) whole: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn digits(text: &str) -> Result<(String, String), String> {
        decimal_digits(text, LoneComma::Refused)
    }

    #[test]
    fn signs_of_all_keyboards_become_one() {
        assert_eq!(plain("  18\u{a0}¾″ "), "18 3/4\"");
        assert_eq!(plain("18³⁄₄”"), "18 3/4\"");
        assert_eq!(plain("5’ 6½''"), "5' 6 1/2\"");
        assert_eq!(plain("300 FT² per gal"), "300 ft2/gal");
        assert_eq!(plain("−5 ℃"), "-5 °c");
    }

    #[test]
    fn a_comma_is_a_decimal_mark_unless_three_digits_follow() {
        assert_eq!(digits("1,5"), Ok(("1".into(), "5".into())));
        assert_eq!(digits("0,750"), Ok(("0".into(), "750".into())));
        assert_eq!(digits("1.234,5"), Ok(("1234".into(), "5".into())));
        assert_eq!(digits("1,234.5"), Ok(("1234".into(), "5".into())));
        assert_eq!(digits("1,234,567"), Ok(("1234567".into(), String::new())));
        assert_eq!(digits("3,200"), Err("could mean 3200 or 3.200".into()));
        assert_eq!(
            decimal_digits("3,200", LoneComma::Thousands),
            Ok(("3200".into(), String::new()))
        );
        for malformed in ["1,23,456", "1.2.3", "1,", ",", "1,2,3.4"] {
            assert!(digits(malformed).is_err(), "{malformed}");
        }
    }
}
