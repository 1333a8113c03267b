//! A try of new colours on a photograph: what was marked on it and which colours were tried.
//!
//! Places are shares of the picture's width and height in ten-thousandths, so that they hold for the picture in any size.

use colour::Srgb;
use serde::{Deserialize, Serialize};

/// Most colours tried on one photograph.
pub const MOST_CHOICES: usize = colour::photo::sheet::MOST_CHOICES;

/// A place on the picture: ten-thousandths of its width from the left and of its height from the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Point {
    /// From the left, 0 to 10 000.
    pub x: u16,
    /// From the top, 0 to 10 000.
    pub y: u16,
}

/// What the next tap on the picture marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Next {
    /// The next corner of the outline.
    #[default]
    Corner,
    /// A place to grow the zone from.
    Inside,
    /// A grey card.
    Card,
    /// A place of the old colour, evenly lit.
    Old,
}

impl Next {
    /// Each with its word and what it says on the screen.
    pub const EVERY: [(Next, &'static str, &'static str); 4] = [
        (Next::Corner, "corner", "a corner of the part's outline"),
        (
            Next::Inside,
            "inside",
            "a place to grow from, where the part's colour stands out",
        ),
        (
            Next::Old,
            "old",
            "the old colour, where it is evenly lit and does not gleam",
        ),
        (Next::Card, "card", "a grey card in the same light"),
    ];

    /// The one of this word.
    pub fn parse(word: &str) -> Option<Next> {
        Next::EVERY
            .iter()
            .find(|(_, id, _)| *id == word)
            .map(|(next, _, _)| *next)
    }

    /// Its word.
    pub fn id(self) -> &'static str {
        Next::EVERY
            .iter()
            .find(|(next, _, _)| *next == self)
            .map_or("corner", |(_, id, _)| id)
    }
}

/// From where the old colour is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OldAs {
    /// From a tap on the picture (against the grey card where one is marked).
    #[default]
    Tapped,
    /// Said: read with a meter or chosen.
    Said(Srgb),
}

/// A colour tried on the photograph.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialChoice {
    /// What it is called.
    pub name: String,
    /// The colour.
    pub colour: Srgb,
    /// How much it gleams beside the photograph, per cent: 0 to 300.
    pub sheen_pct: u16,
    /// How much of the wood's figure shows, per cent: 0 to 100.
    pub grain_pct: u16,
    /// Its recipe, or another line to go with it.
    #[serde(default)]
    pub note: String,
}

/// What was marked and tried on one photograph.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Trial {
    /// Outlines of the part, each by its corners; the last is the one being drawn.
    #[serde(default)]
    pub outlines: Vec<Vec<Point>>,
    /// Places to grow the part from.
    #[serde(default)]
    pub inside: Vec<Point>,
    /// A place on a grey card.
    #[serde(default)]
    pub card: Option<Point>,
    /// A place of the old colour.
    #[serde(default)]
    pub old_at: Option<Point>,
    /// How the old colour is known.
    #[serde(default)]
    pub old: OldAs,
    /// What the next tap marks.
    #[serde(default)]
    pub next: Next,
    /// The colours tried.
    #[serde(default)]
    pub choices: Vec<TrialChoice>,
}

impl Trial {
    /// Most corners of one outline, outlines, and places to grow from.
    const MOST_POINTS: usize = 60;

    /// Marks a place as what the next tap is for.
    pub fn tap(&mut self, at: Point) {
        match self.next {
            Next::Corner => {
                if self.outlines.is_empty() {
                    self.outlines.push(Vec::new());
                }
                if let Some(outline) = self
                    .outlines
                    .last_mut()
                    .filter(|outline| outline.len() < Self::MOST_POINTS)
                {
                    outline.push(at);
                }
            }
            Next::Inside if self.inside.len() < Self::MOST_POINTS => self.inside.push(at),
            Next::Inside => {}
            Next::Card => self.card = Some(at),
            Next::Old => {
                self.old_at = Some(at);
                self.old = OldAs::Tapped;
            }
        }
    }

    /// Takes the last mark of the present kind back.
    pub fn take_back(&mut self) {
        match self.next {
            Next::Corner => {
                if let Some(outline) = self.outlines.last_mut() {
                    outline.pop();
                }
                self.outlines.retain(|outline| !outline.is_empty());
            }
            Next::Inside => {
                self.inside.pop();
            }
            Next::Card => self.card = None,
            Next::Old => self.old_at = None,
        }
    }

    /// Begins a further outline, where the last one encloses anything.
    pub fn another_outline(&mut self) {
        let is_drawn = self.outlines.last().is_some_and(|outline| outline.len() >= 3);
        if is_drawn && self.outlines.len() < Self::MOST_POINTS {
            self.outlines.push(Vec::new());
        }
        self.next = Next::Corner;
    }

    /// Whether a part is marked.
    pub fn is_marked(&self) -> bool {
        !self.inside.is_empty() || self.outlines.iter().any(|outline| outline.len() >= 3)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn taps_mark_what_they_are_for_and_can_be_taken_back() {
        let at = |x| Point { x, y: 100 };
        let mut trial = Trial::default();
        for x in [1, 2, 3] {
            trial.tap(at(x));
        }
        assert!(trial.is_marked());
        trial.another_outline();
        trial.tap(at(9));
        assert_eq!(trial.outlines.len(), 2);
        trial.take_back();
        trial.take_back();
        assert_eq!(trial.outlines, [vec![at(1), at(2)]]);
        assert!(!trial.is_marked());
        trial.next = Next::Card;
        trial.tap(at(5));
        assert_eq!(trial.card, Some(at(5)));
    }
}
