//! The bed: head- and footboard between posts, side rails, and the slats that carry the mattress.

use serde::{Deserialize, Serialize};

use super::Shape;
use crate::dimension::assumed_mm;
use crate::solid::{Axis, Model, Named, Side, Turning, at};
use crate::{DefaultZone, Detail, Dimension};

/// What fills a head- or footboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "count")]
pub enum BedEnd {
    /// Upright slats between two rails.
    Slats(u8),
    /// Panels in a frame.
    Panels(u8),
    /// One board.
    Board,
}

/// A bed; the head is at the back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bed {
    /// Over the posts.
    pub width: Dimension,
    /// Its length, from the footboard's face to the headboard's back.
    pub length: Dimension,
    /// From the floor to the headboard's top.
    pub height: Dimension,
    /// From the floor to the footboard's top.
    pub foot_height: Dimension,
    /// From the floor to the top of the side rails.
    pub rail_top: Dimension,
    /// Height of the side rails.
    pub rail_height: Dimension,
    /// Thickness of the posts.
    pub post: Dimension,
    /// Both ends.
    pub ends: BedEnd,
    /// Slats under the mattress.
    pub slats: u8,
    /// Turned balls on the posts.
    pub finials: bool,
}

impl Bed {
    /// The usual bed of this size.
    #[must_use]
    pub fn of(width: Dimension, depth: Dimension, height: Dimension) -> Self {
        let (w, d, h) = (width.length.mm(), depth.length.mm(), height.length.mm());
        Self {
            width,
            length: depth,
            height,
            foot_height: assumed_mm((h * 0.58).min(h)),
            rail_top: assumed_mm((h * 0.36).min(380.0)),
            rail_height: assumed_mm((h * 0.15).min(150.0)),
            post: assumed_mm((w * 0.07).clamp(25.0, 70.0)),
            ends: BedEnd::Slats(super::case::count(w / 130.0, 3, 14)),
            slats: super::case::count(d / 150.0, 3, 14),
            finials: true,
        }
    }
}

impl Shape for Bed {
    fn dimensions(&mut self) -> Vec<(&'static str, &mut Dimension)> {
        vec![
            ("width", &mut self.width),
            ("length", &mut self.length),
            ("height", &mut self.height),
            ("footboard height", &mut self.foot_height),
            ("rail top", &mut self.rail_top),
            ("rail height", &mut self.rail_height),
            ("post thickness", &mut self.post),
        ]
    }

    fn build(&self, model: &mut Model) {
        let (w, l, h) = (self.width.m(), self.length.m(), self.height.m());
        let post = self.post.m().min(w / 5.0).min(l / 5.0);
        let foot = self.foot_height.m().min(h);
        self.end(model, "footboard", (0.0, post), foot, post);
        self.end(model, "headboard", (l - post, l), h, post);
        self.rails(model, (w, l), post);
    }
}

impl Bed {
    fn end(&self, model: &mut Model, name: &str, y: (f64, f64), top: f64, post: f64) {
        let w = self.width.m();
        let posts = model.surface(Named::flat("posts", DefaultZone::Legs));
        let ball = if self.finials { post * 0.95 } else { 0.0 };
        let shaft = (top - ball).max(top / 2.0);
        for x in [0.0, w - post] {
            model
                .cuboid(at(x, y.0, 0.0), at(x + post, y.1, shaft), posts)
                .hide(&[Side::Bottom]);
            if self.finials {
                finial(model, (x + post / 2.0, (y.0 + y.1) / 2.0, shaft), post / 2.0, posts);
            }
        }
        let x = (post, w - post);
        let board = model.surface(Named::flat(name, DefaultZone::Backrest));
        let thick = post * 0.5;
        let y = (y.0 + post * 0.25, y.0 + post * 0.25 + thick);
        let low = self.rail_top.m().min(top * 0.6) - self.rail_height.m().min(top / 4.0);
        let rail = ((shaft - low) * 0.14).min(0.11);
        let member = |model: &mut Model, z: (f64, f64)| {
            model
                .cuboid(at(x.0, y.0, z.0), at(x.1, y.1, z.1), board)
                .hide(&[Side::Left, Side::Right]);
        };
        let inner = (low + rail, shaft - rail * 1.1);
        match self.ends {
            BedEnd::Board => member(model, (low, shaft - 0.01)),
            BedEnd::Slats(n) => {
                member(model, (low, inner.0));
                member(model, (inner.1, shaft - rail * 0.1));
                let slats =
                    model.surface(Named::flat(format!("{name}-slats"), DefaultZone::Slats).worked(Detail::Slatted));
                upright(
                    model,
                    x,
                    (y.0 + thick * 0.2, y.1 - thick * 0.2),
                    inner,
                    (n.clamp(1, 30), 0.45),
                    slats,
                );
            }
            BedEnd::Panels(n) => {
                member(model, (low, inner.0));
                member(model, (inner.1, shaft - rail * 0.1));
                let panels = model.surface(Named::flat(format!("{name}-panels"), DefaultZone::Panel));
                let n = n.clamp(1, 12);
                let pitch = (x.1 - x.0) / f64::from(n);
                let muntin = pitch * 0.06;
                for i in 1..n {
                    let middle = x.0 + f64::from(i) * pitch;
                    model
                        .cuboid(
                            at(middle - muntin, y.0, inner.0),
                            at(middle + muntin, y.1, inner.1),
                            board,
                        )
                        .hide(&[Side::Top, Side::Bottom]);
                }
                for i in 0..n {
                    let left = x.0 + f64::from(i) * pitch + if i > 0 { muntin } else { 0.0 };
                    let right = x.0 + f64::from(i + 1) * pitch - if i + 1 < n { muntin } else { 0.0 };
                    let (low, high) = (
                        at(left, y.0 + thick * 0.3, inner.0),
                        at(right, y.1 - thick * 0.3, inner.1),
                    );
                    model
                        .cuboid(low, high, panels)
                        .hide(&[Side::Left, Side::Right, Side::Top, Side::Bottom]);
                }
            }
        }
    }

    fn rails(&self, model: &mut Model, (w, l): (f64, f64), post: f64) {
        let rails = model.surface(Named::flat("side-rails", DefaultZone::Rails));
        let top = self.rail_top.m();
        let z = (top - self.rail_height.m().min(top), top);
        let thick = 0.026_f64.min(post / 2.0);
        let y = (post, l - post);
        for x in [post * 0.15, w - post * 0.15 - thick] {
            model
                .cuboid(at(x, y.0, z.0), at(x + thick, y.1, z.1), rails)
                .hide(&[Side::Front, Side::Back]);
        }
        let slats = model.surface(
            Named::flat("mattress-slats", DefaultZone::Slats)
                .worked(Detail::Slatted)
                .when(false),
        );
        let n = self.slats.min(30);
        if n == 0 {
            return;
        }
        let pitch = (y.1 - y.0) / f64::from(n);
        let x = (post * 0.15 + thick, w - post * 0.15 - thick);
        let level = top - (z.1 - z.0) * 0.35;
        for i in 0..n {
            let from = y.0 + (f64::from(i) + 0.22) * pitch;
            model
                .cuboid(at(x.0, from, level - 0.018), at(x.1, from + pitch * 0.56, level), slats)
                .hide(&[Side::Left, Side::Right]);
        }
    }
}

/// Evenly spaced upright boards that each take `share` of their pitch.
fn upright(
    model: &mut Model,
    x: (f64, f64),
    y: (f64, f64),
    z: (f64, f64),
    (n, share): (u8, f64),
    surface: crate::solid::SurfaceIndex,
) {
    let pitch = (x.1 - x.0) / f64::from(n);
    for i in 0..n {
        let middle = x.0 + (f64::from(i) + 0.5) * pitch;
        let half = pitch * share / 2.0;
        model
            .cuboid(at(middle - half, y.0, z.0), at(middle + half, y.1, z.1), surface)
            .hide(&[Side::Top, Side::Bottom]);
    }
}

/// A turned ball on a post.
fn finial(model: &mut Model, (x, y, z): (f64, f64, f64), radius: f64, surface: crate::solid::SurfaceIndex) {
    const BALL: [(f64, f64); 9] = [
        (0.0, 0.55),
        (0.25, 0.45),
        (0.42, 0.72),
        (0.75, 0.98),
        (1.05, 1.0),
        (1.4, 0.86),
        (1.68, 0.58),
        (1.84, 0.28),
        (1.9, 0.0),
    ];
    model.turning(Turning {
        foot: at(x, y, z),
        axis: Axis::Up,
        profile: BALL.iter().map(|(s, r)| (s * radius, r * radius)).collect(),
        surface,
        first_disc: false,
        last_disc: false,
    });
}
