//! The case: a carcass with drawers, doors or open bays, on a base, under a top.

use quantity::Length;
use serde::{Deserialize, Serialize};

use super::case_front::{Front, Opening};
use super::members::{self, Leg};
use super::{DoorStyle, LegStyle, Shape};
use crate::dimension::assumed_mm;
use crate::solid::{Model, Named, Side, at};
use crate::{DefaultZone, Detail, Dimension};

/// Rows and columns of drawers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub struct Grid {
    /// From top to bottom.
    pub rows: u8,
    /// From left to right.
    pub columns: u8,
}

impl Grid {
    /// At most twenty rows, ten columns and a hundred drawers are modelled; more change neither area nor drawing much.
    pub(super) fn bounded(self) -> Self {
        let rows = self.rows.min(20);
        let columns = self.columns.min(10).min((100 / rows.max(1)).max(1));
        Self { rows, columns }
    }
}

/// What a case stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Base {
    /// The carcass stands on the floor.
    Floor,
    /// A plinth set back from the front.
    #[default]
    Plinth,
    /// Bracket feet at the corners under a low skirt.
    Brackets,
    /// Four legs.
    Legs(LegStyle),
}

/// What drawers and doors are pulled by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pull {
    /// Turned knobs, one or two by the width.
    #[default]
    Knob,
    /// A bar on two feet.
    Bar,
    /// None.
    None,
}

/// Dresser, cabinet, sideboard, bedside cabinet, bookcase, wardrobe, blanket box.
///
/// From top to bottom: drawers, open bays, doors; with no drawers the open bays come first. With none of the three the
/// front is closed and the top a lid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Case {
    /// Over all, with the top's overhang.
    pub width: Dimension,
    /// Over all, with the top's overhang at the front.
    pub depth: Dimension,
    /// From the floor to the top.
    pub height: Dimension,
    /// Drawers; no rows or no columns: none.
    pub drawers: Grid,
    /// Doors side by side.
    pub doors: u8,
    /// How doors are made.
    pub door_style: DoorStyle,
    /// Open bays one above the other, with a shelf between each two.
    pub open_bays: u8,
    /// What it stands on.
    pub base: Base,
    /// Height of the base.
    pub base_height: Dimension,
    /// Thickness of legs; for a plinth how far it is set back.
    pub base_section: Dimension,
    /// Thickness of the top.
    pub top_thickness: Dimension,
    /// How far the top stands over front and sides.
    pub top_overhang: Dimension,
    /// Thickness of sides, rails and shelves.
    pub board: Dimension,
    /// Height of the moulding under the top; nothing for none.
    pub moulding: Dimension,
    /// How far drawers and doors stand out of the frame.
    pub front_proud: Dimension,
    /// Pulls.
    pub pull: Pull,
    /// Whether the inside is finished too.
    pub inside: bool,
    /// Whether the outside of the back is finished too.
    pub back: bool,
}

impl Case {
    /// The usual piece of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let (w, h) = (width.length.m(), height.length.m());
        let wardrobe = h > 1.45;
        let chest = h < 0.52;
        let rows = if wardrobe || chest {
            0
        } else {
            count((h - 0.12) / 0.19, 1, 5)
        };
        let columns = if w > 1.45 && h < 1.0 {
            3
        } else {
            u8::from(w > 0.85 && w > 1.1 * h) + 1
        };
        let base = if chest || wardrobe {
            Base::Plinth
        } else {
            Base::Legs(LegStyle::Tapered)
        };
        let base_height = if chest || wardrobe {
            0.07_f64.min(h / 5.0)
        } else {
            (0.15 * h).clamp(0.06, 0.16)
        };
        Self {
            width,
            depth,
            height,
            drawers: Grid { rows, columns },
            doors: if wardrobe { count(w / 0.55, 1, 4) } else { 0 },
            door_style: DoorStyle::Framed,
            open_bays: 0,
            base,
            base_height: Dimension::assumed(Length::from_m(base_height)),
            base_section: assumed_mm(if chest || wardrobe { 30.0 } else { 42.0 }),
            top_thickness: assumed_mm(if w < 0.6 { 18.0 } else { 22.0 }),
            top_overhang: assumed_mm(if w < 0.6 { 12.0 } else { 18.0 }),
            board: assumed_mm(18.0),
            moulding: assumed_mm(if h < 0.6 { 0.0 } else { 16.0 }),
            front_proud: assumed_mm(9.0),
            pull: Pull::Knob,
            inside: false,
            back: false,
        }
    }
}

/// A count from a ratio, within bounds.
pub(super) fn count(ratio: f64, least: u8, most: u8) -> u8 {
    (least..=most).rev().find(|&n| f64::from(n) <= ratio).unwrap_or(least)
}

impl Shape for Case {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("depth", &mut self.depth),
            ("height", &mut self.height),
            ("base height", &mut self.base_height),
            ("leg thickness", &mut self.base_section),
            ("top thickness", &mut self.top_thickness),
            ("top overhang", &mut self.top_overhang),
            ("board thickness", &mut self.board),
            ("moulding height", &mut self.moulding),
            ("front thickness", &mut self.front_proud),
        ]
    }

    fn build(&self, model: &mut Model) {
        let carcass = Carcass::of(self);
        self.top(model, &carcass);
        carcass.walls(model, self);
        self.front(model, &carcass);
        self.mouldings(model, &carcass);
        self.base(model, &carcass);
    }
}

/// The carcass as a box, in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Carcass {
    pub(super) x: (f64, f64),
    pub(super) y: (f64, f64),
    pub(super) z: (f64, f64),
    pub(super) board: f64,
}

impl Carcass {
    fn of(case: &Case) -> Self {
        let (w, d, h) = (case.width.m(), case.depth.m(), case.height.m());
        let over = case.top_overhang.m().min(w / 4.0).min(d / 4.0);
        let base = if case.base == Base::Floor {
            0.0
        } else {
            case.base_height.m().min(0.7 * h)
        };
        let top = case.top_thickness.m().min(h / 4.0);
        Self {
            x: (over, w - over),
            y: (over, d),
            z: (base, h - top),
            board: case.board.m().min(w / 8.0).min((h - top - base) / 6.0),
        }
    }

    /// Sides, back, bottom and the frame's outer members.
    fn walls(&self, model: &mut Model, case: &Case) {
        let Self {
            x: (x0, x1),
            y: (y0, y1),
            z: (z0, z1),
            board: t,
        } = *self;
        let left = model.surface(Named::flat("left-side", DefaultZone::Body));
        let right = model.surface(Named::flat("right-side", DefaultZone::Body));
        let frame = model.surface(Named::flat("front-frame", DefaultZone::Body));
        let back = model.surface(Named::flat("back", DefaultZone::Back).when(case.back));
        let under = model.surface(Named::flat("underside", DefaultZone::Underside).when(false));
        for (low, high, side, outer, inner) in [
            (x0, x0 + t, left, Side::Left, Side::Right),
            (x1 - t, x1, right, Side::Right, Side::Left),
        ] {
            model
                .cuboid(at(low, y0, z0), at(high, y1, z1), frame)
                .side(outer, side)
                .side(Side::Back, back)
                .side(Side::Bottom, under)
                .hide(&[inner, Side::Top]);
        }
        model
            .cuboid(at(x0 + t, y1 - t / 2.0, z0 + t), at(x1 - t, y1, z1), back)
            .hide(&[Side::Left, Side::Right, Side::Front, Side::Top, Side::Bottom]);
        model
            .cuboid(at(x0 + t, y0, z0), at(x1 - t, y1, z0 + t), frame)
            .side(Side::Bottom, under)
            .side(Side::Back, back)
            .hide(&[Side::Left, Side::Right, Side::Top]);
        model
            .cuboid(at(x0 + t, y0, z1 - t), at(x1 - t, y0 + t, z1), frame)
            .hide(&[Side::Left, Side::Right, Side::Top, Side::Back, Side::Bottom]);
    }

    /// The opening within the walls.
    pub(super) fn opening(&self) -> Opening {
        let t = self.board;
        Opening {
            x: (self.x.0 + t, self.x.1 - t),
            z: (self.z.0 + t, self.z.1 - t),
        }
    }
}

impl Case {
    fn top(&self, model: &mut Model, carcass: &Carcass) {
        let top = model.surface(Named::flat("top", DefaultZone::Top));
        let back = model.surface(Named::flat("back", DefaultZone::Back).when(self.back));
        let (w, d, h) = (self.width.m(), self.depth.m(), self.height.m());
        let Carcass { x, y, z: (_, z1), .. } = *carcass;
        model
            .cuboid(at(0.0, 0.0, z1), at(w, d, h), top)
            .side(Side::Back, back)
            .hide(&[Side::Bottom]);
        // The overhang seen from below: in front, left and right of the carcass.
        let strip = |model: &mut Model, x: (f64, f64), y: (f64, f64)| {
            let corners = [at(x.0, y.0, z1), at(x.0, y.1, z1), at(x.1, y.1, z1), at(x.1, y.0, z1)];
            model.lining(corners, top).unseen();
        };
        // A moulding covers its own part of that.
        let out = self.moulding_size(carcass).map_or(0.0, |(_, out)| out);
        strip(model, (0.0, w), (0.0, y.0 - out));
        strip(model, (0.0, x.0 - out), (y.0 - out, y.1));
        strip(model, (x.1 + out, w), (y.0 - out, y.1));
    }

    fn front(&self, model: &mut Model, carcass: &Carcass) {
        Front::lay_out(self, carcass).build(model);
    }

    /// Height of the moulding and how far it stands out, where there is one.
    fn moulding_size(&self, carcass: &Carcass) -> Option<(f64, f64)> {
        let high = self.moulding.m().min(carcass.board);
        let out = high.min(carcass.x.0 * 0.8);
        (high > 1e-4 && out > 1e-4).then_some((high, out))
    }

    fn mouldings(&self, model: &mut Model, carcass: &Carcass) {
        let Some((high, out)) = self.moulding_size(carcass) else {
            return;
        };
        let surface = model.surface(Named::flat("top-moulding", DefaultZone::Mouldings).by_outline(Detail::Moulded));
        let Carcass {
            x: (x0, x1),
            y: (y0, y1),
            z: (_, z1),
            ..
        } = *carcass;
        let z0 = z1 - high;
        let lip = out * 0.25;
        // A cove, drawn as a splay: narrow below, wide under the top; mitred at the front corners.
        let front = |z: f64, o: f64| {
            [
                at(x0 - o, y0 - o, z),
                at(x1 + o, y0 - o, z),
                at(x1, y0, z),
                at(x0, y0, z),
            ]
        };
        model.hexahedron(front(z0, lip), front(z1, out), surface).hide(&[
            Side::Left,
            Side::Right,
            Side::Back,
            Side::Top,
        ]);
        let left = |z: f64, o: f64| [at(x0 - o, y0 - o, z), at(x0, y0, z), at(x0, y1, z), at(x0 - o, y1, z)];
        model
            .hexahedron(left(z0, lip), left(z1, out), surface)
            .hide(&[Side::Right, Side::Front, Side::Top]);
        let right = |z: f64, o: f64| [at(x1, y0, z), at(x1 + o, y0 - o, z), at(x1 + o, y1, z), at(x1, y1, z)];
        model
            .hexahedron(right(z0, lip), right(z1, out), surface)
            .hide(&[Side::Left, Side::Front, Side::Top]);
    }

    fn base(&self, model: &mut Model, carcass: &Carcass) {
        let Carcass {
            x: (x0, x1),
            y: (y0, y1),
            z: (high, _),
            board,
        } = *carcass;
        let section = self.base_section.m().min((x1 - x0) / 4.0).min((y1 - y0) / 4.0);
        match self.base {
            Base::Floor => {}
            Base::Plinth => {
                let plinth = model.surface(Named::flat("plinth", DefaultZone::Body));
                model
                    .cuboid(
                        at(x0 + section / 3.0, y0 + section, 0.0),
                        at(x1 - section / 3.0, y1, high),
                        plinth,
                    )
                    .hide(&[Side::Top, Side::Bottom, Side::Back]);
            }
            Base::Brackets => brackets(model, carcass, board),
            Base::Legs(style) => {
                let legs = model.surface(Named::flat("legs", DefaultZone::Legs).worked(match style {
                    LegStyle::Turned => Detail::Turned,
                    _ => Detail::Flat,
                }));
                let inset = section / 2.0 + 0.004;
                for (x, y) in [
                    (x0 + inset, y0 + inset),
                    (x1 - inset, y0 + inset),
                    (x1 - inset, y1 - inset),
                    (x0 + inset, y1 - inset),
                ] {
                    let at_corner = Leg {
                        middle: (x, y),
                        bottom: 0.0,
                        top: high,
                        square: 0.0,
                        section,
                    };
                    members::leg(model, style, at_corner, legs);
                }
            }
        }
    }
}

/// Bracket feet: a post at each corner and a low skirt between, flush with front and sides.
fn brackets(model: &mut Model, carcass: &Carcass, board: f64) {
    let Carcass {
        x: (x0, x1),
        y: (y0, y1),
        z: (high, _),
        ..
    } = *carcass;
    let surface = model.surface(Named::flat("bracket-base", DefaultZone::Body));
    let foot = (0.16 * (x1 - x0)).min(0.11).min((y1 - y0) / 3.0);
    let skirt = high * 0.55;
    for (low, high_x) in [(x0, x0 + foot), (x1 - foot, x1)] {
        model
            .cuboid(at(low, y0, 0.0), at(high_x, y0 + board, high), surface)
            .hide(&[Side::Back, Side::Top, Side::Bottom]);
    }
    model
        .cuboid(
            at(x0 + foot, y0, high - skirt),
            at(x1 - foot, y0 + board, high),
            surface,
        )
        .hide(&[Side::Back, Side::Top, Side::Left, Side::Right]);
    for (x, inner) in [((x0, x0 + board), Side::Right), ((x1 - board, x1), Side::Left)] {
        let mut piece = |y: (f64, f64), z: f64| {
            model.cuboid(at(x.0, y.0, z), at(x.1, y.1, high), surface).hide(&[
                inner,
                Side::Top,
                Side::Bottom,
                Side::Front,
                Side::Back,
            ]);
        };
        piece((y0 + board, y0 + foot), 0.0);
        piece((y1 - foot, y1), 0.0);
        piece((y0 + foot, y1 - foot), high - skirt);
    }
}
