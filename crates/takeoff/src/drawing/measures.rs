//! Dimension lines: width, depth and height beside the piece.

use quantity::UnitSystem;

use super::pen::{LABEL_PX, Pen, escaped};
use super::view::{Eye, Spot};
use crate::solid::{Point, at};

/// One dimension line with its label.
#[derive(Debug, Clone)]
pub(super) struct Line {
    from: Spot,
    to: Spot,
    label: String,
    /// Which way the label stands off the line.
    away: Spot,
}

impl Line {
    /// Where the label stands.
    fn place(&self) -> Spot {
        let middle = ((self.from.0 + self.to.0) / 2.0, (self.from.1 + self.to.1) / 2.0);
        // Beside an upright line a short way is enough; under a slanting one the label has its own height to clear.
        let share = if self.away.1.abs() < 1e-9 { 0.3 } else { 0.75 };
        (middle.0 + self.away.0 * share, middle.1 + self.away.1 * share)
    }

    /// Whether the label runs to the left of its place.
    fn leftwards(&self) -> bool {
        self.away.0 < 0.0
    }

    /// What the sheet has to hold for it: the line, and the label at some ten characters' width.
    pub(super) fn spots(&self, text_m: f64) -> [Spot; 4] {
        let place = self.place();
        let long = text_m * 0.55 * self.label.chars().count() as f64;
        let far = if self.leftwards() { -long } else { long };
        [
            self.from,
            self.to,
            (place.0 + far, place.1 - text_m),
            (place.0, place.1 + text_m),
        ]
    }
}

/// The three lines along the edges of the piece's box that face the eye.
pub(super) fn lines([w, d, h]: [f64; 3], eye: &Eye, units: UnitSystem) -> Vec<Line> {
    let off = 0.07 * w.max(d).max(h);
    let (near_y, out_y) = if eye.toward.y < 0.0 { (0.0, -off) } else { (d, off) };
    let (near_x, out_x) = if eye.toward.x > 0.0 { (w, off) } else { (0.0, -off) };
    // The upright edge that is farthest left on the sheet.
    let corners = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)];
    let left = corners.into_iter().fold((0.0, 0.0), |best, c| {
        if eye.sees(at(c.0, c.1, 0.0)).0 < eye.sees(at(best.0, best.1, 0.0)).0 {
            c
        } else {
            best
        }
    });
    let beside = eye.right * -off;
    let line = |a: Point, b: Point, away: Point, metres: f64| {
        let zero = eye.sees(at(0.0, 0.0, 0.0));
        let step = eye.sees(away);
        Line {
            from: eye.sees(a + away),
            to: eye.sees(b + away),
            label: shown(metres, units),
            away: (step.0 - zero.0, step.1 - zero.1),
        }
    };
    vec![
        line(at(0.0, near_y, 0.0), at(w, near_y, 0.0), at(0.0, out_y, 0.0), w),
        line(at(near_x, 0.0, 0.0), at(near_x, d, 0.0), at(out_x, 0.0, 0.0), d),
        line(at(left.0, left.1, 0.0), at(left.0, left.1, h), beside, h),
    ]
}

/// Draws them.
pub(super) fn draw(pen: &mut Pen, lines: &[Line]) {
    if lines.is_empty() {
        return;
    }
    let (thin, size) = (0.7 * pen.px(), LABEL_PX * pen.px());
    let mut d = String::new();
    let mut labels = String::new();
    for line in lines {
        d.push_str(&pen.path(&[line.from, line.to], false));
        let (dx, dy) = (line.to.0 - line.from.0, line.to.1 - line.from.1);
        let length = dx.hypot(dy).max(1e-9);
        let away = line.away;
        for end in [line.from, line.to] {
            // A short slanted tick, as a draughtsman ends a dimension.
            let tick = ((dx + dy) / length * 0.012, (dy - dx) / length * 0.012);
            let scale = away.0.hypot(away.1) / 0.07;
            let (tx, ty) = (tick.0 * scale, tick.1 * scale);
            d.push_str(&pen.path(&[(end.0 - tx, end.1 - ty), (end.0 + tx, end.1 + ty)], false));
        }
        let (x, y) = pen.unit(line.place());
        let anchor = if line.leftwards() { "end" } else { "start" };
        labels.push_str(&format!(
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\" dominant-baseline=\"central\">{}</text>",
            escaped(&line.label)
        ));
    }
    pen.raw(&format!(
        "<path d=\"{d}\" stroke-width=\"{thin:.1}\"/><g fill=\"currentColor\" stroke=\"none\" font-size=\"{size:.0}\">{labels}</g>"
    ));
}

/// A length on a drawing: inches to the nearest quarter, or centimetres to the nearest half.
fn shown(metres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Imperial => {
            let quarters = (metres / 0.0254 * 4.0).round();
            let whole = (quarters / 4.0).floor();
            let fraction = ["", "\u{bc}", "\u{bd}", "\u{be}"];
            let rest = quarters - 4.0 * whole;
            let place = if rest > 2.5 {
                3
            } else if rest > 1.5 {
                2
            } else {
                usize::from(rest > 0.5)
            };
            if whole < 1.0 && place > 0 {
                format!("{} in", fraction[place])
            } else {
                format!("{whole:.0}{} in", fraction[place])
            }
        }
        UnitSystem::Metric => {
            let halves = (metres * 200.0).round() / 2.0;
            format!("{halves} cm")
        }
    }
}
