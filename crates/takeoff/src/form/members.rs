//! Members that several forms share: legs and knobs.

use serde::{Deserialize, Serialize};

use crate::solid::{Axis, Model, Point, Side, SurfaceIndex, Turning, at};

/// How legs and posts are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LegStyle {
    /// Square all the way down.
    Square,
    /// Square above, tapering to the foot on all sides.
    #[default]
    Tapered,
    /// A square block above, turned below.
    Turned,
    /// Slender round tube or rod, as of steel.
    Rod,
}

/// Where one leg stands and how thick it is, in metres.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Leg {
    pub(crate) middle: (f64, f64),
    pub(crate) bottom: f64,
    pub(crate) top: f64,
    /// How much of its upper end stays square, for the apron to join.
    pub(crate) square: f64,
    /// Side of the square, or largest diameter.
    pub(crate) section: f64,
}

/// A turned leg below its square block: share of the height from the floor, share of the largest radius.
const TURNED_LEG: [(f64, f64); 15] = [
    (0.0, 0.42),
    (0.03, 0.60),
    (0.07, 0.60),
    (0.10, 0.44),
    (0.30, 0.58),
    (0.60, 0.78),
    (0.72, 0.92),
    (0.80, 1.0),
    (0.86, 0.88),
    (0.895, 0.56),
    (0.91, 0.56),
    (0.93, 0.84),
    (0.955, 0.84),
    (0.975, 0.58),
    (1.0, 0.66),
];

/// Adds a leg.
pub(crate) fn leg(model: &mut Model, style: LegStyle, leg: Leg, surface: SurfaceIndex) {
    let Leg {
        middle: (x, y),
        bottom,
        top,
        square,
        section,
    } = leg;
    let half = section / 2.0;
    let ring = |half: f64, z: f64| {
        [
            at(x - half, y - half, z),
            at(x + half, y - half, z),
            at(x + half, y + half, z),
            at(x - half, y + half, z),
        ]
    };
    let knee = (top - square).max(bottom);
    match style {
        LegStyle::Square => {
            model
                .hexahedron(ring(half, bottom), ring(half, top), surface)
                .hide(&[Side::Bottom, Side::Top]);
        }
        LegStyle::Tapered => {
            let foot = half * 0.58;
            model
                .hexahedron(ring(foot, bottom), ring(half, knee), surface)
                .hide(&[Side::Bottom, Side::Top]);
            if square > 0.0 {
                model
                    .hexahedron(ring(half, knee), ring(half, top), surface)
                    .hide(&[Side::Bottom, Side::Top]);
            }
        }
        LegStyle::Turned => {
            let height = knee - bottom;
            model.turning(Turning {
                foot: at(x, y, bottom),
                axis: Axis::Up,
                profile: TURNED_LEG.iter().map(|(s, r)| (s * height, r * half)).collect(),
                surface,
                first_disc: false,
                last_disc: false,
            });
            if square > 0.0 {
                model
                    .hexahedron(ring(half, knee), ring(half, top), surface)
                    .hide(&[Side::Top]);
            }
        }
        LegStyle::Rod => model.turning(Turning {
            foot: at(x, y, bottom),
            axis: Axis::Up,
            profile: vec![(0.0, half), (top - bottom, half)],
            surface,
            first_disc: false,
            last_disc: false,
        }),
    }
}

/// A knob on a front: `foot` is where it meets the wood.
pub(crate) fn knob(model: &mut Model, foot: Point, radius: f64, surface: SurfaceIndex) {
    const KNOB: [(f64, f64); 7] = [
        (0.0, 0.52),
        (0.5, 0.46),
        (0.8, 0.86),
        (1.15, 1.0),
        (1.5, 0.9),
        (1.75, 0.55),
        (1.82, 0.0),
    ];
    model.turning(Turning {
        foot,
        axis: Axis::Forward,
        profile: KNOB.iter().map(|(s, r)| (s * radius, r * radius)).collect(),
        surface,
        first_disc: false,
        last_disc: false,
    });
}

/// A bar pull on two feet, level on a front.
pub(crate) fn bar(model: &mut Model, middle: Point, width: f64, surface: SurfaceIndex) {
    const THICK: f64 = 0.010;
    const OUT: f64 = 0.028;
    for end in [-1.0, 1.0] {
        let x = middle.x + end * (width / 2.0 - THICK);
        model
            .cuboid(
                at(x - THICK / 2.0, middle.y - OUT + THICK, middle.z - THICK / 2.0),
                at(x + THICK / 2.0, middle.y, middle.z + THICK / 2.0),
                surface,
            )
            .hide(&[Side::Back]);
    }
    model.cuboid(
        at(middle.x - width / 2.0, middle.y - OUT, middle.z - THICK / 2.0),
        at(middle.x + width / 2.0, middle.y - OUT + THICK, middle.z + THICK / 2.0),
        surface,
    );
}
