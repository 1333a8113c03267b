//! Time as a score: one line for each zone, solid where hands work, hatched in the wait's own pattern where it dries, a bar line at
//! each night. The hours outside the shop's day are drawn narrow: a coat dries through the night, but nobody looks.

use super::escape;
use jiff::civil::Date;
use jiff::{ToSpan, ZonedDateTime};
use shop::plan::output::{Plan, PlannedStep};
use std::fmt::Write;

/// What part of a day is drawn wide, hours of the clock.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DayHours {
    /// From this hour.
    pub(crate) from: f64,
    /// To this hour.
    pub(crate) to: f64,
}

const HOUR: f64 = 13.0;
const NIGHT: f64 = 16.0;
const LINE: f64 = 30.0;
const AIR: f64 = 74.0;
const LABELS: f64 = 168.0;

/// One line of the score.
struct Line<'a> {
    piece: &'a str,
    zone: &'a str,
    steps: Vec<&'a PlannedStep>,
}

/// Where moments stand on the page.
struct Scale {
    first: Date,
    days: i32,
    hours: DayHours,
}

impl Scale {
    fn day_width(&self) -> f64 {
        (self.hours.to - self.hours.from) * HOUR + NIGHT
    }

    fn width(&self) -> f64 {
        self.day_width() * f64::from(self.days)
    }

    /// Left edge for a moment; clamped to the score.
    fn x(&self, moment: &ZonedDateTime) -> f64 {
        let days = moment.date().since(self.first).map_or(0, |span| span.get_days());
        let clock = f64::from(moment.hour()) + f64::from(moment.minute()) / 60.0;
        let morning = self.hours.from;
        let within = if clock < morning {
            NIGHT / 2.0 * clock / morning.max(0.1)
        } else if clock <= self.hours.to {
            NIGHT / 2.0 + (clock - morning) * HOUR
        } else {
            NIGHT / 2.0 + (self.hours.to - morning) * HOUR
                + NIGHT / 2.0 * (clock - self.hours.to) / (24.0 - self.hours.to).max(0.1)
        };
        (f64::from(days) * self.day_width() + within).clamp(0.0, self.width())
    }
}

/// The score of some days of a plan: the labels, and the wide part that scrolls.
pub(crate) fn svg(plan: &Plan, first: Date, days: i32, hours: DayHours) -> (String, String) {
    let scale = Scale { first, days, hours };
    let lines = lines(plan, &scale);
    let mut height = AIR + 26.0;
    let mut labels = String::new();
    let mut score = String::new();
    let mut piece = "";
    for line in &lines {
        if line.piece != piece {
            piece = line.piece;
            height += 22.0;
            let _ = write!(labels, r#"<text class="figure" x="0" y="{:.0}" font-size="14" font-weight="650">{}</text>"#, height - 6.0, escape(&shorten(piece, 24)));
        }
        let middle = height + LINE / 2.0;
        let _ = write!(labels, r#"<text x="8" y="{:.0}" font-size="13">{}</text>"#, middle + 4.5, escape(&shorten(line.zone, 22)));
        let _ = write!(score, r#"<path class="ink" d="M0 {middle:.1}H{:.0}" stroke-width="0.5" opacity="0.55"/>"#, scale.width());
        for step in &line.steps {
            wait(&mut score, step, &scale, middle);
        }
        for step in &line.steps {
            work(&mut score, step, &scale, middle);
        }
        height += LINE;
    }
    let mut head = String::new();
    for day in 0..days {
        bar(&mut head, &scale, day, height);
    }
    air(&mut head, plan, &scale);
    let title = format!("{} lines of work from {first}, {days} days", lines.len());
    (
        format!(
            r#"<svg viewBox="0 0 {LABELS} {height:.0}" width="{LABELS}" height="{height:.0}" role="img" aria-label="Names of the lines"><g font-size="11"><text x="0" y="30">temperature</text><text x="0" y="48">humidity</text><text x="0" y="66">above dew point</text></g>{labels}</svg>"#
        ),
        format!(
            r#"<svg viewBox="0 0 {w:.0} {height:.0}" width="{w:.0}" height="{height:.0}" role="img" aria-label="{}">{head}{score}</svg>"#,
            escape(&title),
            w = scale.width()
        ),
    )
}

/// The lines that have anything within the days drawn.
fn lines<'a>(plan: &'a Plan, scale: &Scale) -> Vec<Line<'a>> {
    let mut lines = Vec::new();
    for piece in &plan.pieces {
        let zones = piece.zones.iter().map(|zone| (zone.name.as_str(), zone.steps.iter().collect::<Vec<_>>()));
        let closing = std::iter::once(("putting together", piece.closing.iter().collect::<Vec<_>>()));
        for (zone, steps) in zones.chain(closing) {
            let shown = |step: &&PlannedStep| {
                let end = step.wait_ends.as_ref().unwrap_or(&step.ends);
                scale.x(end) > 0.0 && scale.x(&step.starts) < scale.width()
            };
            if steps.iter().any(shown) {
                lines.push(Line { piece: &piece.name, zone, steps });
            }
        }
    }
    lines
}

fn work(out: &mut String, step: &PlannedStep, scale: &Scale, middle: f64) {
    let (from, to) = (scale.x(&step.starts), scale.x(&step.ends));
    if to <= 0.0 || from >= scale.width() {
        return;
    }
    let _ = write!(
        out,
        r##"<a href="#{id}"><rect class="solid" x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="18" rx="1.5"><title>{words}, {when}</title></rect></a>"##,
        id = escape(&step.id),
        y = middle - 9.0,
        wide = (to - from).max(3.0),
        words = escape(&step.words),
        when = step.starts.strftime("%a %H:%M"),
    );
}

fn wait(out: &mut String, step: &PlannedStep, scale: &Scale, middle: f64) {
    let (Some(kind), Some(end)) = (&step.wait, &step.wait_ends) else { return };
    let (from, to) = (scale.x(&step.ends), scale.x(end));
    if to - from < 0.5 {
        return;
    }
    let _ = write!(
        out,
        r#"<rect x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="12" fill="url(#hatch-{kind})"/><rect class="ink" x="{from:.1}" y="{y:.1}" width="{wide:.1}" height="12" stroke-width="0.6"/>"#,
        y = middle - 6.0,
        wide = to - from,
        kind = escape(&kind.kind),
    );
}

/// The bar line of a night, the day's name, and the hours.
fn bar(out: &mut String, scale: &Scale, day: i32, height: f64) {
    let left = f64::from(day) * scale.day_width();
    let date = scale.first.checked_add(day.days()).unwrap_or(scale.first);
    let _ = write!(
        out,
        r#"<path class="ink" d="M{left:.1} 0V{height:.0}" stroke-width="2"/><text class="figure" x="{x:.1}" y="14" font-size="14" font-weight="650">{}</text>"#,
        date.strftime("%a %-d %b"),
        x = left + 6.0,
    );
    let mut hour = scale.hours.from.ceil();
    while hour < scale.hours.to {
        let x = left + NIGHT / 2.0 + (hour - scale.hours.from) * HOUR;
        let _ = write!(out, r#"<path class="ink" d="M{x:.1} {AIR}v6" stroke-width="0.6"/>"#);
        if hour % 3.0 == 0.0 {
            let _ = write!(out, r#"<text x="{x:.1}" y="{:.0}" font-size="10" text-anchor="middle">{hour:.0}</text>"#, AIR + 17.0);
        }
        hour += 1.0;
    }
}

/// Temperature, humidity and margin above the dew point of the first room, one figure for each day's low and high.
fn air(out: &mut String, plan: &Plan, scale: &Scale) {
    let Some(room) = plan.shop.air.first() else { return };
    for day in 0..scale.days {
        let date = scale.first.checked_add(day.days()).unwrap_or(scale.first);
        let today: Vec<_> = room.readings.iter().filter(|reading| reading.at.date() == date).collect();
        if today.is_empty() {
            continue;
        }
        let span = |of: &dyn Fn(usize) -> f64| {
            let values = (0..today.len()).map(of);
            values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
        };
        let imperial = plan.shop.units == "imperial";
        let shown = |c: f64| if imperial { c * 1.8 + 32.0 } else { c };
        let (low, high) = span(&|place| shown(today[place].temperature_c));
        let (dry, damp) = span(&|place| today[place].humidity * 100.0);
        let (near, far) = span(&|place| today[place].dew_point_margin_k * if imperial { 1.8 } else { 1.0 });
        let unit = if imperial { "°F" } else { "°C" };
        let x = f64::from(day) * scale.day_width() + 6.0;
        let warning = if span(&|place| today[place].dew_point_margin_k).0 < 3.0 { " !" } else { "" };
        let _ = write!(
            out,
            r#"<g class="figure" font-size="12"><text x="{x:.1}" y="31">{low:.0}–{high:.0} {unit}</text><text x="{x:.1}" y="49">{dry:.0}–{damp:.0} %</text><text x="{x:.1}" y="67">{near:.0}–{far:.0} {unit}{warning}</text></g>"#
        );
    }
}

fn shorten(text: &str, most: usize) -> String {
    if text.chars().count() <= most { text.to_owned() } else { text.chars().take(most - 1).chain(['…']).collect() }
}
