//! What is known of lead on a zone, as it was said: the result, by which kind of test, and how much.
//!
//! The one idea: a result is kept with the test behind it, and an amount that no such test gives is refused before it is kept, since
//! cautions and the lead set free are reckoned from it.

use finish::LeadTest;
use hazard::{LeadAmount, TestKind};
use serde::{Deserialize, Serialize};

/// A lead test of a zone. A shop saved before kinds and amounts were asked for has neither.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LeadTested {
    /// What the test said; not tested if there was none.
    #[serde(rename = "lead", default = "not_tested")]
    pub said: LeadTest,
    /// By which kind of test, if that was noted.
    #[serde(rename = "lead_by", default, skip_serializing_if = "Option::is_none")]
    pub by: Option<TestKind>,
    /// How much lead it found, if it gave an amount.
    #[serde(rename = "lead_amount", default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<LeadAmount>,
}

impl Default for LeadTested {
    fn default() -> Self {
        LeadTested {
            said: LeadTest::NotTested,
            by: None,
            amount: None,
        }
    }
}

fn not_tested() -> LeadTest {
    LeadTest::NotTested
}

/// Which of the three was refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeadField {
    /// The result.
    Said,
    /// How much.
    Amount,
}

/// A result, a kind and an amount that do not go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeadRefusal {
    /// Which of the three to change.
    pub field: LeadField,
    /// The limit that it breaks.
    pub limit: &'static str,
    /// What would be right.
    pub right: &'static str,
}

impl LeadTested {
    /// The three together, if they can be true of one test.
    ///
    /// # Errors
    /// A kind or an amount without a result; an amount of a test that found none; an amount that the kind of test cannot give.
    pub fn of(said: LeadTest, by: Option<TestKind>, amount: Option<LeadAmount>) -> Result<Self, LeadRefusal> {
        let refuse = |field, limit, right| Err(LeadRefusal { field, limit, right });
        match (said, by, amount) {
            (LeadTest::NotTested, Some(_), _) | (LeadTest::NotTested, _, Some(_)) => refuse(
                LeadField::Said,
                "a kind of test or an amount needs the result of the test",
                "\"present\" where lead was found, \"none\" where none was, or neither kind nor amount",
            ),
            (LeadTest::None, _, Some(_)) => refuse(
                LeadField::Amount,
                "a test that found none has no amount",
                "no amount, or \"present\" as the result, however little it was",
            ),
            (_, Some(kind), Some(amount)) if kind.cannot_give(amount).is_some() => refuse(
                LeadField::Amount,
                kind.cannot_give(amount).unwrap_or_default(),
                match kind {
                    TestKind::Swab => {
                        "no amount, or the kind of test that gave it: a laboratory's (\"lab-chip\") or an inspector's (\"xrf\")"
                    }
                    TestKind::Xrf | TestKind::LabChip => {
                        "an amount by area, such as \"2.4 mg/cm2\", or \"lab-chip\" as the kind"
                    }
                },
            ),
            _ => Ok(LeadTested { said, by, amount }),
        }
    }

    /// As the cautions know it.
    pub(crate) fn facts(self) -> hazard::LeadTest {
        match self.said {
            LeadTest::NotTested => hazard::LeadTest::NotTested,
            LeadTest::None => hazard::LeadTest::NoneFound(self.by),
            LeadTest::Present => hazard::LeadTest::Present {
                by: self.by,
                amount: self.amount,
            },
        }
    }

    /// In words, for a page: "lead found: 2.4 mg/cm², by paint chip sent to a laboratory".
    pub fn words(self) -> String {
        let mut words = self.said.label().to_owned();
        if let Some(amount) = self.amount {
            words = format!("{words}: {}", amount.words());
        }
        match (self.said, self.by) {
            (LeadTest::NotTested, _) => words,
            (_, Some(kind)) => format!("{words}, by {}", kind.label()),
            (_, None) => format!("{words}; the kind of test is not noted"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shop_saved_before_kinds_were_asked_for_keeps_its_meaning() {
        let old: LeadTested = serde_json::from_str(r#"{"lead":"present"}"#).unwrap();
        assert_eq!(
            old,
            LeadTested {
                said: LeadTest::Present,
                ..LeadTested::default()
            }
        );
        assert_eq!(serde_json::from_str::<LeadTested>("{}").unwrap(), LeadTested::default());
        assert_eq!(serde_json::to_string(&old).unwrap(), r#"{"lead":"present"}"#);
    }

    #[test]
    fn what_cannot_be_true_of_one_test_is_refused_at_its_field() {
        let area = Some(LeadAmount::MgPerCm2(2.0));
        let share = Some(LeadAmount::PercentByWeight(0.6));
        let at = |said, by, amount| LeadTested::of(said, by, amount).err().map(|refusal| refusal.field);
        assert_eq!(
            at(LeadTest::NotTested, Some(TestKind::Swab), None),
            Some(LeadField::Said)
        );
        assert_eq!(at(LeadTest::NotTested, None, area), Some(LeadField::Said));
        assert_eq!(
            at(LeadTest::None, Some(TestKind::LabChip), share),
            Some(LeadField::Amount)
        );
        assert_eq!(
            at(LeadTest::Present, Some(TestKind::Swab), area),
            Some(LeadField::Amount)
        );
        assert_eq!(
            at(LeadTest::Present, Some(TestKind::Xrf), share),
            Some(LeadField::Amount)
        );
        for (by, amount) in [
            (TestKind::Xrf, area),
            (TestKind::LabChip, area),
            (TestKind::LabChip, share),
            (TestKind::Swab, None),
        ] {
            assert_eq!(at(LeadTest::Present, Some(by), amount), None);
        }
        assert_eq!(at(LeadTest::Present, None, share), None);
        assert_eq!(at(LeadTest::None, Some(TestKind::Swab), None), None);
    }
}
