//! Tables, and benches and stools, which are made the same way: a top on legs with an apron.

use serde::{Deserialize, Serialize};

use super::members::{self, Leg};
use super::{LegStyle, Shape};
use crate::dimension::assumed_mm;
use crate::solid::{Model, Named, Side, Slab, at};
use crate::{DefaultZone, Detail, Dimension};

/// The outline of a top seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outline {
    /// Width by depth.
    #[default]
    Rectangle,
    /// Round or oval within width by depth.
    Oval,
}

/// Table or desk.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Table {
    /// Of the top.
    pub width: Dimension,
    /// Of the top.
    pub depth: Dimension,
    /// From the floor to the top.
    pub height: Dimension,
    /// Of the top.
    pub outline: Outline,
    /// Thickness of the top.
    pub top_thickness: Dimension,
    /// How far the top stands over the legs.
    pub top_overhang: Dimension,
    /// Height of the apron; nothing for none.
    pub apron_height: Dimension,
    /// How the legs are made.
    pub legs: LegStyle,
    /// Thickness of the legs.
    pub leg_section: Dimension,
    /// Loose leaves laid in between the halves of a rectangular top.
    pub leaves: u8,
    /// Drawers in the front apron.
    pub drawers: u8,
    /// Whether the underside of the top is finished too.
    pub underside: bool,
}

/// Bench or stool.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bench {
    /// Of the seat.
    pub width: Dimension,
    /// Of the seat.
    pub depth: Dimension,
    /// From the floor to the seat.
    pub height: Dimension,
    /// Of the seat.
    pub outline: Outline,
    /// Thickness of the seat.
    pub seat_thickness: Dimension,
    /// Height of the apron; nothing for none.
    pub apron_height: Dimension,
    /// How the legs are made.
    pub legs: LegStyle,
    /// Thickness of the legs.
    pub leg_section: Dimension,
    /// Whether rails join the legs low down.
    pub stretchers: bool,
    /// Boards of a slatted seat; 0 or 1 for a closed one.
    pub seat_slats: u8,
}

impl Table {
    /// The usual table of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let large = width.length.m() > 0.9;
        Self {
            width,
            depth,
            height,
            outline: Outline::Rectangle,
            top_thickness: assumed_mm(if large { 24.0 } else { 19.0 }),
            top_overhang: assumed_mm(if large { 40.0 } else { 25.0 }),
            apron_height: assumed_mm(if large { 95.0 } else { 70.0 }),
            legs: LegStyle::Tapered,
            leg_section: assumed_mm(if large { 65.0 } else { 42.0 }),
            leaves: 0,
            drawers: 0,
            underside: false,
        }
    }
}

impl Bench {
    /// The usual bench of this size; a stool when it is about as wide as deep.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let stool = width.length.m() < 1.4 * depth.length.m();
        Self {
            width,
            depth,
            height,
            outline: if stool { Outline::Oval } else { Outline::Rectangle },
            seat_thickness: assumed_mm(if stool { 28.0 } else { 32.0 }),
            apron_height: assumed_mm(if stool { 0.0 } else { 70.0 }),
            legs: if stool { LegStyle::Turned } else { LegStyle::Square },
            leg_section: assumed_mm(if stool { 36.0 } else { 55.0 }),
            stretchers: true,
            seat_slats: 0,
        }
    }
}

/// Top and legs as both forms have them, in metres.
struct Stand<'a> {
    size: (f64, f64, f64),
    outline: Outline,
    thickness: f64,
    overhang: f64,
    apron: f64,
    legs: LegStyle,
    section: f64,
    boards: u8,
    gap: f64,
    drawers: u8,
    stretchers: bool,
    top: (&'a str, DefaultZone),
    underside: bool,
}

impl Shape for Table {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("depth", &mut self.depth),
            ("height", &mut self.height),
            ("top thickness", &mut self.top_thickness),
            ("top overhang", &mut self.top_overhang),
            ("apron height", &mut self.apron_height),
            ("leg thickness", &mut self.leg_section),
        ]
    }

    fn build(&self, model: &mut Model) {
        Stand {
            size: (self.width.m(), self.depth.m(), self.height.m()),
            outline: self.outline,
            thickness: self.top_thickness.m(),
            overhang: self.top_overhang.m(),
            apron: self.apron_height.m(),
            legs: self.legs,
            section: self.leg_section.m(),
            boards: if self.leaves > 0 {
                self.leaves.saturating_add(2)
            } else {
                1
            },
            gap: 0.0,
            drawers: self.drawers,
            stretchers: false,
            top: ("top", DefaultZone::Top),
            underside: self.underside,
        }
        .build(model);
    }
}

impl Shape for Bench {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("depth", &mut self.depth),
            ("height", &mut self.height),
            ("seat thickness", &mut self.seat_thickness),
            ("apron height", &mut self.apron_height),
            ("leg thickness", &mut self.leg_section),
        ]
    }

    fn build(&self, model: &mut Model) {
        Stand {
            size: (self.width.m(), self.depth.m(), self.height.m()),
            outline: self.outline,
            thickness: self.seat_thickness.m(),
            overhang: 0.02,
            apron: self.apron_height.m(),
            legs: self.legs,
            section: self.leg_section.m(),
            boards: self.seat_slats.max(1),
            gap: 0.012,
            drawers: 0,
            stretchers: self.stretchers,
            top: ("seat", DefaultZone::Seat),
            underside: false,
        }
        .build(model);
    }
}

impl Stand<'_> {
    fn build(&self, model: &mut Model) {
        let (w, d, h) = self.size;
        let thickness = self.thickness.min(h / 3.0);
        let z1 = h - thickness;
        self.top(model, z1, h);
        // Within a round top the legs stand in the square that the rim holds.
        let inset = match self.outline {
            Outline::Rectangle => (self.overhang, self.overhang),
            Outline::Oval => (w * 0.17 + 0.01, d * 0.17 + 0.01),
        };
        let section = self.section.min(w / 4.0).min(d / 4.0);
        let x = (inset.0.min(w / 3.0), w - inset.0.min(w / 3.0));
        let y = (inset.1.min(d / 3.0), d - inset.1.min(d / 3.0));
        let apron = self.apron.min(z1 / 2.0);
        self.legs(model, x, y, z1, section, apron);
        if apron > 1e-4 {
            self.aprons(model, x, y, (z1 - apron, z1), section);
        }
        if self.stretchers {
            self.stretchers(model, x, y, z1, section);
        }
    }

    fn top(&self, model: &mut Model, z1: f64, h: f64) {
        let (w, d, _) = self.size;
        let (id, zone) = self.top;
        let mut named = Named::flat(id, zone);
        if self.gap > 0.0 && self.boards > 1 {
            named = named.worked(Detail::Slatted);
        }
        let top = model.surface(named);
        let under = model.surface(Named::flat("underside", DefaultZone::Underside).when(self.underside));
        if self.outline == Outline::Oval {
            model.slab(Slab {
                middle: at(w / 2.0, d / 2.0, z1),
                radii: (w / 2.0, d / 2.0),
                thickness: h - z1,
                surface: top,
                underside: under,
            });
            return;
        }
        let n = self.boards.clamp(1, 24);
        // Leaves lie along the depth of a table, slats along the width of a bench.
        let along_width = self.gap > 0.0;
        let whole = if along_width { d } else { w };
        let gap = self.gap.min(whole / (4.0 * f64::from(n)));
        let board = (whole - gap * (f64::from(n) - 1.0)) / f64::from(n);
        for i in 0..n {
            let from = f64::from(i) * (board + gap);
            let to = from + board;
            let (low, high) = if along_width {
                (at(0.0, from, z1), at(w, to, h))
            } else {
                (at(from, 0.0, z1), at(to, d, h))
            };
            model.cuboid(low, high, top).side(Side::Bottom, under);
        }
    }

    fn legs(&self, model: &mut Model, x: (f64, f64), y: (f64, f64), z1: f64, section: f64, apron: f64) {
        let detail = if self.legs == LegStyle::Turned {
            Detail::Turned
        } else {
            Detail::Flat
        };
        let legs = model.surface(Named::flat("legs", DefaultZone::Legs).worked(detail));
        let half = section / 2.0;
        for middle in [
            (x.0 + half, y.0 + half),
            (x.1 - half, y.0 + half),
            (x.1 - half, y.1 - half),
            (x.0 + half, y.1 - half),
        ] {
            let square = if apron > 1e-4 { apron + 0.012 } else { 0.0 };
            members::leg(
                model,
                self.legs,
                Leg {
                    middle,
                    bottom: 0.0,
                    top: z1,
                    square,
                    section,
                },
                legs,
            );
        }
    }

    fn aprons(&self, model: &mut Model, x: (f64, f64), y: (f64, f64), z: (f64, f64), section: f64) {
        let aprons = model.surface(Named::flat("aprons", DefaultZone::Body));
        let (thick, back) = (0.02_f64.min(section / 2.0), section * 0.15);
        for y0 in [y.0 + back, y.1 - back - thick] {
            model
                .cuboid(at(x.0 + section, y0, z.0), at(x.1 - section, y0 + thick, z.1), aprons)
                .hide(&[Side::Left, Side::Right, Side::Top]);
        }
        for x0 in [x.0 + back, x.1 - back - thick] {
            model
                .cuboid(at(x0, y.0 + section, z.0), at(x0 + thick, y.1 - section, z.1), aprons)
                .hide(&[Side::Front, Side::Back, Side::Top]);
        }
        self.apron_drawers(model, (x.0 + section, x.1 - section), y.0 + back, z);
    }

    fn apron_drawers(&self, model: &mut Model, x: (f64, f64), y: f64, z: (f64, f64)) {
        let n = self.drawers.min(8);
        let hardware = super::case_front::hardware();
        for i in 0..n {
            let step = (x.1 - x.0) / f64::from(n);
            let (left, right) = (x.0 + f64::from(i) * step + 0.02, x.0 + f64::from(i + 1) * step - 0.02);
            let front = model.surface(Named::flat(
                format!("drawer-front-{}", u16::from(i) + 1),
                DefaultZone::DrawerFronts,
            ));
            model
                .cuboid(at(left, y - 0.006, z.0 + 0.012), at(right, y, z.1 - 0.012), front)
                .hide(&[Side::Back]);
            let hardware = model.surface(hardware.clone());
            members::knob(
                model,
                at((left + right) / 2.0, y - 0.006, (z.0 + z.1) / 2.0),
                0.014,
                hardware,
            );
        }
    }

    fn stretchers(&self, model: &mut Model, x: (f64, f64), y: (f64, f64), z1: f64, section: f64) {
        let rails = model.surface(Named::flat("stretchers", DefaultZone::Rails));
        let thick = (section * 0.5).min(0.03);
        let z = z1 * 0.22;
        // Where a leg tapers or is turned, the rail runs into it.
        let into = match self.legs {
            LegStyle::Square => 0.0,
            LegStyle::Tapered => section * 0.15,
            LegStyle::Turned | LegStyle::Rod => section * 0.25,
        };
        let (left, right) = (x.0 + section - into, x.1 - section + into);
        let (near, far) = (y.0 + section - into, y.1 - section + into);
        let middle = (y.0 + y.1) / 2.0;
        for x0 in [x.0 + (section - thick) / 2.0, x.1 - (section + thick) / 2.0] {
            model
                .cuboid(at(x0, near, z), at(x0 + thick, far, z + thick * 1.3), rails)
                .hide(&[Side::Front, Side::Back]);
        }
        if self.outline == Outline::Oval {
            for y0 in [y.0 + (section - thick) / 2.0, y.1 - (section + thick) / 2.0] {
                model
                    .cuboid(
                        at(left, y0, z * 1.5),
                        at(right, y0 + thick, z * 1.5 + thick * 1.3),
                        rails,
                    )
                    .hide(&[Side::Left, Side::Right]);
            }
        } else {
            let inner = (section + thick) / 2.0;
            model
                .cuboid(
                    at(x.0 + inner, middle - thick / 2.0, z),
                    at(x.1 - inner, middle + thick / 2.0, z + thick * 1.3),
                    rails,
                )
                .hide(&[Side::Left, Side::Right]);
        }
    }
}
