//! Views of a front with a sheet on it, by a pinhole model of their own.
//!
//! A camera stands somewhere and looks at something; its lens distorts by a polynomial of the distance from its middle (the
//! crate reckons with another formula); taps have an error; the sheet is cut, lies and curls a little wrongly; the front is
//! a little out of square. Nothing of the crate is used but its types and the size and aim that it states.

use takeoff::photograph::{Aim, Picture, Sheet, Tap};

/// A small generator of random numbers (the 64-bit counter-and-mix kind), for the views alone.
pub(super) struct Chance(pub(super) u64);

impl Chance {
    /// Evenly between two numbers.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        let high_bits = u32::try_from(mixed >> 32).unwrap();
        low + (high - low) * (f64::from(high_bits) + 0.5) / 4_294_967_296.0
    }

    /// A normal error.
    pub(super) fn error(&mut self, deviation: f64) -> f64 {
        let radius = (-2.0 * self.between(0.0, 1.0).ln()).sqrt();
        deviation * radius * self.between(0.0, std::f64::consts::TAU).cos()
    }

    fn heads(&mut self) -> bool {
        self.between(0.0, 1.0) < 0.5
    }
}

type Point = [f64; 3];

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn unit(v: Point) -> Point {
    let length = dot(v, v).sqrt();
    v.map(|x| x / length)
}

fn across(a: Point, b: Point) -> Point {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// A camera: where it stands, its three directions, and what it is. The front is the plane z = 0, y upwards.
pub(super) struct Camera {
    pub(super) stands: Point,
    pub(super) right: Point,
    pub(super) up: Point,
    pub(super) forward: Point,
    pub(super) focal_px: f64,
    pub(super) middle_px: [f64; 2],
    /// Third- and fifth-order distortion, with the half diagonal as one.
    pub(super) distortion: [f64; 2],
    pub(super) picture: Picture,
}

impl Camera {
    /// Looks from a direction (degrees to the side and upwards) and a distance at a target on the front.
    pub(super) fn looking(target: Point, side: f64, above: f64, roll: f64, distance: f64) -> [Point; 4] {
        let (side, above, roll) = (side.to_radians(), above.to_radians(), roll.to_radians());
        let from = [side.sin() * above.cos(), above.sin(), side.cos() * above.cos()];
        let forward = from.map(|x| -x);
        let level = unit(across(forward, [0.0, 1.0, 0.0]));
        let upright = across(level, forward);
        let mix = |a: Point, b: Point, s: f64, t: f64| [0, 1, 2].map(|i: usize| a[i] * s + b[i] * t);
        let right = mix(level, upright, roll.cos(), roll.sin());
        let up = mix(upright, level, roll.cos(), -roll.sin());
        let stands = [0, 1, 2].map(|i: usize| target[i] + distance * from[i]);
        [stands, right, up, forward]
    }

    /// Angle between the line of sight to a point of the front and the front's normal.
    pub(super) fn off_square_degrees(&self, point: Point) -> f64 {
        let sight = unit([0, 1, 2].map(|i: usize| point[i] - self.stands[i]));
        sight[2].abs().acos().to_degrees()
    }

    pub(super) fn render(&self, point: Point) -> Tap {
        let from = [0, 1, 2].map(|i: usize| point[i] - self.stands[i]);
        let depth = dot(from, self.forward);
        assert!(depth > 0.0);
        let half = f64::hypot(self.picture.width_px, self.picture.height_px) / 2.0;
        let x = self.focal_px * dot(from, self.right) / depth / half;
        let y = -self.focal_px * dot(from, self.up) / depth / half;
        let r2 = x * x + y * y;
        let stretch = half * (1.0 + self.distortion[0] * r2 + self.distortion[1] * r2 * r2);
        Tap {
            x_px: self.middle_px[0] + x * stretch,
            y_px: self.middle_px[1] + y * stretch,
        }
    }
}

/// What is photographed and how, at random within stated bounds.
pub(super) struct Setting {
    pub(super) sheet: Sheet,
    /// Least and greatest width of the front, in metres; its height is 0.5 to 1 of that.
    pub(super) width_m: (f64, f64),
    /// Greatest angle to the side and above or below, in degrees.
    pub(super) askew: (f64, f64),
    pub(super) aim: Aim,
    /// Whether the front's own corners are tapped as a rectangle.
    pub(super) rectangle: bool,
}

/// A view and its truth.
pub(super) struct Shot {
    pub(super) camera: Camera,
    pub(super) corners: [Tap; 4],
    pub(super) front: [Tap; 4],
    /// The sheet's middle.
    pub(super) middle: Point,
    /// Ends of the width and the height measured, and their lengths in metres.
    pub(super) spans: [([Tap; 2], f64); 2],
}

pub(super) fn shot(setting: &Setting, distorted: bool, chance: &mut Chance) -> Shot {
    let side = chance.between(-setting.askew.0, setting.askew.0);
    let above = chance.between(-setting.askew.1, setting.askew.1);
    shot_from(setting, distorted, [side, above], chance)
}

/// The same seen from given angles to the side and above, in degrees.
pub(super) fn shot_from(setting: &Setting, distorted: bool, [side, above]: [f64; 2], chance: &mut Chance) -> Shot {
    let width = chance.between(setting.width_m.0, setting.width_m.1);
    let height = width * chance.between(0.5, 1.0);
    let picture = if chance.heads() {
        Picture {
            width_px: 4032.0,
            height_px: 3024.0,
        }
    } else {
        Picture {
            width_px: 3024.0,
            height_px: 4032.0,
        }
    };
    let half = f64::hypot(picture.width_px, picture.height_px) / 2.0;
    // 22 to 52 mm as on 35 mm film, whose half diagonal is 21.63 mm.
    let film_mm = 22.0 * (52.0_f64 / 22.0).powf(chance.between(0.0, 1.0));
    let bend = if distorted {
        chance.error(0.01).clamp(-0.02, 0.02)
    } else {
        0.0
    };
    let fifth = if distorted { chance.error(0.002) } else { 0.0 };
    let target = [
        width * chance.between(-0.08, 0.08),
        height * chance.between(-0.08, 0.08),
        0.0,
    ];
    let roll = chance.error(3.0);
    let fill = chance.between(0.75, 0.95);
    let mut camera = Camera {
        stands: [0.0; 3],
        right: [0.0; 3],
        up: [0.0; 3],
        forward: [0.0; 3],
        focal_px: film_mm / 21.633 * half,
        middle_px: [
            picture.width_px / 2.0 + chance.error(0.005 * half),
            picture.height_px / 2.0 + chance.error(0.005 * half),
        ],
        distortion: [bend, fifth],
        picture,
    };
    let (x, y) = (width / 2.0, height / 2.0);
    // Out of square by a millimetre or so at each corner.
    let front: [Point; 4] =
        [[-x, y], [x, y], [x, -y], [-x, -y]].map(|[x, y]| [x + chance.error(0.001), y + chance.error(0.001), 0.0]);
    // As close as the front's corners allow.
    let (mut near, mut far) = (0.3 * width, 20.0 * width);
    for _ in 0..60 {
        let distance = f64::midpoint(near, far);
        [camera.stands, camera.right, camera.up, camera.forward] = Camera::looking(target, side, above, roll, distance);
        let fits = front.iter().all(|&corner| {
            let ahead = [0, 1, 2].map(|i: usize| corner[i] - camera.stands[i]);
            let deep = dot(ahead, camera.forward) > 0.1 * width;
            deep && {
                let tap = camera.render(corner);
                let across = (tap.x_px / picture.width_px - 0.5).abs() * 2.0;
                let down = (tap.y_px / picture.height_px - 0.5).abs() * 2.0;
                across < fill && down < fill
            }
        });
        if fits {
            far = distance;
        } else {
            near = distance;
        }
    }
    [camera.stands, camera.right, camera.up, camera.forward] = Camera::looking(target, side, above, roll, far);
    let (long, short) = setting.sheet.sides();
    let (a, b) = if chance.heads() {
        (long.m(), short.m())
    } else {
        (short.m(), long.m())
    };
    let middle = [
        chance.between(-1.0, 1.0) * f64::max(0.0, x - 0.6 * a),
        chance.between(-1.0, 1.0) * f64::max(0.0, y - 0.6 * b),
    ];
    let (sine, cosine) = chance.error(0.05).sin_cos();
    let off = chance.error(0.0015);
    let sheet: [Point; 4] = [[-a, b], [a, b], [a, -b], [-a, -b]].map(|[x, y]| {
        let (x, y) = (x / 2.0 + chance.error(0.0003), y / 2.0 + chance.error(0.0003));
        [
            middle[0] + cosine * x - sine * y,
            middle[1] + sine * x + cosine * y,
            off,
        ]
    });
    let noise = setting.aim.standard_error_px(picture);
    let mut tapped = |point: Point| {
        let tap = camera.render(point);
        Tap {
            x_px: tap.x_px + chance.error(noise),
            y_px: tap.y_px + chance.error(noise),
        }
    };
    let corners = sheet.map(&mut tapped);
    let front_taps = front.map(&mut tapped);
    // The width along the top edge and the height along the left, tapped once more.
    let spans = [[0, 1], [0, 3]].map(|[from, to]: [usize; 2]| {
        let apart = [0, 1, 2].map(|i: usize| front[to][i] - front[from][i]);
        ([tapped(front[from]), tapped(front[to])], dot(apart, apart).sqrt())
    });
    Shot {
        camera,
        corners,
        front: front_taps,
        middle: [middle[0], middle[1], off],
        spans,
    }
}
