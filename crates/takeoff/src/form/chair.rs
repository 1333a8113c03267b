//! The chair: a seat on four legs, the rear ones running up into a raked back.

use serde::{Deserialize, Serialize};

use super::members::{self, Leg};
use super::{LegStyle, Shape};
use crate::dimension::assumed_mm;
use crate::solid::{Axis, Block, Model, Named, Point, Side, SurfaceIndex, Turning, at};
use crate::{DefaultZone, Detail, Dimension};

/// What fills a chair's back between its posts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "count")]
pub enum ChairBack {
    /// Level slats, a ladder back.
    Ladder(u8),
    /// Upright slats under a crest rail.
    Slats(u8),
    /// Upright turned spindles under a crest rail.
    Spindles(u8),
    /// One closed board.
    Board,
    /// No back.
    None,
}

/// What the seat is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seat {
    /// Wood, finished with the rest.
    #[default]
    Wood,
    /// Cane or rush.
    Woven,
    /// Upholstered: taken out, not finished.
    Upholstered,
}

/// Chair or armchair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chair {
    /// Over the seat.
    pub width: Dimension,
    /// From the seat's front to the back of the raked posts.
    pub depth: Dimension,
    /// From the floor to the top of the back.
    pub height: Dimension,
    /// From the floor to the seat.
    pub seat_height: Dimension,
    /// Thickness of the seat.
    pub seat_thickness: Dimension,
    /// Thickness of legs and posts.
    pub leg_section: Dimension,
    /// Width of one slat.
    pub slat_width: Dimension,
    /// How the front legs are made.
    pub legs: LegStyle,
    /// The back.
    pub back: ChairBack,
    /// The seat.
    pub seat: Seat,
    /// Whether rails join the legs low down.
    pub stretchers: bool,
    /// Whether it has arms.
    pub arms: bool,
}

impl Chair {
    /// The usual kitchen chair of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let seat_mm = (height.length.mm() * 0.52).clamp(150.0, 460.0);
        Self {
            width,
            depth,
            height,
            seat_height: assumed_mm(seat_mm),
            seat_thickness: assumed_mm(24.0),
            leg_section: assumed_mm(34.0),
            slat_width: assumed_mm(46.0),
            legs: LegStyle::Tapered,
            back: ChairBack::Slats(5),
            seat: Seat::Wood,
            stretchers: true,
            arms: false,
        }
    }
}

/// The chair in metres, with the line on which the posts lean back.
#[derive(Debug, Clone, Copy)]
struct Frame {
    w: f64,
    seat_depth: f64,
    h: f64,
    seat: (f64, f64),
    section: f64,
    rake: f64,
}

impl Frame {
    fn of(chair: &Chair) -> Self {
        let (w, d, h) = (chair.width.m(), chair.depth.m(), chair.height.m());
        let seat_top = if chair.back == ChairBack::None {
            h
        } else {
            chair.seat_height.m().min(0.8 * h)
        };
        let rake = if chair.back == ChairBack::None {
            0.0
        } else {
            ((h - seat_top) * 0.17).min(d / 4.0)
        };
        Self {
            w,
            seat_depth: d - rake,
            h,
            seat: (seat_top - chair.seat_thickness.m().min(seat_top / 4.0), seat_top),
            section: chair.leg_section.m().min(w / 5.0).min(d / 5.0),
            rake,
        }
    }

    /// The front of a post at height `z` above the seat.
    fn lean(&self, z: f64) -> f64 {
        let share = ((z - self.seat.1) / (self.h - self.seat.1).max(1e-6)).clamp(0.0, 1.0);
        self.seat_depth - self.section + self.rake * share
    }

    /// A member leaning with the posts: x range, z range, and how far its front and back lie behind a post's front.
    fn leaning<'m>(
        &self,
        model: &'m mut Model,
        x: (f64, f64),
        z: (f64, f64),
        y: (f64, f64),
        surface: SurfaceIndex,
    ) -> &'m mut Block {
        let ring = |z: f64| {
            let front = self.lean(z);
            [
                at(x.0, front + y.0, z),
                at(x.1, front + y.0, z),
                at(x.1, front + y.1, z),
                at(x.0, front + y.1, z),
            ]
        };
        model.hexahedron(ring(z.0), ring(z.1), surface)
    }
}

impl Shape for Chair {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("depth", &mut self.depth),
            ("height", &mut self.height),
            ("seat height", &mut self.seat_height),
            ("seat thickness", &mut self.seat_thickness),
            ("leg thickness", &mut self.leg_section),
            ("slat width", &mut self.slat_width),
        ]
    }

    fn build(&self, model: &mut Model) {
        let frame = Frame::of(self);
        self.seat(model, &frame);
        self.legs(model, &frame);
        self.aprons(model, &frame);
        if self.stretchers {
            self.stretchers(model, &frame);
        }
        self.back(model, &frame);
        if self.arms && self.back != ChairBack::None {
            self.arms(model, &frame);
        }
    }
}

impl Chair {
    fn seat(&self, model: &mut Model, f: &Frame) {
        let named = match self.seat {
            Seat::Wood => Named::flat("seat", DefaultZone::Seat),
            Seat::Woven => Named::flat("seat", DefaultZone::Seat).by_outline(Detail::Woven),
            Seat::Upholstered => Named::flat("seat", DefaultZone::Seat).when(false),
        };
        let seat = model.surface(named);
        let under = model.surface(Named::flat("underside", DefaultZone::Underside).when(false));
        // A little narrower at the back, and between the posts there.
        let narrow = f.w * 0.045;
        let front = -0.012;
        let back = if self.back == ChairBack::None {
            f.seat_depth
        } else {
            f.seat_depth - f.section
        };
        let ring = |z: f64| {
            [
                at(0.0, front, z),
                at(f.w, front, z),
                at(f.w - narrow, back, z),
                at(narrow, back, z),
            ]
        };
        model
            .hexahedron(ring(f.seat.0), ring(f.seat.1), seat)
            .side(Side::Bottom, under);
    }

    fn corner_x(f: &Frame) -> (f64, f64) {
        let narrow = f.w * 0.045;
        (narrow, f.w - narrow)
    }

    fn legs(&self, model: &mut Model, f: &Frame) {
        let detail = if self.legs == LegStyle::Turned {
            Detail::Turned
        } else {
            Detail::Flat
        };
        let legs = model.surface(Named::flat("legs", DefaultZone::Legs).worked(detail));
        let half = f.section / 2.0;
        for x in [half + 0.012, f.w - half - 0.012] {
            let leg = Leg {
                middle: (x, half + 0.008),
                bottom: 0.0,
                top: f.seat.0,
                square: 0.07_f64.min(f.seat.0 / 3.0),
                section: f.section,
            };
            members::leg(model, self.legs, leg, legs);
        }
        let (x0, x1) = Self::corner_x(f);
        let posts = if self.back == ChairBack::None {
            legs
        } else {
            model.surface(Named::flat("posts", DefaultZone::Legs))
        };
        for x in [(x0, x0 + f.section), (x1 - f.section, x1)] {
            let top = if self.back == ChairBack::None {
                f.seat.0
            } else {
                f.seat.1
            };
            let y = (f.seat_depth - f.section, f.seat_depth);
            model
                .cuboid(at(x.0, y.0, 0.0), at(x.1, y.1, top), legs)
                .hide(&[Side::Bottom, Side::Top]);
            if self.back != ChairBack::None {
                f.leaning(model, x, (f.seat.1, f.h), (0.0, f.section), posts)
                    .hide(&[Side::Bottom]);
            }
        }
    }

    fn aprons(&self, model: &mut Model, f: &Frame) {
        let rails = model.surface(Named::flat("seat-rails", DefaultZone::Rails));
        let (x0, x1) = Self::corner_x(f);
        let height = 0.05_f64.min(f.seat.0 / 5.0);
        let thick = f.section * 0.5;
        let z = (f.seat.0 - height, f.seat.0);
        let set_in = f.section * 0.25;
        let front_x = (0.012 + f.section, f.w - 0.012 - f.section);
        model
            .cuboid(
                at(front_x.0, 0.008 + set_in, z.0),
                at(front_x.1, 0.008 + set_in + thick, z.1),
                rails,
            )
            .hide(&[Side::Left, Side::Right, Side::Top]);
        let back = f.seat_depth - set_in;
        model
            .cuboid(
                at(x0 + f.section, back - thick, z.0),
                at(x1 - f.section, back, z.1),
                rails,
            )
            .hide(&[Side::Left, Side::Right, Side::Top]);
        let y = (0.008 + f.section, f.seat_depth - f.section);
        for (front, rear) in [
            (0.012 + set_in, x0 + set_in),
            (f.w - 0.012 - set_in - thick, x1 - set_in - thick),
        ] {
            Self::slanting(model, (front, rear, thick), y, z, rails).hide(&[Side::Front, Side::Back, Side::Top]);
        }
    }

    /// A rail from front to back whose x changes on the way.
    fn slanting(
        model: &mut Model,
        (front, rear, thick): (f64, f64, f64),
        y: (f64, f64),
        z: (f64, f64),
        surface: SurfaceIndex,
    ) -> &mut Block {
        let ring = |z: f64| {
            [
                at(front, y.0, z),
                at(front + thick, y.0, z),
                at(rear + thick, y.1, z),
                at(rear, y.1, z),
            ]
        };
        model.hexahedron(ring(z.0), ring(z.1), surface)
    }

    fn stretchers(&self, model: &mut Model, f: &Frame) {
        let rails = model.surface(Named::flat("stretchers", DefaultZone::Rails));
        let (x0, x1) = Self::corner_x(f);
        let thick = f.section * 0.55;
        let into = if self.legs == LegStyle::Square {
            0.0
        } else {
            f.section * 0.2
        };
        let middle = (f.section - thick) / 2.0;
        let y = (0.008 + f.section - into, f.seat_depth - f.section);
        for (level, height) in [(0.28, thick * 1.2)] {
            let z = (f.seat.0 * level, f.seat.0 * level + height);
            for (front, rear) in [
                (0.012 + middle, x0 + middle),
                (f.w - 0.012 - f.section + middle, x1 - f.section + middle),
            ] {
                Self::slanting(model, (front, rear, thick), y, z, rails).hide(&[Side::Front, Side::Back]);
            }
        }
        let z = f.seat.0 * 0.40;
        model
            .cuboid(
                at(0.012 + f.section - into, 0.008 + middle, z),
                at(f.w - 0.012 - f.section + into, 0.008 + middle + thick, z + thick * 1.3),
                rails,
            )
            .hide(&[Side::Left, Side::Right]);
        model
            .cuboid(
                at(x0 + f.section, f.seat_depth - f.section + middle, z),
                at(x1 - f.section, f.seat_depth - middle, z + thick * 1.3),
                rails,
            )
            .hide(&[Side::Left, Side::Right]);
    }

    fn back(&self, model: &mut Model, f: &Frame) {
        let (x0, x1) = Self::corner_x(f);
        let x = (x0 + f.section, x1 - f.section);
        let tall = f.h - f.seat.1;
        let thick = f.section * 0.45;
        let y = (f.section * 0.25, f.section * 0.25 + thick);
        let crest_height = (tall * 0.17).min(0.09);
        let crest = |model: &mut Model| {
            let rails = model.surface(Named::flat("back-rails", DefaultZone::Rails));
            f.leaning(model, x, (f.h - crest_height - 0.008, f.h - 0.008), y, rails);
            f.leaning(
                model,
                x,
                (f.seat.1 + tall * 0.16, f.seat.1 + tall * 0.16 + crest_height * 0.6),
                y,
                rails,
            );
        };
        let upright = (f.seat.1 + tall * 0.16 + crest_height * 0.6, f.h - crest_height - 0.008);
        match self.back {
            ChairBack::None => {}
            ChairBack::Ladder(n) => {
                let slats = model.surface(Named::flat("back-slats", DefaultZone::Slats).worked(Detail::Slatted));
                let n = n.clamp(1, 12);
                let pitch = (tall - 0.04) / f64::from(n);
                let slat = self.slat_width.m().min(pitch * 0.8);
                for i in 0..n {
                    let top = f.h - 0.012 - f64::from(i) * pitch;
                    f.leaning(model, x, (top - slat, top), y, slats);
                }
            }
            ChairBack::Slats(n) => {
                crest(model);
                let slats = model.surface(Named::flat("back-slats", DefaultZone::Slats).worked(Detail::Slatted));
                let n = n.clamp(1, 20);
                let pitch = (x.1 - x.0) / f64::from(n);
                let half = self.slat_width.m().min(pitch * 0.62) / 2.0;
                let y = (y.0 + thick * 0.25, y.1 - thick * 0.25);
                for i in 0..n {
                    let middle = x.0 + (f64::from(i) + 0.5) * pitch;
                    f.leaning(model, (middle - half, middle + half), upright, y, slats);
                }
            }
            ChairBack::Spindles(n) => {
                crest(model);
                let slats = model.surface(Named::flat("back-spindles", DefaultZone::Slats).worked(Detail::Turned));
                let n = n.clamp(1, 20);
                let pitch = (x.1 - x.0) / f64::from(n);
                for i in 0..n {
                    let middle = x.0 + (f64::from(i) + 0.5) * pitch;
                    let y = (f.lean(upright.0) + f.lean(upright.1)) / 2.0 + (y.0 + y.1) / 2.0;
                    spindle(
                        model,
                        at(middle, y, upright.0),
                        upright.1 - upright.0,
                        (pitch * 0.18).min(0.011),
                        slats,
                    );
                }
            }
            ChairBack::Board => {
                let board = model.surface(Named::flat("back-board", DefaultZone::Backrest));
                f.leaning(model, x, (f.seat.1 + tall * 0.14, f.h - 0.008), y, board);
            }
        }
    }

    fn arms(&self, model: &mut Model, f: &Frame) {
        let arms = model.surface(Named::flat("arms", DefaultZone::Rails));
        let (x0, x1) = Self::corner_x(f);
        let z = f.seat.1 + (0.22_f64).min((f.h - f.seat.1) * 0.5);
        let back = f.lean(z);
        let post_y = 0.09_f64.min(f.seat_depth / 4.0);
        for (arm_x, post_x) in [
            ((0.0, f.section * 1.5), 0.012),
            ((f.w - f.section * 1.5, f.w), f.w - 0.012 - f.section),
        ] {
            model
                .cuboid(
                    at(post_x, post_y, f.seat.1),
                    at(post_x + f.section, post_y + f.section, z),
                    arms,
                )
                .hide(&[Side::Bottom, Side::Top]);
            let inner = if arm_x.0 < f.w / 2.0 {
                (arm_x.0, (x0 + f.section).max(arm_x.1))
            } else {
                (arm_x.0.min(x1 - f.section), arm_x.1)
            };
            model
                .cuboid(at(inner.0, post_y - 0.04, z), at(inner.1, back, z + 0.022), arms)
                .hide(&[Side::Back]);
        }
    }
}

/// A slender turned spindle, thickest a third of the way up.
fn spindle(model: &mut Model, foot: Point, height: f64, radius: f64, surface: SurfaceIndex) {
    const SPINDLE: [(f64, f64); 8] = [
        (0.0, 0.55),
        (0.12, 0.70),
        (0.30, 1.0),
        (0.42, 0.85),
        (0.46, 1.05),
        (0.50, 0.85),
        (0.75, 0.68),
        (1.0, 0.50),
    ];
    model.turning(Turning {
        foot,
        axis: Axis::Up,
        profile: SPINDLE.iter().map(|(s, r)| (s * height, r * radius)).collect(),
        surface,
        first_disc: false,
        last_disc: false,
    });
}
