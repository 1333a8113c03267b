//! The bench log as a table: CSV with the columns `at`, `step`, `what`, then `minutes`, `to` and `ml` where the word asks for them, and
//! `of`: what the step was, as JSON, where that is known.

use jiff::Timestamp;

use super::refusal::{FileRefusal, FileRefusals};
use crate::model::{Mark, MarkKind, Reading};

const COLUMNS: [&str; 7] = ["at", "step", "what", "minutes", "to", "ml", "of"];
const WORDS: &str = "begun, done, still-tacky, ran-late, pinned, unpinned, undone or took";
/// Twenty refusals say what is wrong with a column; a thousand hide it.
const MOST_REFUSALS: usize = 20;

/// The log as a table, in the order in which it was written.
pub fn write_log(log: &[Mark]) -> String {
    let mut text = COLUMNS.join(",") + "\n";
    for mark in log {
        let (what, minutes, to) = match mark.what {
            MarkKind::Begun => ("begun", String::new(), String::new()),
            MarkKind::Done => ("done", String::new(), String::new()),
            MarkKind::StillTacky { more_min } => ("still-tacky", more_min.to_string(), String::new()),
            MarkKind::RanLate { more_min } => ("ran-late", more_min.to_string(), String::new()),
            MarkKind::Pinned { to } => ("pinned", String::new(), to.to_string()),
            MarkKind::Unpinned => ("unpinned", String::new(), String::new()),
            MarkKind::Undone => ("undone", String::new(), String::new()),
            MarkKind::Took { .. } => ("took", String::new(), String::new()),
        };
        let ml = match mark.what {
            MarkKind::Took { took_ml } => took_ml.to_string(),
            _ => String::new(),
        };
        let of = mark
            .of
            .as_ref()
            .and_then(|of| serde_json::to_string(of).ok())
            .unwrap_or_default();
        text.push_str(&format!(
            "{},{},{what},{minutes},{to},{ml},{}\n",
            mark.at,
            cell(&mark.step),
            cell(&of)
        ));
    }
    text
}

/// A text that is a cell of its own whatever it holds.
fn cell(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

/// Reads a log.
///
/// # Errors
/// Every line that cannot be used, up to twenty of them.
pub fn read_log(name: &str, bytes: &[u8]) -> Result<Vec<Mark>, FileRefusals> {
    let mut refusals = FileRefusals::default();
    let mut refuse = |line: usize, field: &str, found: &str, limit: &str, right: &str| {
        refusals.0.push(FileRefusal {
            file: name.to_owned(),
            line,
            field: field.to_owned(),
            found: found.chars().filter(|c| !c.is_control()).take(60).collect(),
            limit: limit.to_owned(),
            right: right.to_owned(),
        });
    };
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(bytes);
    let header: Vec<String> = match reader.headers() {
        Ok(header) => header.iter().map(str::to_owned).collect(),
        Err(_) => Vec::new(),
    };
    if header != COLUMNS {
        let right = COLUMNS.join(",");
        refuse(
            1,
            "",
            &header.join(","),
            "the first line names the columns of a bench log",
            &right,
        );
        return Err(refusals);
    }
    let mut log = Vec::new();
    for (row_idx, record) in reader.records().enumerate() {
        let Ok(record) = record else {
            refuse(
                row_idx + 2,
                "",
                "",
                "a row of the table cannot be read as CSV",
                "seven cells in UTF-8",
            );
            break;
        };
        let line = record
            .position()
            .map_or(0, |at| usize::try_from(at.line()).unwrap_or(0));
        let cell = |column: usize| record.get(column).unwrap_or("");
        let moment = |column: usize| cell(column).parse::<Timestamp>().ok();
        let at = moment(0);
        if at.is_none() {
            refuse(line, "at", cell(0), "a moment with its offset", "2027-03-08T15:00:00Z");
        }
        if cell(1).is_empty() {
            refuse(
                line,
                "step",
                "",
                "a line is of a step",
                "the id of a step, such as hall-bench.lid.1-clean",
            );
        }
        let minutes = cell(3).parse::<u32>().ok();
        let what = match (cell(2), minutes, moment(4)) {
            ("begun", ..) => Some(MarkKind::Begun),
            ("done", ..) => Some(MarkKind::Done),
            ("still-tacky", Some(more_min), _) => Some(MarkKind::StillTacky { more_min }),
            ("ran-late", Some(more_min), _) => Some(MarkKind::RanLate { more_min }),
            ("pinned", _, Some(to)) => Some(MarkKind::Pinned { to }),
            ("unpinned", ..) => Some(MarkKind::Unpinned),
            ("undone", ..) => Some(MarkKind::Undone),
            ("took", ..) => cell(5)
                .parse::<f64>()
                .ok()
                .filter(|took_ml| (0.0..1e6).contains(took_ml))
                .map(|took_ml| MarkKind::Took { took_ml }),
            _ => None,
        };
        match (cell(2), what) {
            (_, Some(_)) => {}
            ("still-tacky" | "ran-late", None) => refuse(line, "minutes", cell(3), "whole minutes more", "30"),
            ("pinned", None) => refuse(line, "to", cell(4), "a moment with its offset", "2027-03-08T15:00:00Z"),
            ("took", None) => refuse(line, "ml", cell(5), "millilitres, less than a cubic metre", "250"),
            (word, None) => refuse(line, "what", word, "what can be said of a step", WORDS),
        }
        let of = match cell(6) {
            "" => Some(None),
            json => serde_json::from_str(json).ok().map(Some),
        };
        if of.is_none() {
            refuse(
                line,
                "of",
                cell(6),
                "what the step was, as export writes it",
                "the cell as it was exported, or an empty one",
            );
        }
        if let (Some(at), Some(what), Some(of), false) = (at, what, of, cell(1).is_empty()) {
            log.push(Mark {
                step: cell(1).to_owned(),
                at,
                what,
                of,
            });
        }
    }
    refusals.0.truncate(MOST_REFUSALS);
    if refusals.0.is_empty() { Ok(log) } else { Err(refusals) }
}

/// Readings of a room as the table that [`super::read_readings`] reads.
pub fn write_readings(readings: &[Reading]) -> String {
    let mut text = "time,temperature_c,humidity\n".to_owned();
    for reading in readings {
        let rounded = |number: f64| (number * 1e6).round() / 1e6;
        text.push_str(&format!(
            "{},{},{}\n",
            reading.at,
            rounded(reading.temperature.c()),
            rounded(reading.humidity.fraction())
        ));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::MarkedStep;

    fn every_kind() -> Vec<Mark> {
        let at: Timestamp = "2027-03-08T15:00:00Z".parse().unwrap();
        let kinds = vec![
            MarkKind::Begun,
            MarkKind::Done,
            MarkKind::StillTacky { more_min: 45 },
            MarkKind::RanLate { more_min: 15 },
            MarkKind::Pinned { to: at },
            MarkKind::Unpinned,
            MarkKind::Undone,
            MarkKind::Took { took_ml: 237.25 },
        ];
        let of = MarkedStep {
            operation: trade::Operation::Sand,
            table_min: 12,
            hand: 0,
            amount: None,
        };
        let mark = |what| Mark {
            step: "a, \"b\".lid.1-clean".to_owned(),
            at,
            what,
            of: Some(of.clone()),
        };
        kinds.into_iter().map(mark).collect()
    }

    #[test]
    fn a_log_reads_back_as_it_was_written() {
        let text = write_log(&every_kind());
        let again = read_log("log.csv", text.as_bytes()).unwrap();
        assert_eq!(again, every_kind());
        assert_eq!(write_log(&again), text);
    }

    #[test]
    fn each_wrong_cell_is_named_with_its_line_and_what_would_be_right() {
        let text = "at,step,what,minutes,to,ml,of\nnoon,a.1,done,,,,\n2027-03-08T15:00:00Z,a.1,danced,,,,\n2027-03-08T15:00:00Z,a.1,ran-late,some,,,\n";
        let refusals = read_log("log.csv", text.as_bytes()).unwrap_err();
        let places: Vec<(usize, &str)> = refusals.0.iter().map(|r| (r.line, r.field.as_str())).collect();
        assert_eq!(places, [(2, "at"), (3, "what"), (4, "minutes")]);
        assert!(refusals.to_string().contains("still-tacky"));
    }

    #[test]
    fn another_table_is_refused_by_its_first_line() {
        let refusals = read_log("log.csv", b"time,temperature_c,humidity\n").unwrap_err();
        assert!(refusals.to_string().contains("at,step,what,minutes,to,ml,of"));
    }
}
