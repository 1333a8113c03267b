//! Grit: the P grades of coated abrasives, by the size of their grain.

use std::fmt;

use crate::abrasives::{self, GritRow};
use crate::word::{self, UnknownWord};

/// A P grade. Ordered from coarse to fine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "a grade's name says all there is to say")]
pub enum Grit {
    P12,
    P16,
    P20,
    P24,
    P30,
    P36,
    P40,
    P50,
    P60,
    P80,
    P100,
    P120,
    P150,
    P180,
    P220,
    P240,
    P280,
    P320,
    P360,
    P400,
    P500,
    P600,
    P800,
    P1000,
    P1200,
    P1500,
    P2000,
    P2500,
}

impl Grit {
    /// Every grade, coarse to fine.
    pub const EVERY: &'static [Grit] = &[
        Grit::P12,
        Grit::P16,
        Grit::P20,
        Grit::P24,
        Grit::P30,
        Grit::P36,
        Grit::P40,
        Grit::P50,
        Grit::P60,
        Grit::P80,
        Grit::P100,
        Grit::P120,
        Grit::P150,
        Grit::P180,
        Grit::P220,
        Grit::P240,
        Grit::P280,
        Grit::P320,
        Grit::P360,
        Grit::P400,
        Grit::P500,
        Grit::P600,
        Grit::P800,
        Grit::P1000,
        Grit::P1200,
        Grit::P1500,
        Grit::P2000,
        Grit::P2500,
    ];

    /// The grade as it is printed on the sheet: `P220`.
    pub const fn id(self) -> &'static str {
        match self {
            Grit::P12 => "P12",
            Grit::P16 => "P16",
            Grit::P20 => "P20",
            Grit::P24 => "P24",
            Grit::P30 => "P30",
            Grit::P36 => "P36",
            Grit::P40 => "P40",
            Grit::P50 => "P50",
            Grit::P60 => "P60",
            Grit::P80 => "P80",
            Grit::P100 => "P100",
            Grit::P120 => "P120",
            Grit::P150 => "P150",
            Grit::P180 => "P180",
            Grit::P220 => "P220",
            Grit::P240 => "P240",
            Grit::P280 => "P280",
            Grit::P320 => "P320",
            Grit::P360 => "P360",
            Grit::P400 => "P400",
            Grit::P500 => "P500",
            Grit::P600 => "P600",
            Grit::P800 => "P800",
            Grit::P1000 => "P1000",
            Grit::P1200 => "P1200",
            Grit::P1500 => "P1500",
            Grit::P2000 => "P2000",
            Grit::P2500 => "P2500",
        }
    }

    /// The row of the abrasive table.
    pub fn row(self) -> &'static GritRow {
        &abrasives::grits()[self as usize]
    }

    /// Mean size of the grain in micrometres, 1815 (P12) to 8.4 (P2500).
    pub fn particle_um(self) -> f64 {
        self.row().particle_um
    }

    /// How many times coarser this grade's grain is than that of `finer`; below 1 if `finer` is the coarser of the two.
    ///
    /// # Examples
    /// ```
    /// use trade::Grit;
    /// // FEPA sizes 125 and 82 µm.
    /// assert!((Grit::P120.ratio_to(Grit::P180) - 1.52).abs() < 0.01);
    /// ```
    pub fn ratio_to(self, finer: Grit) -> f64 {
        self.particle_um() / finer.particle_um()
    }

    /// Reads `P220`, `p220`, `220`, `#220`, `220 grit`.
    ///
    /// # Errors
    /// [`UnknownWord`] with the nearest grades; for a number between two grades, those nearest by number.
    pub fn parse(typed: &str) -> Result<Self, UnknownWord> {
        let word = word::normalise(typed);
        let bare = word
            .trim_end_matches("grit")
            .trim_end_matches('-')
            .trim_start_matches("grit-");
        let number = bare.trim_start_matches(['p', '#']).trim_start_matches('-');
        if let Some(grit) = Self::EVERY.iter().copied().find(|grit| &grit.id()[1..] == number) {
            return Ok(grit);
        }
        let mut refused = word::refuse("grit", typed, Self::EVERY.iter().map(|grit| (grit.id(), grit.id())));
        if let Ok(wanted) = number.parse::<u32>() {
            let mut near: Vec<(u32, &'static str)> = Self::EVERY
                .iter()
                .filter_map(|grit| {
                    grit.id()[1..]
                        .parse::<u32>()
                        .ok()
                        .map(|n| (n.abs_diff(wanted), grit.id()))
                })
                .collect();
            near.sort_by_key(|(distance, _)| *distance);
            refused.nearest = near.into_iter().take(2).map(|(_, id)| id).collect();
        }
        Err(refused)
    }
}

impl fmt::Display for Grit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

impl std::str::FromStr for Grit {
    type Err = UnknownWord;

    fn from_str(typed: &str) -> Result<Self, Self::Err> {
        Self::parse(typed)
    }
}

impl serde::Serialize for Grit {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.id())
    }
}

impl<'de> serde::Deserialize<'de> for Grit {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let typed = <std::borrow::Cow<'de, str> as serde::Deserialize<'de>>::deserialize(deserializer)?;
        Self::parse(&typed).map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grit_is_read_as_people_write_it() {
        for typed in ["P220", "p220", "220", "#220", "220 grit", "grit 220", " P 220 "] {
            assert_eq!(Grit::parse(typed).map_err(|e| e.to_string()), Ok(Grit::P220), "{typed}");
        }
    }

    #[test]
    fn number_between_two_grades_is_refused_with_both() {
        let refused = Grit::parse("P200").unwrap_err();
        assert_eq!(refused.to_string(), "`P200` is not a grit; nearest: `P180`, `P220`");
    }

    #[test]
    fn finer_grades_have_smaller_grain() {
        assert!(
            Grit::EVERY
                .windows(2)
                .all(|pair| pair[0].particle_um() > pair[1].particle_um())
        );
    }
}
