//! An address as a QR code, for a phone to read: drawn on a page, and in the letters of a terminal.

use std::fmt::Write;

use qrcodegen::{QrCode, QrCodeEcc};

/// Light modules around the code, as the standard asks for (ISO/IEC 18004: four).
const QUIET: i32 = 4;

/// A text as a QR code; `None` where it is too long for one.
pub struct Qr(QrCode);

impl Qr {
    /// The code of a text.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        QrCode::encode_text(text, QrCodeEcc::Medium).ok().map(Qr)
    }

    /// Modules on each side, the quiet zone included.
    fn side(&self) -> i32 {
        self.0.size() + 2 * QUIET
    }

    fn is_dark(&self, x: i32, y: i32) -> bool {
        self.0.get_module(x - QUIET, y - QUIET)
    }

    /// Two modules a letter, the upper over the lower: dark is drawn, light is left, as on white paper. A terminal that writes light on
    /// dark needs its colours turned round; see [`Qr::coloured`].
    #[must_use]
    pub fn letters(&self) -> String {
        let mut text = String::new();
        for y in (0..self.side()).step_by(2) {
            for x in 0..self.side() {
                text.push(match (self.is_dark(x, y), self.is_dark(x, y + 1)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                });
            }
            text.push('\n');
        }
        text
    }

    /// The same in black on white, whatever the terminal's own colours are (ECMA-48 SGR 30 and 107).
    #[must_use]
    pub fn coloured(&self) -> String {
        self.letters().lines().fold(String::new(), |mut text, line| {
            let _ = writeln!(text, "\u{1b}[30;107m{line}\u{1b}[0m");
            text
        })
    }

    /// As a drawing for a page, black on white in any light.
    #[must_use]
    pub fn svg(&self, label: &str) -> String {
        let side = self.side();
        let mut path = String::new();
        for y in 0..side {
            for x in (0..side).filter(|x| self.is_dark(*x, y)) {
                let _ = write!(path, "M{x} {y}h1v1h-1z");
            }
        }
        format!(
            r##"<svg class="qr" viewBox="0 0 {side} {side}" width="240" height="240" role="img" aria-label="{}" shape-rendering="crispEdges"><rect width="{side}" height="{side}" fill="#ffffff"/><path d="{path}" fill="#000000"/></svg>"##,
            crate::draw::escape(label)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ADDRESS: &str = "http://192.168.1.5:4180/pair/0123456789abcdef0123456789abcdef";

    /// The modules as the letters show them.
    fn read(letters: &str) -> Vec<Vec<bool>> {
        letters
            .lines()
            .flat_map(|line| {
                let upper = line.chars().map(|letter| matches!(letter, '█' | '▀')).collect();
                let lower = line.chars().map(|letter| matches!(letter, '█' | '▄')).collect();
                [upper, lower]
            })
            .collect()
    }

    #[test]
    fn the_letters_hold_the_three_finder_patterns_in_their_quiet_zone() {
        let qr = Qr::of(ADDRESS).unwrap();
        let modules = read(&qr.letters());
        let side = usize::try_from(qr.side()).unwrap();
        let finder = |left: usize, top: usize| {
            (0..7).all(|y| {
                (0..7).all(|x| {
                    let ring = x.min(6 - x).min(y.min(6 - y));
                    modules[top + y][left + x] == (ring != 1)
                })
            })
        };
        assert!(finder(4, 4) && finder(side - 11, 4) && finder(4, side - 11));
        assert!(
            modules[..4].iter().flatten().all(|dark| !dark),
            "the quiet zone is light"
        );
    }

    #[test]
    fn the_drawing_and_the_letters_show_the_same_modules() {
        let qr = Qr::of(ADDRESS).unwrap();
        let svg = qr.svg("an address");
        for (y, row) in read(&qr.letters()).iter().enumerate() {
            for (x, dark) in row.iter().enumerate() {
                assert_eq!(svg.contains(&format!("M{x} {y}h1")), *dark, "{x}, {y}");
            }
        }
        assert!(qr.coloured().starts_with("\u{1b}[30;107m"));
    }

    #[test]
    fn a_text_too_long_for_a_code_gives_none() {
        assert!(Qr::of(&"x".repeat(3_000)).is_none());
    }
}
