//! What is on it? The finish of a piece, inferred from its age, its look and the usual spot tests.
//!
//! One idea: each answer makes some classes likelier and others less, by a table of how often each class answers so
//! (`data/identify_likelihood.csv`); age gives the odds to start from (`data/identify_age.csv`). From the result follow the next
//! most telling test ([`next_test`]) and what a wrong guess would cost ([`guess`]).
//!
//! **How far to trust it.** The table is the judgement of common practice, not a survey, and it treats answers as independent once
//! the class is known. Two solvents on the same film are not quite that; so the result says "cannot tell" where two classes answer
//! alike, and a test patch has the last word.
//!
//! ```
//! use finish::identify::{Answer, Era, Observation, Outcome, identify};
//! use trade::FinishClass;
//!
//! // A chair of the twenties whose clear, amber film goes sticky under alcohol.
//! let answers = [
//!     Answer::new(Observation::Look, Outcome::ClearFilm).expect("a clear film is a look"),
//!     Answer::new(Observation::Alcohol, Outcome::Dissolves).expect("alcohol may dissolve"),
//! ];
//! let found = identify(Era::From1900, &answers);
//! assert_eq!(found.likeliest().class, FinishClass::WaxedShellac);
//! assert!(found.likeliest().probability > 0.9);
//! ```

mod next_test;
mod risk;
mod table;
mod wrong_guess;

pub use next_test::{Telling, next_test, parting, tests_by_telling};
pub use risk::{Guess, guess};
pub use wrong_guess::{AtStake, Guessed, IfItIs};

use serde::{Deserialize, Serialize};
use trade::FinishClass;

use trade::vocabulary;

vocabulary! {
    /// When the finish was put on, as far as anybody knows.
    Era is "era" {
        Before1900 = "before-1900", "before 1900";
        From1900 = "1900-1929", "1900 to 1929";
        From1930 = "1930-1959", "1930 to 1959";
        From1960 = "1960-1989", "1960 to 1989";
        From1990 = "1990-2009", "1990 to 2009";
        From2010 = "2010-on", "2010 or later";
        Unknown = "unknown", "not known";
    }
}

impl Era {
    /// The era of a year.
    #[must_use]
    pub const fn of_year(year: i16) -> Self {
        match year {
            ..1900 => Self::Before1900,
            1900..1930 => Self::From1900,
            1930..1960 => Self::From1930,
            1960..1990 => Self::From1960,
            1990..2010 => Self::From1990,
            2010.. => Self::From2010,
        }
    }
}

vocabulary! {
    /// Something to look at or to try.
    Observation is "observation" {
        Look = "look", "How it looks";
        Tone = "tone", "Its tint";
        Cracks = "cracks", "Cracks in it";
        Feel = "feel", "How it feels";
        MineralSpirits = "mineral-spirits", "Mineral spirits on a white rag";
        WaterDrop = "water-drop", "A drop of water, ten minutes";
        Alcohol = "alcohol", "Alcohol on a hidden spot";
        Xylene = "xylene", "Xylene on a hidden spot";
        Acetone = "acetone", "Acetone on a hidden spot";
        LacquerThinner = "lacquer-thinner", "Lacquer thinner on a hidden spot";
        HotNeedle = "hot-needle", "A hot needle where nobody sees it";
    }
}

vocabulary! {
    /// What one sees.
    Outcome is "outcome of an observation" {
        ClearFilm = "clear-film", "a clear film over the wood";
        OpaqueFilm = "opaque-film", "smooth paint that hides the wood";
        Chalky = "chalky", "dull and chalky";
        InTheWood = "in-the-wood", "no film: the grain is open to the finger";
        Amber = "amber", "amber or orange";
        WaterWhite = "water-white", "clear as water";
        Coloured = "coloured", "a colour of its own";
        Alligatored = "alligatored", "coarse, like alligator skin";
        FineChecks = "fine-checks", "fine lines";
        None = "none", "none";
        Waxy = "waxy", "waxy: a nail leaves a track";
        HardSmooth = "hard-smooth", "hard and smooth";
        Plastic = "plastic", "like a skin of plastic";
        Dry = "dry", "dry, like wood or chalk";
        Dissolves = "dissolves", "dissolves: it comes off on the rag";
        Wrinkles = "wrinkles", "wrinkles or lifts";
        Softens = "softens", "softens or turns tacky";
        Nothing = "nothing", "nothing happens";
        Gummy = "gummy", "turns gummy";
        WaxOnRag = "wax-on-rag", "a smear of wax on the rag";
        SoaksIn = "soaks-in", "soaks in and darkens";
        Whitens = "whitens", "leaves a white bloom";
        Beads = "beads", "stands as a bead, no mark";
        Melts = "melts", "melts at once";
        HardlyMarks = "hardly-marks", "hardly leaves a mark";
    }
}

impl Observation {
    /// Whether it is a test with a solvent or heat, which leaves a trace, and not a mere look or touch.
    #[must_use]
    pub const fn leaves_a_trace(self) -> bool {
        matches!(
            self,
            Self::Alcohol | Self::Xylene | Self::Acetone | Self::LacquerThinner | Self::HotNeedle
        )
    }

    /// How it is done, in one sentence, with its caution.
    #[must_use]
    pub const fn how(self) -> &'static str {
        match self {
            Self::Look => "Hold it to the light from the side.",
            Self::Tone => "Look at a thick spot or a run against the bare wood of the underside.",
            Self::Cracks => "Look from the side with a lens.",
            Self::Feel => "Wipe it clean, then draw a fingernail across.",
            Self::MineralSpirits => "Rub a hidden spot for half a minute; no flame near it, window open.",
            Self::WaterDrop => "Leave one drop on a level, hidden spot, then wipe it off.",
            Self::Alcohol => "Dab a hidden spot, wait a minute, rub. Flammable: no flame, window open, gloves.",
            Self::Xylene => {
                "Dab a hidden spot, wait a minute. Flammable and harmful to breathe: outdoors, gloves as the safety data sheet says."
            }
            Self::Acetone => {
                "Dab a hidden spot, wait half a minute, rub. Very flammable: no flame, window open, gloves."
            }
            Self::LacquerThinner => {
                "Dab a hidden spot, wait half a minute. Very flammable and harmful to breathe: outdoors, gloves as the safety data sheet says."
            }
            Self::HotNeedle => {
                "Touch the heated point to a spot nobody sees for one second. Not where paint may hold lead: its fume is poison."
            }
        }
    }

    /// The answers that this observation can give.
    #[must_use]
    pub fn outcomes(self) -> Vec<Outcome> {
        table::outcomes(self)
    }
}

/// One observation with its outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    observation: Observation,
    outcome: Outcome,
}

impl Answer {
    /// An answer; `None` where that observation cannot turn out so.
    #[must_use]
    pub fn new(observation: Observation, outcome: Outcome) -> Option<Self> {
        table::outcomes(observation)
            .contains(&outcome)
            .then_some(Self { observation, outcome })
    }

    /// What was looked at or tried.
    #[must_use]
    pub const fn observation(self) -> Observation {
        self.observation
    }

    /// What was seen.
    #[must_use]
    pub const fn outcome(self) -> Outcome {
        self.outcome
    }
}

/// One class with its probability.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Candidate {
    /// The class.
    pub class: FinishClass,
    /// Its probability, 0 to 1.
    pub probability: f64,
}

/// How sure the answer is.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// One class has at least four chances in five.
    Likely(FinishClass),
    /// These classes together have at least four chances in five, and no test of the table would part them.
    CannotTell(Vec<FinishClass>),
    /// Another test would help.
    TestOn,
}

/// All classes with their probabilities, likeliest first; the probabilities sum to 1.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Identification {
    candidates: Vec<Candidate>,
    answered: Vec<Observation>,
}

/// From this probability on a class counts as found.
const LIKELY: f64 = 0.8;

/// Identifies a finish from its era and the answers so far; a second answer to the same observation replaces the first.
#[must_use]
pub fn identify(era: Era, answers: &[Answer]) -> Identification {
    let mut latest: Vec<Answer> = Vec::new();
    for answer in answers {
        latest.retain(|earlier| earlier.observation != answer.observation);
        latest.push(*answer);
    }
    let mut weights: Vec<f64> = table::prior(era).to_vec();
    for answer in &latest {
        let likelihood = table::likelihood(answer.observation, answer.outcome);
        for (weight, likely) in weights.iter_mut().zip(likelihood) {
            *weight *= likely;
        }
    }
    let sum: f64 = weights.iter().sum();
    let mut candidates: Vec<Candidate> = table::classes()
        .iter()
        .zip(weights)
        .map(|(class, weight)| Candidate {
            class: *class,
            probability: weight / sum,
        })
        .collect();
    candidates.sort_by(|a, b| b.probability.total_cmp(&a.probability).then(a.class.cmp(&b.class)));
    Identification {
        candidates,
        answered: latest.iter().map(|answer| answer.observation).collect(),
    }
}

impl Identification {
    /// All classes, likeliest first.
    #[must_use]
    pub fn candidates(&self) -> &[Candidate] {
        &self.candidates
    }

    /// The likeliest class.
    #[must_use]
    pub fn likeliest(&self) -> Candidate {
        self.candidates[0]
    }

    /// The probability of one class; 0 for a class the table does not hold.
    #[must_use]
    pub fn probability_of(&self, class: FinishClass) -> f64 {
        self.candidates
            .iter()
            .find(|candidate| candidate.class == class)
            .map_or(0.0, |found| found.probability)
    }

    /// What has been answered.
    #[must_use]
    pub fn answered(&self) -> &[Observation] {
        &self.answered
    }

    /// What may be said now.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let likeliest = self.likeliest();
        if likeliest.probability >= LIKELY {
            return Verdict::Likely(likeliest.class);
        }
        let alike: Vec<Candidate> = self
            .candidates
            .iter()
            .copied()
            .filter(|candidate| !next_test::can_part(self, likeliest.class, candidate.class))
            .collect();
        let together: f64 = alike.iter().map(|candidate| candidate.probability).sum();
        if alike.len() > 1 && together >= LIKELY {
            let classes = alike
                .iter()
                .filter(|candidate| candidate.probability > 0.02)
                .map(|candidate| candidate.class);
            return Verdict::CannotTell(classes.collect());
        }
        if next_test(self).is_none() {
            let mut sum = 0.0;
            let enough = self.candidates.iter().take_while(|candidate| {
                let wanted = sum < LIKELY;
                sum += candidate.probability;
                wanted
            });
            return Verdict::CannotTell(enough.map(|candidate| candidate.class).collect());
        }
        Verdict::TestOn
    }
}

#[cfg(test)]
mod tests;
