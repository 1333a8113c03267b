//! Readings of a meter as a person types or pastes them.

use colour::light::BANDS;
use colour::{Lab, Light, Spectrum};

/// Why a text is no reading.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{found}; {right}")]
pub struct NotAReading {
    /// What was found.
    pub found: String,
    /// What would be right.
    pub right: &'static str,
}

const LAB_RIGHT: &str = "a reading has three numbers: L 0 to 100, then a and b, such as \"61 -16.3 31.2\"";
const SPECTRUM_RIGHT: &str = "one line for each wavelength from 400 to 700 nm, at most 20 apart, such as \"400, 0.052\"; shares 0 to 1, or all in per cent";

/// Reads `61 -16.3 31.2`, `L 61, a -16.3, b 31.2` or `L=61 a=-16.3 b=31.2`.
///
/// # Errors
/// [`NotAReading`]: not three numbers, or numbers that no surface has.
pub fn read_lab(text: &str) -> Result<Lab, NotAReading> {
    let numbers = numbers_in(text);
    let &[l, a, b] = numbers.as_slice() else {
        return Err(NotAReading {
            found: format!("\"{}\" has {} numbers", shortened(text), numbers.len()),
            right: LAB_RIGHT,
        });
    };
    let lab = Lab::new(l, a, b);
    if !lab.is_plausible() {
        return Err(NotAReading {
            found: format!("L {l}, a {a}, b {b} is a colour that no surface has"),
            right: LAB_RIGHT,
        });
    }
    Ok(lab)
}

/// Reads a pasted spectrum: lines of wavelength in nm and reflectance, or 31 reflectances from 400 to 700 nm. Lines without
/// numbers, such as a heading, are passed over; between wavelengths it is filled in by straight lines.
///
/// # Errors
/// [`NotAReading`]: wavelengths that do not reach from 400 to 700 nm or stand too far apart, or values that are no shares.
pub fn read_spectrum(text: &str) -> Result<Spectrum, NotAReading> {
    let rows: Vec<Vec<f64>> = text.lines().map(numbers_in).filter(|row| !row.is_empty()).collect();
    let refuse = |found: String| NotAReading {
        found,
        right: SPECTRUM_RIGHT,
    };
    let mut points: Vec<(f64, f64)> = if rows.iter().all(|row| row.len() == 2) {
        rows.iter().map(|row| (row[0], row[1])).collect()
    } else {
        let all: Vec<f64> = rows.concat();
        if all.len() != BANDS {
            return Err(refuse(format!(
                "the pasted text has {} numbers in {} lines",
                all.len(),
                rows.len()
            )));
        }
        all.iter()
            .enumerate()
            .map(|(band, value)| (Light::wavelength_nm(band), *value))
            .collect()
    };
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let most = points.iter().map(|point| point.1).fold(0.0, f64::max);
    if most > 1.2 {
        points.iter_mut().for_each(|point| point.1 /= 100.0);
    }
    if let Some((nm, value)) = points.iter().find(|(_, value)| !(0.0..=1.2).contains(value)) {
        return Err(refuse(format!("at {nm} nm the reflectance reads {value}")));
    }
    let reaches = points.first().is_some_and(|p| p.0 <= 400.0) && points.last().is_some_and(|p| p.0 >= 700.0);
    if !reaches {
        return Err(refuse("the wavelengths do not reach from 400 to 700 nm".to_owned()));
    }
    if let Some(pair) = points.windows(2).find(|pair| pair[1].0 - pair[0].0 > 20.0) {
        return Err(refuse(format!(
            "nothing stands between {} and {} nm",
            pair[0].0, pair[1].0
        )));
    }
    let mut bands = [0.0; BANDS];
    for (band, out) in bands.iter_mut().enumerate() {
        *out = between(&points, Light::wavelength_nm(band)).clamp(1e-4, 0.9999);
    }
    Ok(Spectrum(bands))
}

/// The value at a wavelength that the points reach around.
fn between(points: &[(f64, f64)], nm: f64) -> f64 {
    let after = points
        .iter()
        .position(|point| point.0 >= nm)
        .unwrap_or(points.len() - 1);
    let (high, low) = (points[after], points[after.saturating_sub(1)]);
    let step = high.0 - low.0;
    if step <= 0.0 {
        high.1
    } else {
        low.1 + (high.1 - low.1) * (nm - low.0) / step
    }
}

/// The numbers in a text; letters, signs and separators between them do not matter.
fn numbers_in(text: &str) -> Vec<f64> {
    text.replace(['−', '–'], "-")
        .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|word| word.parse::<f64>().ok())
        .filter(|value| value.is_finite())
        .collect()
}

fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_is_taken_however_it_is_punctuated() {
        let want = Lab::new(61.0, -16.3, 31.2);
        for text in ["61 -16.3 31.2", "L 61, a −16.3, b 31.2", "L=61;a=-16.3;b=31.2"] {
            assert_eq!(read_lab(text), Ok(want), "{text}");
        }
    }

    #[test]
    fn what_is_no_reading_is_refused_with_what_would_be() {
        assert!(read_lab("61 -16").unwrap_err().to_string().contains("has 2 numbers"));
        assert!(read_lab("161 0 0").unwrap_err().to_string().contains("no surface has"));
    }

    #[test]
    fn a_flat_spectrum_comes_back_in_per_cent_and_in_shares() {
        let lines = |value: &str| {
            (0..=15)
                .map(|i| format!("{}, {value}\n", 400 + 20 * i))
                .collect::<String>()
        };
        let share = read_spectrum(&format!("nm, R\n{}", lines("0.25"))).unwrap();
        assert_eq!(share, read_spectrum(&lines("25")).unwrap());
        assert!(share.0.iter().all(|value| (value - 0.25).abs() < 1e-12));
    }

    #[test]
    fn between_two_wavelengths_it_is_filled_in_straight() {
        let text: String = (0..=15)
            .map(|i| format!("{} {}\n", 400 + 20 * i, 0.1 + 0.02 * f64::from(i)))
            .collect();
        let spectrum = read_spectrum(&text).unwrap();
        assert!((spectrum.0[1] - 0.11).abs() < 1e-9 && (spectrum.0[30] - 0.4).abs() < 1e-9);
    }

    #[test]
    fn a_spectrum_with_holes_is_refused() {
        let said = |text: &str| read_spectrum(text).unwrap_err().to_string();
        assert!(said("400,0.1\n500,0.2\n700,0.2").contains("between 400 and 500"));
        assert!(said("420,0.1\n440,0.1").contains("do not reach"));
        assert!(said("0.1 0.2 0.3").contains("3 numbers"));
    }
}
