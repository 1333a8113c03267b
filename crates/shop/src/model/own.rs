//! A schedule of the user's own, and the warnings that the user goes on in spite of.
//!
//! The one idea: only what the user said is kept. Minutes, quantities, windows and hazards come from the tables each time that a plan
//! is made; a consent holds for the situation it was given in, and for no other.

use finish::{Step, Wait};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use trade::methods::Method;
use trade::{Grit, Material, Operation};

/// Most steps of a schedule written by hand: a longer one is a mistake.
pub const MOST_STEPS: usize = 60;
/// The longest reason for going on, characters.
pub const LONGEST_REASON: usize = 300;
/// The longest wait that a step may be given, minutes: what a day counts, for a year.
pub const LONGEST_WAIT_MIN: u32 = 366 * 24 * 60;

/// One step as the user wrote it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OwnStep {
    /// What is done.
    pub operation: Operation,
    /// What with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<Material>,
    /// The grit of an abrasive step.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grit: Option<Grit>,
    /// How a coat is put on; `None` as is usual for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<Method>,
    /// Whether an abrasive step is done wet.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wet: bool,
    /// How long to wait after it, minutes in the reference air (at most a year); `None` as the tables say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait_min: Option<u32>,
}

impl OwnStep {
    /// A step with an operation and nothing else.
    pub fn of(operation: Operation) -> Self {
        OwnStep {
            operation,
            material: None,
            grit: None,
            method: None,
            wet: false,
            wait_min: None,
        }
    }

    /// What is wrong with the step by itself, without looking at any surface: the limit, and what would be right.
    ///
    /// # Errors
    /// A material that this operation is not done with or that it cannot do without, a grit for what is not abraded.
    pub fn checked(&self) -> Result<(), (String, String)> {
        let operation = self.operation.label();
        if !finish::suits(self.operation, self.material) {
            return Err(match self.material {
                Some(material) => (
                    format!("to {operation} is not done with {}", material.label()),
                    materials_for(self.operation),
                ),
                None => (
                    format!("to {operation} takes a material"),
                    materials_for(self.operation),
                ),
            });
        }
        if self.grit.is_some() && !finish::takes_grit(self.operation) {
            return Err((
                format!("to {operation} takes no grit"),
                "no grit, or another operation".to_owned(),
            ));
        }
        let wants_grit = matches!(
            self.operation,
            Operation::Sand | Operation::StripSand | Operation::Scuff
        );
        if self.grit.is_none() && wants_grit {
            return Err((format!("to {operation} takes a grit"), "a grit such as P220".to_owned()));
        }
        if self.wait_min.is_some_and(|wait_min| wait_min > LONGEST_WAIT_MIN) {
            return Err(("a wait is at most a year".to_owned(), "a shorter wait".to_owned()));
        }
        Ok(())
    }

    /// The step as the finish crate reads it.
    pub(crate) fn to_step(self) -> Step {
        Step {
            material: self.material,
            grit: self.grit,
            method: self.method,
            wet: self.wet,
            wait: self.wait_min.map(Wait::of_min),
            ..Step::by_hand(self.operation)
        }
    }
}

impl From<&Step> for OwnStep {
    fn from(step: &Step) -> Self {
        OwnStep {
            operation: step.operation,
            material: step.material,
            grit: step.grit,
            method: step.method,
            wet: step.wet,
            wait_min: step.wait.map(|wait| wait.min_min),
        }
    }
}

fn materials_for(operation: Operation) -> String {
    let words: Vec<&str> = Material::every()
        .filter(|material| finish::suits(operation, Some(*material)))
        .map(|material| material.id())
        .collect();
    if words.is_empty() {
        "no material".to_owned()
    } else {
        format!("one of {}", words.join(", "))
    }
}

/// A warning that the user goes on in spite of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Overruled {
    /// The rule that warns; never one that stops.
    pub rule: String,
    /// The situation that the consent was given for, in the words of the finding; in any other it has lapsed.
    pub situation: String,
    /// Why the user goes on.
    pub reason: String,
    /// Who said so.
    pub by: String,
    /// When.
    pub on: Date,
}

impl Overruled {
    /// Whether this consent covers the finding: same rule, same situation, and one that may be overruled at all.
    pub fn covers(&self, finding: &finish::Finding) -> bool {
        finding.can_be_overruled() && self.rule == finding.rule && self.situation == finding.situation
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use trade::FinishClass;

    #[test]
    fn a_step_says_what_is_wrong_with_it_by_itself() {
        let mut paint = OwnStep::of(Operation::Paint);
        assert!(paint.checked().unwrap_err().0.contains("takes a material"));
        paint.material = Some(Material::Finish(FinishClass::PasteWax));
        let (limit, right) = paint.checked().unwrap_err();
        assert!(limit.contains("not done with") && right.contains("waterborne-acrylic-enamel"));
        paint.material = Some(Material::Finish(FinishClass::AlkydEnamel));
        assert_eq!(paint.checked(), Ok(()));
        paint.grit = Some(Grit::P220);
        assert!(paint.checked().unwrap_err().0.contains("takes no grit"));
        assert!(OwnStep::of(Operation::Sand).checked().is_err());
        assert_eq!(OwnStep::of(Operation::Scrape).checked(), Ok(()));
    }
}
