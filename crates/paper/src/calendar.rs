//! The plan as an iCalendar file (RFC 5545), so that the bench hours stand in whatever calendar the shop keeps.
//!
//! The one idea: moments go out in UTC, which needs no time zone definition and means the same everywhere. Each stretch
//! of work is an event; the day a piece is ready and the day it is cured are all-day events. An event keeps its UID from
//! plan to plan, so that importing a later plan moves events rather than doubling them.

use std::fmt::Write as _;

use jiff::{Timestamp, ToSpan, ZonedDateTime};
use shop::plan::Plan;

/// A content line holds at most this many octets before it is folded (RFC 5545, 3.1).
const LONGEST_LINE: usize = 75;

/// The plan as the text of an `.ics` file, stamped with `now`.
pub fn icalendar(plan: &Plan, now: Timestamp) -> String {
    let mut lines = Lines::default();
    lines.put("BEGIN", "VCALENDAR");
    lines.put("VERSION", "2.0");
    lines.put("PRODID", "-//Coatwright//Bench plan//EN");
    lines.put("CALSCALE", "GREGORIAN");
    lines.put("METHOD", "PUBLISH");
    lines.put("X-WR-CALNAME", &escaped(&format!("{}: bench", plan.shop.name)));
    let stamp = utc(now);
    let mut seen = std::collections::BTreeMap::<&str, u32>::new();
    for day in &plan.days {
        for block in &day.blocks {
            // A step that is split at a break has several events: numbered, so that each keeps its UID.
            let turn = seen.entry(block.step.as_str()).or_insert(0);
            *turn += 1;
            let hand = plan.shop.hands.get(block.hand).map_or("", String::as_str);
            let place = if block.zone.is_empty() {
                block.piece.clone()
            } else {
                format!("{}, {}", block.piece, block.zone)
            };
            lines.put("BEGIN", "VEVENT");
            lines.put("UID", &format!("{}-{turn}@coatwright.invalid", uid_part(&block.step)));
            lines.put("DTSTAMP", &stamp);
            lines.put("DTSTART", &utc(block.from.timestamp()));
            lines.put("DTEND", &utc(block.to.timestamp()));
            lines.put("SUMMARY", &escaped(&format!("{place}: {}", block.words)));
            lines.put("DESCRIPTION", &escaped(&description(plan, &block.step, hand)));
            lines.put("TRANSP", "OPAQUE");
            lines.put("END", "VEVENT");
        }
    }
    for piece in &plan.pieces {
        for (what, moment) in [("ready", &piece.ready), ("cured", &piece.cured)] {
            lines.put("BEGIN", "VEVENT");
            lines.put("UID", &format!("{}-{what}@coatwright.invalid", uid_part(&piece.id)));
            lines.put("DTSTAMP", &stamp);
            lines.put("DTSTART;VALUE=DATE", &date(moment));
            lines.put(
                "DTEND;VALUE=DATE",
                &date(&moment.checked_add(1.day()).unwrap_or_else(|_| moment.clone())),
            );
            let words = if what == "ready" {
                "ready to handle"
            } else {
                "fully cured"
            };
            lines.put("SUMMARY", &escaped(&format!("{}: {words}", piece.name)));
            lines.put("TRANSP", "TRANSPARENT");
            lines.put("END", "VEVENT");
        }
    }
    lines.put("END", "VCALENDAR");
    lines.text
}

/// What stands in an event beside its title: whose hands, the wait, why, and the cautions of the step.
fn description(plan: &Plan, step_id: &str, hand: &str) -> String {
    let mut text = String::new();
    if !hand.is_empty() {
        let _ = writeln!(text, "Hands: {hand}");
    }
    if let Some(step) = plan.step(step_id) {
        if let Some(wait) = &step.wait {
            let _ = writeln!(text, "Then wait: {} ({} min or more)", wait.kind, wait.min_min);
        }
        for because in &step.because {
            let _ = writeln!(text, "Why: {}", because.text);
        }
        for caution in plan
            .cautions
            .iter()
            .filter(|caution| step.cautions.contains(&caution.id))
        {
            let _ = writeln!(text, "Caution: {}", caution.text);
        }
    }
    text.trim_end().to_owned()
}

/// A moment as UTC, `20270308T150000Z`.
fn utc(moment: Timestamp) -> String {
    moment.strftime("%Y%m%dT%H%M%SZ").to_string()
}

fn date(moment: &ZonedDateTime) -> String {
    moment.strftime("%Y%m%d").to_string()
}

/// A part of a UID: whatever could be misread in it becomes a hyphen.
fn uid_part(id: &str) -> String {
    id.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '-' || c == '.' {
                c
            } else {
                '-'
            }
        })
        .collect()
}

/// TEXT of RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped; other control characters go.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            ';' => out.push_str("\\;"),
            ',' => out.push_str("\\,"),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    /// Adds a content line, folded so that no line exceeds 75 octets and no character is cut.
    fn put(&mut self, name: &str, value: &str) {
        let mut octets = 0;
        for c in name.chars().chain(std::iter::once(':')).chain(value.chars()) {
            if octets + c.len_utf8() > LONGEST_LINE {
                self.text.push_str("\r\n ");
                octets = 1;
            }
            self.text.push(c);
            octets += c.len_utf8();
        }
        self.text.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_line_folds_without_cutting_a_character() {
        let mut lines = Lines::default();
        lines.put("SUMMARY", &"ä½ wood ".repeat(30));
        for line in lines.text.split("\r\n") {
            assert!(line.len() <= 75, "{} octets", line.len());
        }
        let unfolded = lines.text.replace("\r\n ", "");
        assert_eq!(unfolded, format!("SUMMARY:{}\r\n", "ä½ wood ".repeat(30)));
    }

    #[test]
    fn text_is_escaped_as_the_standard_says() {
        assert_eq!(
            escaped("wax, oil; \\ and\nso on\u{7}"),
            "wax\\, oil\\; \\\\ and\\nso on"
        );
    }

    #[test]
    fn moments_are_utc() {
        let moment: Timestamp = "2027-03-08T09:00-06:00".parse().unwrap();
        assert_eq!(utc(moment), "20270308T150000Z");
    }
}
