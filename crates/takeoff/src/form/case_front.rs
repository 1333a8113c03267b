//! A case's front: drawers, open bays and doors one above the other, with the rails between.

use super::case::Carcass;
use super::door::{Leaf, leaf};
use super::{Case, Grid, Pull, members};
use crate::solid::{Model, Named, Point, Side, at};
use crate::{DefaultZone, Detail};

/// A rectangle of the front, in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Opening {
    pub(super) x: (f64, f64),
    pub(super) z: (f64, f64),
}

/// What closes a band of the front, or nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Band {
    Drawers,
    Open,
    Doors,
    Closed,
}

/// The bands of a front with their places.
pub(super) struct Front<'a> {
    case: &'a Case,
    carcass: Carcass,
    bands: Vec<(Band, Opening)>,
}

/// Most doors side by side that are modelled.
const MOST_DOORS: u8 = 16;
/// Most open bays one above the other.
const MOST_BAYS: u8 = 24;
/// How far a drawer or door laps over the frame around its opening.
const LAP_M: f64 = 0.006;

impl<'a> Front<'a> {
    /// Divides the height: a door takes as much as three drawers, an open bay as two; drawers over doors stay shallow.
    pub(super) fn lay_out(case: &'a Case, carcass: &Carcass) -> Self {
        let whole = carcass.opening();
        let grid = case.drawers.bounded();
        let has_drawers = grid.rows > 0 && grid.columns > 0;
        let mut wanted = Vec::new();
        if has_drawers {
            wanted.push((Band::Drawers, f64::from(grid.rows)));
        }
        if case.open_bays > 0 {
            wanted.push((Band::Open, 2.0 * f64::from(case.open_bays.min(MOST_BAYS))));
        }
        if case.doors > 0 {
            wanted.push((Band::Doors, 3.0));
        }
        if wanted.is_empty() {
            wanted.push((Band::Closed, 1.0));
        }
        let rail = carcass.board;
        let total: f64 = wanted.iter().map(|(_, weight)| weight).sum();
        let free = (whole.z.1 - whole.z.0 - rail * (wanted.len() - 1) as f64).max(0.0);
        let mut high = whole.z.1;
        let mut bands = Vec::new();
        for (band, weight) in wanted {
            let low = high - free * weight / total;
            bands.push((
                band,
                Opening {
                    x: whole.x,
                    z: (low, high),
                },
            ));
            high = low - rail;
        }
        Self {
            case,
            carcass: *carcass,
            bands,
        }
    }

    pub(super) fn build(&self, model: &mut Model) {
        for (place, (band, opening)) in self.bands.iter().enumerate() {
            if place > 0 {
                self.divider(model, opening.z.1);
            }
            match band {
                Band::Drawers => self.drawers(model, *opening),
                Band::Open => self.open(model, *opening),
                Band::Doors => self.doors(model, *opening),
                Band::Closed => self.closed(model, *opening),
            }
        }
    }

    /// A board through the whole depth whose underside is at `z`.
    fn divider(&self, model: &mut Model, z: f64) {
        let frame = model.surface(Named::flat("front-frame", DefaultZone::Body));
        let Opening { x, .. } = self.carcass.opening();
        let (y0, y1) = self.carcass.y;
        model
            .cuboid(
                at(x.0, y0, z),
                at(x.1, y1 - self.carcass.board / 2.0, z + self.carcass.board),
                frame,
            )
            .hide(&[Side::Left, Side::Right, Side::Back, Side::Top, Side::Bottom]);
    }

    /// A member of the face frame only.
    fn frame_member(&self, model: &mut Model, x: (f64, f64), z: (f64, f64)) {
        let frame = model.surface(Named::flat("front-frame", DefaultZone::Body));
        let y0 = self.carcass.y.0;
        model
            .cuboid(at(x.0, y0, z.0), at(x.1, y0 + self.carcass.board, z.1), frame)
            .hide(&[Side::Left, Side::Right, Side::Back, Side::Top, Side::Bottom]);
    }

    fn drawers(&self, model: &mut Model, band: Opening) {
        let Grid { rows, columns } = self.case.drawers.bounded();
        let rail = self.carcass.board;
        let width = (band.x.1 - band.x.0 - rail * (f64::from(columns) - 1.0)) / f64::from(columns);
        let free = band.z.1 - band.z.0 - rail * (f64::from(rows) - 1.0);
        if width < 0.02 || free < 0.02 {
            return self.closed(model, band);
        }
        // Lower drawers are a little deeper, as is usual.
        let weight = |row: u8| 1.0 + 0.14 * f64::from(row);
        let total: f64 = (0..rows).map(weight).sum();
        let mut high = band.z.1;
        let mut number = 0_u16;
        for row in 0..rows {
            let low = high - free * weight(row) / total;
            for column in 0..columns {
                let left = band.x.0 + f64::from(column) * (width + rail);
                number += 1;
                let place = Opening {
                    x: (left, left + width),
                    z: (low, high),
                };
                self.drawer(model, place, number);
                if column > 0 {
                    self.frame_member(model, (left - rail, left), (low, high));
                }
            }
            if row > 0 {
                self.frame_member(model, band.x, (high, high + rail));
            }
            high = low - rail;
        }
        self.lining(model, band, false);
    }

    fn drawer(&self, model: &mut Model, opening: Opening, number: u16) {
        let surface = model.surface(Named::flat(format!("drawer-front-{number}"), DefaultZone::DrawerFronts));
        let Opening { x, z } = opening;
        let (y0, out, lap) = (self.carcass.y.0, self.proud(), self.lap());
        model
            .cuboid(
                at(x.0 - lap, y0 - out, z.0 - lap),
                at(x.1 + lap, y0, z.1 + lap),
                surface,
            )
            .hide(&[Side::Back]);
        let middle = at((x.0 + x.1) / 2.0, y0 - out, (z.0 + z.1) / 2.0);
        self.pulls(model, middle, x.1 - x.0);
    }

    fn lap(&self) -> f64 {
        LAP_M.min(self.carcass.board / 3.0)
    }

    fn proud(&self) -> f64 {
        self.case.front_proud.m().clamp(0.002, 0.05)
    }

    /// One pull in the middle, or two on a wide drawer.
    fn pulls(&self, model: &mut Model, middle: Point, width: f64) {
        if self.case.pull == Pull::None {
            return;
        }
        let hardware = model.surface(hardware());
        let places: &[f64] = if width > 0.48 { &[-0.27, 0.27] } else { &[0.0] };
        for share in places {
            let place = at(middle.x + share * width, middle.y, middle.z);
            match self.case.pull {
                Pull::Knob => members::knob(model, place, 0.016, hardware),
                Pull::Bar => members::bar(model, place, (width * 0.3).min(0.13), hardware),
                Pull::None => {}
            }
        }
    }

    fn doors(&self, model: &mut Model, band: Opening) {
        let n = self.case.doors.min(MOST_DOORS);
        let lap = self.lap();
        // Doors meet with a small gap; the frame shows around them.
        let width = (band.x.1 - band.x.0 + 2.0 * lap) / f64::from(n);
        let gap = 0.002;
        for door in 0..n {
            let left = band.x.0 - lap + f64::from(door) * width;
            let place = Leaf {
                x: (left + if door > 0 { gap } else { 0.0 }, left + width),
                z: (band.z.0 - lap, band.z.1 + lap),
                y: (self.carcass.y.0 - self.proud().max(0.012), self.carcass.y.0),
                stile: (width * 0.16).clamp(0.03, 0.07),
                panels: (1, 1),
                both_faces: false,
            };
            let surface = model.surface(door_surface(
                format!("door-{}", u16::from(door) + 1),
                self.case.door_style,
            ));
            leaf(model, self.case.door_style, &place, surface, surface);
            if self.case.pull != Pull::None {
                // Pairs meet in the middle: even doors open at their right edge, odd at their left; one alone at its right.
                let right = door % 2 == 0;
                let edge = place.stile / 2.0;
                let x = if right { place.x.1 - edge } else { place.x.0 + edge };
                let height = (band.z.1 - band.z.0) * if band.z.1 > 1.2 { 0.5 } else { 0.68 };
                let hardware = model.surface(hardware());
                members::knob(model, at(x, place.y.0, band.z.0 + height), 0.014, hardware);
            }
        }
        self.lining(model, band, false);
    }

    fn open(&self, model: &mut Model, band: Opening) {
        let n = self.case.open_bays.min(MOST_BAYS);
        let t = self.carcass.board;
        let shelves = model.surface(Named::flat("shelves", DefaultZone::Shelves));
        let free = (band.z.1 - band.z.0 - t * (f64::from(n) - 1.0)) / f64::from(n);
        let y = (self.carcass.y.0 + 0.004, self.carcass.y.1 - t / 2.0);
        let mut low = band.z.0;
        for bay in 0..n {
            let opening = Opening {
                x: band.x,
                z: (low, low + free),
            };
            self.lining(model, opening, true);
            low += free;
            if bay + 1 < n {
                // Its level faces are the linings of the bays above and below.
                model
                    .cuboid(at(band.x.0, y.0, low), at(band.x.1, y.1, low + t), shelves)
                    .hide(&[Side::Left, Side::Right, Side::Back, Side::Top, Side::Bottom]);
                low += t;
            }
        }
    }

    /// The inside of a bay: two sides, back, floor and ceiling, each seen from within.
    fn lining(&self, model: &mut Model, band: Opening, open: bool) {
        let named = if open {
            Named::flat("open-bays", DefaultZone::Shelves).worked(Detail::Interior)
        } else {
            Named::flat("inside", DefaultZone::Inside)
                .worked(Detail::Interior)
                .when(self.case.inside)
        };
        let surface = model.surface(named);
        let Opening { x, z } = band;
        let (y0, y1) = (self.carcass.y.0, self.carcass.y.1 - self.carcass.board / 2.0);
        let rings = [
            [at(x.0, y0, z.0), at(x.0, y1, z.0), at(x.0, y1, z.1), at(x.0, y0, z.1)],
            [at(x.1, y1, z.0), at(x.1, y0, z.0), at(x.1, y0, z.1), at(x.1, y1, z.1)],
            [at(x.0, y1, z.0), at(x.1, y1, z.0), at(x.1, y1, z.1), at(x.0, y1, z.1)],
            [at(x.0, y0, z.0), at(x.1, y0, z.0), at(x.1, y1, z.0), at(x.0, y1, z.0)],
            [at(x.0, y0, z.1), at(x.0, y1, z.1), at(x.1, y1, z.1), at(x.1, y0, z.1)],
        ];
        for ring in rings {
            let block = model.lining(ring, surface);
            if !open {
                block.unseen();
            }
        }
    }

    /// A closed front of one board.
    fn closed(&self, model: &mut Model, band: Opening) {
        let surface = model.surface(Named::flat("front-panel", DefaultZone::Body));
        let y0 = self.carcass.y.0;
        model
            .cuboid(
                at(band.x.0, y0, band.z.0),
                at(band.x.1, y0 + self.carcass.board, band.z.1),
                surface,
            )
            .hide(&[Side::Left, Side::Right, Side::Back, Side::Top, Side::Bottom]);
        self.lining(model, band, false);
    }
}

/// Knobs, pulls, handles.
pub(super) fn hardware() -> Named {
    Named::flat("hardware", DefaultZone::Hardware).worked(Detail::Turned)
}

/// A door's surface: framed and raised ones are moulded work, modelled as they are.
pub(super) fn door_surface(id: String, style: super::DoorStyle) -> Named {
    Named::flat(id, DefaultZone::Doors).worked(match style {
        super::DoorStyle::Flat => Detail::Flat,
        super::DoorStyle::Framed | super::DoorStyle::Raised => Detail::Moulded,
    })
}
