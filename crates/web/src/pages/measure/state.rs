//! What was said and tapped so far, as it stands in the address.

use quantity::{Length, UnitSystem};
use takeoff::photograph::{Aim, PhotographRefusal, Picture, Plane, Sheet, Tap};

use crate::typed::Typed;

/// The sheets to choose from: word and words.
pub(super) const SHEETS: [(&str, &str); 4] = [
    ("letter", "Letter paper, 8 1/2 × 11 inches"),
    ("a4", "A4 paper, 210 × 297 mm"),
    ("card", "a bank or identity card, 85.6 × 54 mm"),
    ("other", "another flat rectangle, its sides below"),
];

/// The most points that one photograph takes: both sets of corners and forty lengths.
const MOST_POINTS: usize = 88;

/// How near the picture is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Near {
    /// The whole of it.
    #[default]
    Whole,
    /// A sixth of its longer side.
    Nearer,
    /// A thirtieth: a pixel of the camera is seen singly, and a thumb is as good as cross hairs under a magnifier.
    Exact,
}

impl Near {
    pub(super) fn word(self) -> &'static str {
        match self {
            Near::Whole => "0",
            Near::Nearer => "1",
            Near::Exact => "2",
        }
    }

    pub(super) fn parse(word: &str) -> Self {
        match word {
            "1" => Near::Nearer,
            "2" => Near::Exact,
            _ => Near::Whole,
        }
    }

    /// The side of the square that is seen, in pixels of a picture; nothing for the whole.
    pub(super) fn side_px(self, size: Picture) -> Option<f64> {
        let longer = size.width_px.max(size.height_px);
        match self {
            Near::Whole => None,
            Near::Nearer => Some((longer / 6.0).max(120.0)),
            Near::Exact => Some((longer / 30.0).max(24.0)),
        }
    }
}

/// How wide the picture is shown, in the pixels of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Shown {
    /// Fits a phone.
    #[default]
    Small,
    /// Fits a laptop.
    Large,
}

impl Shown {
    pub(super) fn word(self) -> &'static str {
        match self {
            Shown::Small => "small",
            Shown::Large => "large",
        }
    }

    pub(super) fn parse(word: &str) -> Self {
        if word == "large" { Shown::Large } else { Shown::Small }
    }

    pub(super) fn other(self) -> Self {
        if self == Shown::Small {
            Shown::Large
        } else {
            Shown::Small
        }
    }

    pub(super) fn width_px(self) -> u32 {
        match self {
            Shown::Small => 344,
            Shown::Large => 688,
        }
    }
}

/// What was said and tapped so far.
#[derive(Debug, Clone)]
pub(super) struct Taps {
    pub(super) sheet: Sheet,
    /// As it was chosen and typed, to go into the next address.
    pub(super) words: [String; 3],
    /// Whether the front's own corners are tapped too.
    pub(super) front: bool,
    /// The sheet's four, the front's four if they are wanted, then two for each length.
    pub(super) points: Vec<Tap>,
    /// Where the next point is being looked for.
    pub(super) at: Option<Tap>,
    pub(super) near: Near,
    pub(super) shown: Shown,
}

/// Which point is tapped next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Next {
    /// Corner 1 to 4 of the sheet.
    Sheet(usize),
    /// Corner 1 to 4 of the front.
    Front(usize),
    /// End 1 or 2 of the length of this number, from 1.
    Length(usize, usize),
}

impl Taps {
    /// Reads the sheet and the points; what is wrong with the sheet is said beside its fields.
    pub(super) fn read(typed: &mut Typed, units: UnitSystem) -> Option<Self> {
        let word = typed.text("sheet").to_owned();
        let sheet = match word.as_str() {
            "letter" => Sheet::Letter,
            "a4" => Sheet::A4,
            "card" => Sheet::Card,
            "other" => other_sheet(typed, units)?,
            "" => return None,
            _ => {
                typed.refuse("sheet", "choose one of the sheets named here");
                return None;
            }
        };
        let mut points: Vec<Tap> = typed.text("p").split(';').filter_map(read_point).collect();
        points.truncate(MOST_POINTS);
        let at = read_point(typed.text("at"));
        Some(Self {
            sheet,
            words: [word, typed.text("long").to_owned(), typed.text("short").to_owned()],
            front: typed.text("front") == "yes",
            points,
            at,
            near: if at.is_some() {
                Near::parse(typed.text("near"))
            } else {
                Near::Whole
            },
            shown: Shown::parse(typed.text("shown")),
        })
    }

    /// Every entry of the address that leads back to this state.
    pub(super) fn entries(&self) -> Vec<(&'static str, String)> {
        let points: Vec<String> = self.points.iter().map(|tap| write_point(*tap)).collect();
        let mut entries = vec![("sheet", self.words[0].clone())];
        if self.words[0] == "other" {
            entries.push(("long", self.words[1].clone()));
            entries.push(("short", self.words[2].clone()));
        }
        entries.push(("front", if self.front { "yes" } else { "no" }.to_owned()));
        entries.push(("shown", self.shown.word().to_owned()));
        entries.push(("p", points.join(";")));
        if let Some(at) = self.at {
            entries.push(("at", write_point(at)));
            entries.push(("near", self.near.word().to_owned()));
        }
        entries
    }

    /// The part of the address behind the question mark.
    pub(super) fn query(&self) -> String {
        let word = crate::pages::piece::path_word;
        let pairs: Vec<String> = self
            .entries()
            .iter()
            .map(|(name, value)| format!("{name}={}", word(value)))
            .collect();
        pairs.join("&")
    }

    pub(super) fn next(&self) -> Next {
        let set = self.points.len();
        let corners = self.corners();
        match set {
            0..4 => Next::Sheet(set + 1),
            _ if set < corners => Next::Front(set - 3),
            _ => Next::Length((set - corners) / 2 + 1, (set - corners) % 2 + 1),
        }
    }

    /// How many points are corners.
    pub(super) fn corners(&self) -> usize {
        if self.front { 8 } else { 4 }
    }

    /// The lengths whose two ends are tapped.
    pub(super) fn pairs(&self) -> Vec<[Tap; 2]> {
        let ends = self.points.get(self.corners()..).unwrap_or_default();
        ends.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
    }

    /// The plane of the front as far as it is tapped; nothing before the sheet's corners are.
    pub(super) fn plane(&self, size: Picture) -> Option<Result<Plane, PhotographRefusal>> {
        let four = |from: usize| -> Option<[Tap; 4]> { self.points.get(from..from + 4)?.try_into().ok() };
        let sheet = four(0)?;
        Some(match four(4).filter(|_| self.front) {
            Some(front) => Plane::from_sheet_and_rectangle(size, self.sheet, sheet, front, Aim::Loupe),
            None => Plane::from_sheet(size, self.sheet, sheet, Aim::Loupe),
        })
    }

    /// Where a tap on the picture as it is shown lies on the photograph.
    pub(super) fn place(&self, x: f64, y: f64, size: Picture) -> Tap {
        let shown = f64::from(self.shown.width_px());
        let place = match (self.near.side_px(size), self.at) {
            (Some(side), Some(at)) => Tap {
                x_px: at.x_px + (x / shown - 0.5) * side,
                y_px: at.y_px + (y / shown - 0.5) * side,
            },
            _ => Tap {
                x_px: x / shown * size.width_px,
                y_px: y / shown * size.width_px,
            },
        };
        inside(place, size)
    }

    /// Where a point of the photograph lies on the picture as it is shown.
    pub(super) fn on_page(&self, point: Tap, size: Picture) -> (f64, f64) {
        let shown = f64::from(self.shown.width_px());
        match (self.near.side_px(size), self.at) {
            (Some(side), Some(at)) => (
                ((point.x_px - at.x_px) / side + 0.5) * shown,
                ((point.y_px - at.y_px) / side + 0.5) * shown,
            ),
            _ => (point.x_px / size.width_px * shown, point.y_px / size.width_px * shown),
        }
    }

    /// A place is found: the next larger view of it, or the point itself on the largest.
    pub(super) fn find(&mut self, place: Tap) {
        match self.near {
            Near::Whole => (self.at, self.near) = (Some(place), Near::Nearer),
            Near::Nearer => (self.at, self.near) = (Some(place), Near::Exact),
            Near::Exact => {
                if self.points.len() < MOST_POINTS {
                    self.points.push(place);
                }
                (self.at, self.near) = (None, Near::Whole);
            }
        }
    }

    /// The view moves by a quarter of itself.
    pub(super) fn look(&mut self, way: &str, size: Picture) {
        let step = self.near.side_px(size).unwrap_or(0.0) / 4.0;
        let (right, down) = match way {
            "left" => (-step, 0.0),
            "right" => (step, 0.0),
            "up" => (0.0, -step),
            "down" => (0.0, step),
            _ => (0.0, 0.0),
        };
        if let Some(at) = &mut self.at {
            let moved = Tap {
                x_px: at.x_px + right,
                y_px: at.y_px + down,
            };
            *at = inside(moved, size);
        }
    }

    /// One step back: from a larger view to the whole picture, else before the last point.
    pub(super) fn back(&self) -> Option<Self> {
        let mut before = self.clone();
        (before.at, before.near) = (None, Near::Whole);
        if self.near == Near::Whole {
            before.points.pop()?;
        }
        Some(before)
    }
}

fn other_sheet(typed: &mut Typed, units: UnitSystem) -> Option<Sheet> {
    let mut side = |field: &str| {
        typed.read(field, |text| {
            Length::parse_in(text, units).map_err(|refusal| refusal.to_string())
        })
    };
    let (long, short) = (side("long"), side("short"));
    let sheet = Sheet::Stated(long?, short?);
    let nowhere = [Tap { x_px: 0.0, y_px: 0.0 }; 4];
    let any = Picture {
        width_px: 1000.0,
        height_px: 1000.0,
    };
    if let Err(refusal @ PhotographRefusal::SheetSize { .. }) = Plane::from_sheet(any, sheet, nowhere, Aim::Loupe) {
        typed.refuse("long", refusal);
        return None;
    }
    Some(sheet)
}

/// The place, or the nearest one that is on the photograph.
pub(super) fn inside(place: Tap, size: Picture) -> Tap {
    Tap {
        x_px: place.x_px.clamp(0.0, size.width_px),
        y_px: place.y_px.clamp(0.0, size.height_px),
    }
}

fn write_point(tap: Tap) -> String {
    format!("{:.1},{:.1}", tap.x_px, tap.y_px)
}

pub(super) fn read_point(text: &str) -> Option<Tap> {
    let (x, y) = text.split_once(',')?;
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    Some(Tap {
        x_px: number(x)?,
        y_px: number(y)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: Picture = Picture {
        width_px: 3000.0,
        height_px: 4000.0,
    };

    fn fresh() -> Taps {
        let mut typed = Typed::default();
        typed.set("sheet", "letter");
        typed.set("front", "yes");
        Taps::read(&mut typed, UnitSystem::Imperial).unwrap()
    }

    #[test]
    fn a_tap_lands_where_the_page_shows_it_at_every_nearness() {
        let mut taps = fresh();
        for near in [Near::Whole, Near::Nearer, Near::Exact] {
            let place = taps.place(200.0, 100.0, SIZE);
            let (x, y) = taps.on_page(place, SIZE);
            assert!((x - 200.0).abs() < 1e-9 && (y - 100.0).abs() < 1e-9, "{near:?}");
            taps.find(place);
        }
        assert_eq!((taps.points.len(), taps.near), (1, Near::Whole));
        // Roughly at 200/344 of 3000, then 28 to the right and 72 up of a view of 4000/6 and of 4000/30 over 344 points.
        let x_px = 200.0 / 344.0 * 3000.0 + (28.0 / 344.0) * (4000.0 / 6.0 + 4000.0 / 30.0);
        assert!((taps.points[0].x_px - x_px).abs() < 1e-9, "{:?}", taps.points);
    }

    #[test]
    fn the_address_holds_all_that_was_tapped_to_a_tenth_of_a_pixel() {
        let mut taps = fresh();
        taps.points = vec![
            Tap {
                x_px: 12.34,
                y_px: 56.78,
            },
            Tap { x_px: 1.0, y_px: 2.0 },
        ];
        taps.find(Tap {
            x_px: 700.0,
            y_px: 800.0,
        });
        let entries: Vec<(String, String)> = taps
            .entries()
            .into_iter()
            .map(|(name, value)| (name.to_owned(), value))
            .collect();
        let again = Taps::read(&mut Typed::from(entries), UnitSystem::Imperial).unwrap();
        assert_eq!(again.points[0], Tap { x_px: 12.3, y_px: 56.8 });
        assert_eq!(
            (again.near, again.at),
            (
                Near::Nearer,
                Some(Tap {
                    x_px: 700.0,
                    y_px: 800.0
                })
            )
        );
        assert_eq!(again.next(), Next::Sheet(3));
    }

    #[test]
    fn a_view_moved_over_the_edge_stays_on_the_photograph() {
        let mut taps = fresh();
        taps.find(Tap {
            x_px: 10.0,
            y_px: 3990.0,
        });
        taps.look("left", SIZE);
        taps.look("down", SIZE);
        assert_eq!(
            taps.at,
            Some(Tap {
                x_px: 0.0,
                y_px: 4000.0
            })
        );
    }

    #[test]
    fn a_sheet_that_cannot_serve_is_refused_beside_its_side() {
        let mut typed = Typed::default();
        typed.set("sheet", "other");
        typed.set("long", "20 in");
        typed.set("short", "1 in");
        assert!(Taps::read(&mut typed, UnitSystem::Imperial).is_none());
        assert!(typed.refusal("long").unwrap().contains("6 times"));
    }
}
