//! Writing the sheet: scale, line weights, fills, and short path texts.

use std::fmt::Write as _;

use super::look::{Look, Rgb};
use super::projected::{CONVEX_FACES, Drawn, Kind, Marks, Patch};
use super::view::{Eye, Spot};
use crate::solid::at;
use crate::solid::convex::bounds;

/// The longer side of the drawing in its own units.
const LONG_SIDE: f64 = 1400.0;
/// Size of the labels on dimension lines, in pixels of the screen.
pub(super) const LABEL_PX: f64 = 13.0;
/// Warm paper, for zones without a planned colour.
const PAPER: Rgb = Rgb(250, 245, 234);

/// The part of the plane that is on the sheet, and the scale.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheet {
    low: Spot,
    high: Spot,
    scale: f64,
}

impl Sheet {
    /// The sheet that holds the parts, the measures and the shadow on the ground.
    pub(super) fn around(
        drawn: &[Drawn],
        measures: &[super::measures::Line],
        ground: Option<([f64; 3], &Eye)>,
        width_px: u16,
    ) -> Self {
        let mut spots: Vec<Spot> = drawn.iter().flat_map(|d| d.hull.iter().copied()).collect();
        if let Some((size, eye)) = ground {
            spots.extend(ground_ring(size, eye));
        }
        if spots.is_empty() {
            spots.extend([(0.0, 0.0), (1.0, 1.0)]);
        }
        // Labels are as large as the sheet makes them: reckon with the sheet before they are on it, and a fifth.
        let (low, high) = bounds(&spots);
        let text_m = 1.2 * LABEL_PX * (high.0 - low.0).max(high.1 - low.1) / f64::from(width_px.max(40));
        spots.extend(measures.iter().flat_map(|line| line.spots(text_m)));
        let (low, high) = bounds(&spots);
        let long = (high.0 - low.0).max(high.1 - low.1).max(1e-6);
        Self {
            low,
            high,
            scale: LONG_SIDE / long,
        }
    }

    /// Units of the drawing to a metre.
    pub(super) const fn scale(&self) -> f64 {
        self.scale
    }
}

/// The outline of the soft shadow under a piece that stands on the floor.
fn ground_ring([w, d, _]: [f64; 3], eye: &Eye) -> Vec<Spot> {
    let grow = 0.035 * w.max(d);
    [
        (-grow, -grow),
        (w + grow, -grow),
        (w + grow, d + grow),
        (-grow, d + grow),
    ]
    .into_iter()
    .map(|(x, y)| eye.sees(at(x, y, 0.0)))
    .collect()
}

/// Writes SVG.
pub(super) struct Pen {
    text: String,
    sheet: Sheet,
    margin: f64,
    /// Units of the drawing to a pixel of the screen.
    px: f64,
}

impl Pen {
    pub(super) fn new(sheet: Sheet, width_px: u16) -> Self {
        let px = LONG_SIDE / f64::from(width_px.clamp(40, 4000));
        Self {
            text: String::with_capacity(16 * 1024),
            sheet,
            margin: 2.5 * px + 4.0,
            px,
        }
    }

    pub(super) const fn px(&self) -> f64 {
        self.px
    }

    /// A line of SVG as it stands.
    pub(super) fn raw(&mut self, text: &str) {
        self.text.push_str(text);
    }

    pub(super) fn open(&mut self, title: &str) {
        let Sheet { low, high, scale } = self.sheet;
        let w = whole((high.0 - low.0) * scale + 2.0 * self.margin);
        let h = whole((high.1 - low.1) * scale + 2.0 * self.margin);
        let title = escaped(title);
        let _ = write!(
            self.text,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 {w} {h}\" fill=\"none\" \
             stroke=\"currentColor\" stroke-linejoin=\"round\" stroke-linecap=\"round\"><title>{title}</title>"
        );
    }

    pub(super) fn close(mut self) -> String {
        self.text.push_str("</svg>");
        self.text
    }

    /// A place on the sheet in whole units, y down.
    pub(super) fn unit(&self, spot: Spot) -> (i32, i32) {
        let Sheet { low, high, scale } = self.sheet;
        (
            whole((spot.0 - low.0) * scale + self.margin),
            whole((high.1 - spot.1) * scale + self.margin),
        )
    }

    /// Path text through spots: one absolute move, then relative lines; spots that fall together are written once.
    pub(super) fn path(&self, spots: &[Spot], closed: bool) -> String {
        let mut path = String::new();
        let mut last: Option<(i32, i32)> = None;
        for &spot in spots {
            let (x, y) = self.unit(spot);
            match last {
                None => {
                    let _ = write!(path, "M{x} {y}");
                }
                Some(before) if before == (x, y) => {}
                Some((px, py)) => {
                    let (dx, dy) = (x - px, y - py);
                    let _ = match (dx, dy) {
                        (0, _) => write!(path, "v{dy}"),
                        (_, 0) => write!(path, "h{dx}"),
                        _ if dy < 0 => write!(path, "l{dx}{dy}"),
                        _ => write!(path, "l{dx} {dy}"),
                    };
                }
            }
            last = Some((x, y));
        }
        if closed {
            path.push('z');
        }
        path
    }

    /// The soft shadow on the floor.
    pub(super) fn ground(&mut self, size: [f64; 3], eye: &Eye) {
        let d = self.path(&ground_ring(size, eye), true);
        let width = whole(9.0 * self.px);
        let _ = write!(
            self.text,
            "<path d=\"{d}\" fill=\"currentColor\" fill-opacity=\".07\" stroke-opacity=\".025\" stroke-width=\"{width}\"/>"
        );
    }

    /// The heavy outline, beneath everything.
    pub(super) fn silhouette(&mut self, drawn: &[Drawn], order: &[usize], shown: &[Vec<bool>]) {
        let mut d = String::new();
        let seen = order.iter().zip(shown).filter(|(_, shown)| shown.contains(&true));
        for part in seen.map(|(&i, _)| &drawn[i]) {
            match &part.marks {
                Marks::Turned { rings, .. } => {
                    for ring in rings {
                        d.push_str(&self.path(ring, true));
                    }
                }
                Marks::Patches(patches) if patches.len() > CONVEX_FACES => {
                    for patch in patches {
                        d.push_str(&self.path(&patch.ring, true));
                    }
                }
                Marks::Patches(_) => d.push_str(&self.path(&part.hull, true)),
            }
        }
        let width = tenth(3.2 * self.px);
        let _ = write!(self.text, "<path d=\"{d}\" stroke-width=\"{width}\"/>");
    }

    /// All parts, far to near.
    pub(super) fn patches(&mut self, drawn: &[Drawn], order: &[usize], shown: &[Vec<bool>], looks: &[Option<Look>]) {
        let width = tenth(0.75 * self.px);
        let _ = write!(self.text, "<g stroke-width=\"{width}\">");
        for (step, &i) in order.iter().enumerate() {
            match &drawn[i].marks {
                Marks::Patches(patches) => {
                    for (patch, shown) in patches.iter().zip(&shown[step]) {
                        if *shown {
                            self.patch(patch, looks.get(patch.surface).copied().flatten());
                        }
                    }
                }
                marks @ Marks::Turned { surface, .. } => {
                    if shown[step].contains(&true) {
                        self.turned(marks, looks.get(*surface).copied().flatten());
                    }
                }
            }
        }
        self.text.push_str("</g>");
    }

    fn patch(&mut self, patch: &Patch, look: Option<Look>) {
        let d = self.path(&patch.ring, true);
        if patch.kind == Kind::Glass {
            let _ = write!(self.text, "<path d=\"{d}\" fill=\"#e9eef0\"/>");
            self.bands(&patch.ring, 0.75);
            return;
        }
        let paint = Paint::of(look, patch.light);
        let (fill, class) = (paint.fill(), paint.class());
        let stroke = if patch.kind == Kind::Soft {
            format!(" stroke=\"{fill}\"")
        } else {
            String::new()
        };
        let _ = write!(self.text, "<path{class} d=\"{d}\" fill=\"{fill}\"{stroke}/>");
        let creases: String = patch.creases.iter().map(|crease| self.path(crease, false)).collect();
        if !creases.is_empty() {
            let _ = write!(self.text, "<path d=\"{creases}\"/>");
        }
        let gloss = look.map_or(0.0, |look| look.gloss);
        if patch.kind == Kind::Face && gloss > 0.25 && self.is_large(&patch.ring) {
            // A level face mirrors the window; a standing one less.
            self.bands(&patch.ring, gloss * if patch.light > 0.7 { 0.36 } else { 0.16 });
        }
    }

    /// Whether a face is large enough to show a reflection.
    fn is_large(&self, ring: &[Spot]) -> bool {
        let (low, high) = bounds(ring);
        ring.len() == 4 && (high.0 - low.0) * (high.1 - low.1) * self.sheet.scale.powi(2) > 0.02 * LONG_SIDE.powi(2)
    }

    /// Two bands of light across a four-cornered face.
    fn bands(&mut self, ring: &[Spot], strength: f64) {
        let [a, b, c, d] = ring else { return };
        let along = |p: Spot, q: Spot, s: f64| (p.0 + (q.0 - p.0) * s, p.1 + (q.1 - p.1) * s);
        let opacity = hundredth(strength);
        let mut path = String::new();
        for (from, to) in [(0.16, 0.34), (0.39, 0.43)] {
            let slant = 0.26;
            let ring = [
                along(*a, *b, from),
                along(*a, *b, to),
                along(*d, *c, to + slant),
                along(*d, *c, from + slant),
            ];
            path.push_str(&self.path(&ring, true));
        }
        let _ = write!(
            self.text,
            "<path d=\"{path}\" fill=\"#fff\" fill-opacity=\"{opacity}\" stroke=\"none\"/>"
        );
    }

    fn turned(&mut self, marks: &Marks, look: Option<Look>) {
        let Marks::Turned {
            rings,
            shade,
            shine,
            beads,
            ..
        } = marks
        else {
            return;
        };
        let paint = Paint::of(look, 0.72);
        let (fill, class) = (paint.fill(), paint.class());
        let d: String = rings.iter().map(|ring| self.path(ring, true)).collect();
        // Stroke first, then fill: only the outline of the rings together remains.
        let width = tenth(1.7 * self.px);
        let _ = write!(
            self.text,
            "<path{class} d=\"{d}\" fill=\"{fill}\" stroke-width=\"{width}\" paint-order=\"stroke\"/>"
        );
        if !shade.is_empty() {
            let d = self.path(shade, true);
            let _ = write!(
                self.text,
                "<path d=\"{d}\" fill=\"currentColor\" fill-opacity=\".13\" stroke=\"none\"/>"
            );
            let d = self.path(shine, true);
            let opacity = hundredth(0.28 + 0.4 * look.map_or(0.2, |l| l.gloss));
            let _ = write!(
                self.text,
                "<path d=\"{d}\" fill=\"#fff\" fill-opacity=\"{opacity}\" stroke=\"none\"/>"
            );
        }
        let d: String = beads.iter().map(|bead| self.path(bead, false)).collect();
        if !d.is_empty() {
            let _ = write!(self.text, "<path d=\"{d}\"/>");
        }
    }
}

/// A face's colour under the light.
struct Paint {
    colour: Rgb,
    paper_tone: Option<u8>,
}

impl Paint {
    fn of(look: Option<Look>, light: f64) -> Self {
        match look {
            Some(look) => Self {
                colour: under(look.colour, 0.70 + 0.34 * light),
                paper_tone: None,
            },
            None => {
                let (tone, factor) = if light > 0.66 {
                    (1, 1.0)
                } else if light > 0.33 {
                    (2, 0.955)
                } else {
                    (3, 0.875)
                };
                Self {
                    colour: under(PAPER, factor),
                    paper_tone: Some(tone),
                }
            }
        }
    }

    fn fill(&self) -> String {
        let Rgb(r, g, b) = self.colour;
        format!("#{r:02x}{g:02x}{b:02x}")
    }

    fn class(&self) -> String {
        self.paper_tone
            .map_or_else(String::new, |tone| format!(" class=\"paper-{tone}\""))
    }
}

/// A colour in more or less light.
fn under(Rgb(r, g, b): Rgb, factor: f64) -> Rgb {
    let part = |v: u8| byte(f64::from(v) * factor);
    Rgb(part(r), part(g), part(b))
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a float cast saturates, and the sheet is 1400 units wide"
)]
fn whole(v: f64) -> i32 {
    v.round() as i32
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a byte in the same line"
)]
fn byte(v: f64) -> u8 {
    v.round().clamp(0.0, 255.0) as u8
}

/// A number with one decimal, without a needless zero.
fn tenth(v: f64) -> String {
    let text = format!("{v:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// A share with two decimals.
fn hundredth(v: f64) -> String {
    format!("{:.2}", v.clamp(0.0, 1.0)).trim_start_matches('0').to_owned()
}

/// Text that is safe between tags.
pub(super) fn escaped(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_control())
        .fold(String::with_capacity(text.len()), |mut safe, c| {
            match c {
                '&' => safe.push_str("&amp;"),
                '<' => safe.push_str("&lt;"),
                '>' => safe.push_str("&gt;"),
                '"' => safe.push_str("&quot;"),
                c => safe.push(c),
            }
            safe
        })
}
