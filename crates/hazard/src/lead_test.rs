//! Tests for lead: their kinds, what each can and cannot say, and the amounts that they give.
//!
//! The one idea: a result is worth as much as the kind of test behind it. A kind says by itself which amounts it can state at all,
//! so that an amount that no such test gives is refused where it is typed.

use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

trade::vocabulary! {
    /// How lead was tested for.
    TestKind is "kind of lead test" {
        Swab = "swab", "home swab kit", ["home-swab", "home-swab-kit", "swab-kit", "kit"];
        LabChip = "lab-chip", "paint chip sent to a laboratory", ["laboratory", "lab", "paint-chip", "chip"];
        Xrf = "xrf", "X-ray fluorescence (XRF) by a certified inspector", ["x-ray", "x-ray-fluorescence", "inspector"];
    }
}

/// What a kind of test can and cannot say.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TestRow {
    /// The kind.
    pub kind: TestKind,
    /// What it can say.
    pub can: String,
    /// What it cannot say.
    pub cannot: String,
    /// What it leaves open where it found lead.
    pub found: String,
}

#[derive(Debug, Deserialize)]
struct Tests {
    test: Vec<TestRow>,
}

/// The kinds of test.
pub fn tests() -> &'static [TestRow] {
    static TABLE: OnceLock<Tests> = OnceLock::new();
    let table = TABLE.get_or_init(|| {
        toml::from_str(include_str!("../data/lead_tests.toml")).expect("a test reads the embedded table")
    });
    &table.test
}

impl TestKind {
    /// What it can and cannot say.
    pub fn row(self) -> &'static TestRow {
        let row = tests().iter().find(|row| row.kind == self);
        row.expect("a test finds each kind in the embedded table")
    }

    /// Why a test of this kind gives no such amount; `None` where it can.
    ///
    /// # Examples
    /// ```
    /// use hazard::{LeadAmount, TestKind};
    /// assert!(TestKind::Swab.cannot_give(LeadAmount::MgPerCm2(2.0)).is_some());
    /// assert!(TestKind::Xrf.cannot_give(LeadAmount::PercentByWeight(1.0)).is_some());
    /// assert!(TestKind::LabChip.cannot_give(LeadAmount::PercentByWeight(1.0)).is_none());
    /// ```
    pub const fn cannot_give(self, amount: LeadAmount) -> Option<&'static str> {
        match (self, amount) {
            (TestKind::Swab, _) => Some("a home swab kit gives no amount, only whether there is lead where it touched"),
            (TestKind::Xrf, LeadAmount::PercentByWeight(_)) => {
                Some("X-ray fluorescence reads lead by area, in mg/cm2; a share by mass comes from a laboratory")
            }
            (TestKind::Xrf, LeadAmount::MgPerCm2(_)) | (TestKind::LabChip, _) => None,
        }
    }
}

/// How much lead a test found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeadAmount {
    /// Milligrams a square centimetre, through all coats; 0.001 to 100.
    MgPerCm2(f64),
    /// Percent of the dry paint by mass; 0.0001 (1 ppm) to 90.
    PercentByWeight(f64),
}

impl LeadAmount {
    /// What counts as lead paint in housing, by area (40 CFR 745.103, read; the row `lead-paint-threshold` of the law).
    pub const THRESHOLD_MG_PER_CM2: f64 = 1.0;
    /// The same by mass.
    pub const THRESHOLD_PERCENT: f64 = 0.5;
    /// What an amount may be, for whoever typed one that it cannot be. Red lead itself (Pb₃O₄) is 90.7 % lead by its formula, so
    /// that no paint holds more than 90 %.
    pub const LIMIT: &'static str =
        "an amount of lead from 0.001 to 100 mg/cm2, from 0.0001 to 90 % by mass, or from 1 to 900000 ppm";
    /// What would be right.
    pub const RIGHT: &'static str =
        "a number with its unit as the report states it, such as \"2.4 mg/cm2\", \"0.8 %\" or \"5000 ppm\"";

    /// Reads an amount as a report states it: `2.4 mg/cm2`, `0.8 %`, `5000 ppm`, `5000 mg/kg`.
    ///
    /// # Errors
    /// [`LeadAmount::LIMIT`] where it is no such amount or lies outside the limits.
    ///
    /// # Examples
    /// ```
    /// use hazard::LeadAmount;
    /// assert_eq!(LeadAmount::parse("2.4 mg/cm²"), Ok(LeadAmount::MgPerCm2(2.4)));
    /// assert_eq!(LeadAmount::parse("5000 ppm"), Ok(LeadAmount::PercentByWeight(0.5)));
    /// assert!(LeadAmount::parse("3").is_err() && LeadAmount::parse("0 %").is_err());
    /// ```
    pub fn parse(typed: &str) -> Result<Self, &'static str> {
        let typed = typed.trim();
        let ends = typed
            .find(|c: char| !c.is_ascii_digit() && c != '.')
            .unwrap_or(typed.len());
        let (number, unit) = typed.split_at(ends);
        let number: f64 = number.parse().map_err(|_| Self::LIMIT)?;
        let amount = match unit.trim().to_lowercase().replace('²', "2").replace(' ', "").as_str() {
            "mg/cm2" | "mg/cm^2" => LeadAmount::MgPerCm2(number),
            "%" | "percent" | "%bymass" | "%byweight" | "percentbymass" | "percentbyweight" => {
                LeadAmount::PercentByWeight(number)
            }
            "ppm" | "mg/kg" | "ug/g" | "µg/g" => LeadAmount::PercentByWeight(number / 10_000.0),
            _ => return Err(Self::LIMIT),
        };
        let is_within = match amount {
            LeadAmount::MgPerCm2(loading) => (0.001..=100.0).contains(&loading),
            LeadAmount::PercentByWeight(percent) => (0.0001..=90.0).contains(&percent),
        };
        if is_within { Ok(amount) } else { Err(Self::LIMIT) }
    }

    /// As [`LeadAmount::parse`] reads it.
    pub fn show(self) -> String {
        match self {
            LeadAmount::MgPerCm2(loading) => format!("{loading} mg/cm2"),
            LeadAmount::PercentByWeight(percent) => format!("{percent} %"),
        }
    }

    /// The same for a sentence: the share says what it is a share of.
    pub fn words(self) -> String {
        match self {
            LeadAmount::MgPerCm2(loading) => format!("{loading} mg/cm²"),
            LeadAmount::PercentByWeight(percent) => format!("{percent} % by mass"),
        }
    }

    /// How many times what counts as lead paint in housing, by the figure that goes with it.
    pub fn of_threshold(self) -> f64 {
        match self {
            LeadAmount::MgPerCm2(loading) => loading / Self::THRESHOLD_MG_PER_CM2,
            LeadAmount::PercentByWeight(percent) => percent / Self::THRESHOLD_PERCENT,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn each_kind_of_test_has_its_row() {
        assert_eq!(tests().len(), TestKind::EVERY.len());
        for kind in TestKind::EVERY {
            assert!(!kind.row().can.is_empty() && !kind.row().cannot.is_empty(), "{kind}");
        }
    }

    #[test]
    fn the_thresholds_are_those_that_were_read_in_the_rule() {
        let shown = trade::law::by_name("lead-paint-threshold").unwrap().shown();
        let (area, mass) = (LeadAmount::THRESHOLD_MG_PER_CM2, LeadAmount::THRESHOLD_PERCENT);
        assert!(
            shown.contains(&format!("{area:.1} mg/cm2")) && shown.contains(&format!("{mass} percent")),
            "{shown}"
        );
    }

    #[test]
    fn what_no_report_states_is_refused() {
        for typed in [
            "",
            "mg/cm2",
            "3",
            "0 mg/cm2",
            "101 mg/cm2",
            "0.0005 mg/cm2",
            "91 %",
            "1000000 ppm",
            "0.5 ppm",
            "1.2.3 %",
            "-1 %",
            "1e3 ppm",
            "5 mg",
        ] {
            assert_eq!(LeadAmount::parse(typed), Err(LeadAmount::LIMIT), "{typed}");
        }
        assert_eq!(LeadAmount::parse("100 mg/cm2"), Ok(LeadAmount::MgPerCm2(100.0)));
        assert_eq!(LeadAmount::parse("1 ppm"), Ok(LeadAmount::PercentByWeight(0.0001)));
        assert_eq!(
            LeadAmount::parse("90 percent by mass"),
            Ok(LeadAmount::PercentByWeight(90.0))
        );
    }

    proptest! {
        #[test]
        fn an_amount_reads_back_as_it_was_shown(by_area in any::<bool>(), share in 0.0..=1.0) {
            let amount = if by_area {
                LeadAmount::MgPerCm2(0.001 + share * 99.0)
            } else {
                LeadAmount::PercentByWeight(0.0001 + share * 89.0)
            };
            prop_assert_eq!(LeadAmount::parse(&amount.show()), Ok(amount));
        }
    }
}
