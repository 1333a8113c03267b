//! Time as a score: one line for each zone, solid where hands work, hatched in the wait's own pattern where it dries, a bar line at
//! each night; above it the air of the room and the hands with their free hours.

use std::fmt::Write;

use jiff::ZonedDateTime;
use quantity::{Temperature, UnitSystem};
use shop::model::Settings;
use shop::plan::{AirPoint, Plan, PlannedStep};

use super::escape;
use super::scale::Scale;
use crate::view::show;

/// Width of the names beside the score.
const LABELS: f64 = 150.0;
/// Height of a line of work.
const LINE: f64 = 30.0;
/// Height of the day's name.
const HEAD: f64 = 22.0;
/// Height of one curve of the air.
const CURVE: f64 = 34.0;
/// A margin above the dew point below this is too little to coat in, K.
const LEAST_MARGIN_K: f64 = 3.0;

/// The two halves of a score: the names, and the wide part that scrolls beside them.
pub(crate) struct Score {
    pub(crate) names: String,
    pub(crate) lines: String,
}

/// One line of the score.
struct Line<'a> {
    piece: &'a str,
    zone: &'a str,
    steps: Vec<&'a PlannedStep>,
}

/// The pen: where it stands, and what it has drawn on either side.
struct Pen<'s> {
    scale: &'s Scale,
    y: f64,
    names: String,
    lines: String,
}

/// Draws the score of some days of a plan.
pub(crate) fn draw(plan: &Plan, settings: &Settings, scale: &Scale, now: &ZonedDateTime) -> Score {
    let mut pen = Pen {
        scale,
        y: HEAD,
        names: String::new(),
        lines: String::new(),
    };
    air(&mut pen, plan);
    hours_rule(&mut pen);
    hands(&mut pen, plan, settings);
    let lines = lines(plan, scale);
    let mut piece = "";
    for line in &lines {
        if line.piece != piece {
            piece = line.piece;
            pen.y += 24.0;
            let y = pen.y - 6.0;
            name(&mut pen, 0.0, y, "figure", 14, piece, 20);
        }
        draw_line(&mut pen, line);
    }
    pen.y += 10.0;
    pen.close(settings, &lines, now)
}

impl Pen<'_> {
    fn close(self, settings: &Settings, lines: &[Line<'_>], now: &ZonedDateTime) -> Score {
        let (height, width) = (self.y, self.scale.width());
        let mut ground = String::new();
        for number in 0..self.scale.days {
            shifts(&mut ground, self.scale, settings, number, height);
            bar(&mut ground, self.scale, number, height);
        }
        let _ = write!(
            ground,
            r#"<path class="ink" d="M{width:.1} 0V{height:.0}" stroke-width="2"/>"#
        );
        let mut over = String::new();
        if self.scale.shows(now, now) {
            let x = self.scale.x(now);
            let _ = write!(
                over,
                r#"<path class="ink" d="M{x:.1} {HEAD}V{height:.0}" stroke-width="1.6" stroke-dasharray="7 3"/><text class="halo" x="{:.1}" y="{:.0}" font-size="11">now</text>"#,
                x + 4.0,
                height - 3.0
            );
        }
        let title = format!(
            "{} lines of work in {} days from {}",
            lines.len(),
            self.scale.days,
            show::day(self.scale.first)
        );
        Score {
            names: format!(
                r#"<svg viewBox="0 0 {LABELS} {height:.0}" width="{LABELS}" height="{height:.0}" aria-hidden="true" focusable="false">{}</svg>"#,
                self.names
            ),
            lines: format!(
                r#"<svg viewBox="0 0 {width:.0} {height:.0}" width="{width:.0}" height="{height:.0}" role="img" aria-label="{}">{ground}{}{over}</svg>"#,
                escape(&title),
                self.lines
            ),
        }
    }
}

fn name(pen: &mut Pen<'_>, x: f64, y: f64, class: &str, size: u32, text: &str, most: usize) {
    let weight = if class == "figure" { r#" font-weight="650""# } else { "" };
    let _ = write!(
        pen.names,
        r#"<text class="{class}" x="{x}" y="{y:.0}" font-size="{size}"{weight}>{}</text>"#,
        escape(&shorten(text, most))
    );
}

/// The lines that have anything within the days drawn.
fn lines<'a>(plan: &'a Plan, scale: &Scale) -> Vec<Line<'a>> {
    let mut lines = Vec::new();
    for piece in &plan.pieces {
        let zones = piece
            .zones
            .iter()
            .map(|zone| (zone.name.as_str(), zone.steps.iter().collect::<Vec<_>>()));
        let closing = std::iter::once(("as a whole", piece.closing.iter().collect::<Vec<_>>()));
        for (zone, steps) in zones.chain(closing) {
            let is_shown = steps
                .iter()
                .any(|step| scale.shows(&step.starts, step.wait_ends.as_ref().unwrap_or(&step.ends)));
            if is_shown {
                lines.push(Line {
                    piece: &piece.name,
                    zone,
                    steps,
                });
            }
        }
    }
    lines
}

fn draw_line(pen: &mut Pen<'_>, line: &Line<'_>) {
    let middle = pen.y + LINE / 2.0;
    name(pen, 8.0, middle + 4.5, "zone", 13, line.zone, 19);
    let _ = write!(
        pen.lines,
        r#"<path class="ink" d="M0 {middle:.1}H{:.0}" stroke-width="0.6" opacity="0.6"/>"#,
        pen.scale.width()
    );
    for step in &line.steps {
        wait(&mut pen.lines, step, pen.scale, middle);
    }
    for step in &line.steps {
        work(&mut pen.lines, step, pen.scale, middle);
    }
    pen.y += LINE;
}

fn work(out: &mut String, step: &PlannedStep, scale: &Scale, middle: f64) {
    if !scale.shows(&step.starts, &step.ends) {
        return;
    }
    let (from, to) = (scale.x(&step.starts), scale.x(&step.ends));
    let _ = write!(
        out,
        r#"<rect class="solid" x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="20" rx="1"><title>{words}, {when}</title></rect>"#,
        y = middle - 10.0,
        wide = (to - from).max(3.0),
        words = escape(&step.words),
        when = step.starts.strftime("%a %H:%M"),
    );
}

fn wait(out: &mut String, step: &PlannedStep, scale: &Scale, middle: f64) {
    let (Some(kind), Some(end)) = (&step.wait, &step.wait_ends) else {
        return;
    };
    let (from, to) = (scale.x(&step.ends), scale.x(end));
    if to - from < 0.5 {
        return;
    }
    let _ = write!(
        out,
        r#"<rect class="sheet" x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="13"/><rect x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="13" fill="url(#hatch-{kind})"/><rect class="ink" x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="13" stroke-width="0.7"/>"#,
        y = middle - 6.5,
        wide = to - from,
        kind = escape(&kind.kind),
    );
}

/// The shop's hours of a day, a little lighter than the rest.
fn shifts(out: &mut String, scale: &Scale, settings: &Settings, number: i32, height: f64) {
    let (date, _) = scale.day(number);
    for period in settings.hours.on(date.weekday()) {
        let (from, to) = (
            clock(scale, number, period.from_min),
            clock(scale, number, period.to_min),
        );
        let _ = write!(
            out,
            r#"<rect class="shift" x="{from:.1}" y="{HEAD}" width="{:.1}" height="{:.0}"/>"#,
            to - from,
            height - HEAD
        );
    }
}

fn clock(scale: &Scale, number: i32, minute: u16) -> f64 {
    scale.hour(number, f64::from(minute) / 60.0)
}

/// The bar line of a night, and the day's name.
fn bar(out: &mut String, scale: &Scale, number: i32, height: f64) {
    let (date, left) = scale.day(number);
    let _ = write!(
        out,
        r#"<path class="ink" d="M{left:.1} 0V{height:.0}" stroke-width="2"/><text class="figure" x="{x:.1}" y="15" font-size="14" font-weight="650">{}</text>"#,
        show::day(date),
        x = left + 8.0,
    );
}

/// Ticks of the hours, every third with its figure.
fn hours_rule(pen: &mut Pen<'_>) {
    let y = pen.y + 2.0;
    for number in 0..pen.scale.days {
        let mut hour = pen.scale.hours.from;
        while hour <= pen.scale.hours.to {
            let x = pen.scale.hour(number, hour);
            let _ = write!(
                pen.lines,
                r#"<path class="ink" d="M{x:.1} {y:.0}v5" stroke-width="0.7"/>"#
            );
            if (hour - pen.scale.hours.from) % 3.0 == 0.0 {
                let _ = write!(
                    pen.lines,
                    r#"<text x="{x:.1}" y="{:.0}" font-size="11" text-anchor="middle">{hour:.0}</text>"#,
                    y + 16.0
                );
            }
            hour += 1.0;
        }
    }
    name(pen, 0.0, y + 16.0, "zone", 12, "o'clock", 20);
    pen.y += 24.0;
}

/// Each pair of hands: its hours in outline, filled where it works, so that free hours stay open.
fn hands(pen: &mut Pen<'_>, plan: &Plan, settings: &Settings) {
    for (hand_idx, hand) in settings.hands.iter().enumerate() {
        let top = pen.y + 4.0;
        name(
            pen,
            0.0,
            top + 12.0,
            "zone",
            12,
            &format!("{}: free, at work", hand.name),
            24,
        );
        for number in 0..pen.scale.days {
            let (date, _) = pen.scale.day(number);
            for period in hand.hours.as_ref().unwrap_or(&settings.hours).on(date.weekday()) {
                let (from, to) = (
                    clock(pen.scale, number, period.from_min),
                    clock(pen.scale, number, period.to_min),
                );
                let _ = write!(
                    pen.lines,
                    r#"<rect class="ink" x="{from:.1}" y="{top:.1}" width="{:.1}" height="14" stroke-width="0.9" stroke-dasharray="2 2"/>"#,
                    to - from
                );
            }
        }
        for block in plan
            .days
            .iter()
            .flat_map(|day| &day.blocks)
            .filter(|block| block.hand == hand_idx)
        {
            if pen.scale.shows(&block.from, &block.to) {
                let (from, to) = (pen.scale.x(&block.from), pen.scale.x(&block.to));
                let _ = write!(
                    pen.lines,
                    r#"<rect class="solid" x="{from:.1}" y="{:.1}" width="{:.1}" height="10"/>"#,
                    top + 2.0,
                    (to - from).max(1.5)
                );
            }
        }
        pen.y += 24.0;
    }
}

/// One curve of the air: what it is called, what it reads, and how a reading is shown.
struct Curve<'c> {
    name: &'c str,
    of: fn(&AirPoint) -> f64,
    show: &'c dyn Fn(f64) -> String,
    dashes: &'c str,
}

/// Temperature, humidity and margin above the dew point of the first room.
fn air(pen: &mut Pen<'_>, plan: &Plan) {
    let Some(room) = plan.shop.air.first() else {
        return;
    };
    let readings: Vec<&AirPoint> = room
        .readings
        .iter()
        .filter(|reading| pen.scale.shows(&reading.at, &reading.at))
        .collect();
    if readings.is_empty() {
        return;
    }
    let units = plan.shop.unit_system;
    let curves = [
        Curve {
            name: "temperature",
            of: |point| point.temperature_c,
            show: &|c| degrees(c, units),
            dashes: "",
        },
        Curve {
            name: "humidity",
            of: |point| point.humidity,
            show: &|share| show::percent(share),
            dashes: "6 3",
        },
        Curve {
            name: "above dew point",
            of: |point| point.dew_point_margin_k,
            show: &|k| show::margin(k, units),
            dashes: "2 2",
        },
    ];
    for curve in &curves {
        draw_curve(pen, curve, &readings);
    }
    too_damp(pen, &readings);
}

fn degrees(c: f64, units: UnitSystem) -> String {
    Temperature::from_c(c).show(units)
}

fn draw_curve(pen: &mut Pen<'_>, curve: &Curve<'_>, readings: &[&AirPoint]) {
    let values = || readings.iter().map(|reading| (curve.of)(reading));
    let (low, high) = span(values());
    let (top, bottom) = (pen.y + 5.0, pen.y + CURVE - 5.0);
    let reach = (high - low).max(1e-6);
    let mut path = String::new();
    for (place, reading) in readings.iter().enumerate() {
        let y = bottom - (bottom - top) * ((curve.of)(reading) - low) / reach;
        let _ = write!(
            path,
            "{}{:.1} {y:.1}",
            if place == 0 { 'M' } else { 'L' },
            pen.scale.x(&reading.at)
        );
    }
    let dashes = if curve.dashes.is_empty() {
        String::new()
    } else {
        format!(r#" stroke-dasharray="{}""#, curve.dashes)
    };
    let _ = write!(
        pen.lines,
        r#"<path class="ink" d="{path}" stroke-width="1.3" stroke-linejoin="round"{dashes}/>"#
    );
    name(pen, 0.0, pen.y + 14.0, "zone", 12, curve.name, 22);
    let range = format!("{} to {}", (curve.show)(low), (curve.show)(high));
    name(pen, 0.0, pen.y + 29.0, "range", 12, &range, 26);
    pen.y += CURVE;
}

/// Where the air is too near its dew point to coat in, a hatched strip beneath the curve.
fn too_damp(pen: &mut Pen<'_>, readings: &[&AirPoint]) {
    let y = pen.y - 5.0;
    for pair in readings.windows(2) {
        if pair[0].dew_point_margin_k < LEAST_MARGIN_K {
            let (from, to) = (pen.scale.x(&pair[0].at), pen.scale.x(&pair[1].at));
            let _ = write!(
                pen.lines,
                r#"<rect x="{from:.1}" y="{y:.1}" width="{:.1}" height="6" fill="url(#hatch-off)"><title>too near the dew point to coat</title></rect>"#,
                to - from
            );
        }
    }
}

fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    })
}

fn shorten(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        text.to_owned()
    } else {
        text.chars().take(most - 1).chain(['…']).collect()
    }
}
