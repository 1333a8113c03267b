//! Readings of a room's air: CSV with the columns `time`, `temperature_c`, `humidity`, at any step.

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use quantity::{Humidity, Temperature};

use super::nearest::one_of;
use super::refusal::FileRefusal;
use crate::model::Reading;

const COLUMNS: [&str; 3] = ["time", "temperature_c", "humidity"];
/// Ten years of hourly readings; more is a mistake.
const MOST_ROWS: usize = 100_000;
/// Twenty refusals say what is wrong with a column; a thousand hide it.
const MOST_REFUSALS: usize = 20;

/// Reads a CSV of readings; a time without an offset is on the clock of `zone_id`.
///
/// # Errors
/// Every line that cannot be used, up to twenty of them.
pub fn read(name: &str, bytes: &[u8], zone_id: &str) -> Result<Vec<Reading>, Vec<FileRefusal>> {
    let refuse = |line: usize, field: &str, found: &str, limit: &str, right: &str| FileRefusal {
        file: name.to_owned(),
        line,
        field: field.to_owned(),
        found: found.chars().filter(|c| !c.is_control()).take(60).collect(),
        limit: limit.to_owned(),
        right: right.to_owned(),
    };
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err(vec![refuse(
            0,
            "",
            "bytes that are no UTF-8 text",
            "readings are a CSV text",
            "save the table as CSV in UTF-8",
        )]);
    };
    let zone = TimeZone::get(zone_id).unwrap_or(TimeZone::UTC);
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader.headers().cloned().unwrap_or_default();
    let mut column_idxs = [0_usize; 3];
    let mut refusals = Vec::new();
    for (slot, column) in column_idxs.iter_mut().zip(COLUMNS) {
        match header
            .iter()
            .position(|found| found.trim_start_matches('\u{feff}') == column)
        {
            Some(column_idx) => *slot = column_idx,
            None => {
                let found: Vec<&str> = header.iter().collect();
                refusals.push(refuse(
                    1,
                    column,
                    &found.join(", "),
                    "this column is missing",
                    &one_of("", &COLUMNS),
                ));
            }
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut readings: Vec<Reading> = Vec::new();
    for record in reader.records() {
        let Ok(record) = record else {
            refusals.push(refuse(
                0,
                "",
                "",
                "a row of the table cannot be read as CSV",
                "time, temperature_c, humidity",
            ));
            break;
        };
        let line = record
            .position()
            .map_or(0, |position| usize::try_from(position.line()).unwrap_or(0));
        let cell = |slot: usize| record.get(column_idxs[slot]).unwrap_or("");
        let at = read_time(cell(0), &zone, readings.last().map(|last| last.at));
        if at.is_none() {
            refusals.push(refuse(
                line,
                "time",
                cell(0),
                "a moment, with or without an offset",
                "2027-03-08T09:00 or 2027-03-08T09:00-06:00",
            ));
        }
        let temperature = cell(1).parse::<f64>().ok().filter(|c| (-40.0..=60.0).contains(c));
        if temperature.is_none() {
            refusals.push(refuse(
                line,
                "temperature_c",
                cell(1),
                "a temperature from -40 to 60 °C",
                "14.2",
            ));
        }
        let humidity = cell(2).parse::<f64>().ok().filter(|share| (0.0..=1.0).contains(share));
        if humidity.is_none() {
            refusals.push(refuse(line, "humidity", cell(2), "a share from 0 to 1", "0.65"));
        }
        if let (Some(at), Some(temperature), Some(humidity)) = (at, temperature, humidity) {
            match readings.last().map(|last| last.at.cmp(&at)) {
                // An hour that the clocks skip reads as the one after it, which has a row of its own.
                Some(std::cmp::Ordering::Equal) => continue,
                Some(std::cmp::Ordering::Greater) => {
                    let right = "sort the rows by time";
                    refusals.push(refuse(line, "time", cell(0), "times rise from row to row", right));
                }
                _ => {}
            }
            readings.push(Reading {
                at,
                temperature: Temperature::from_c(temperature),
                humidity: Humidity::from_fraction(humidity),
            });
        }
        if refusals.len() >= MOST_REFUSALS {
            break;
        }
        if readings.len() > MOST_ROWS {
            refusals.push(refuse(line, "", "", "at most 100000 readings", "a shorter series"));
            break;
        }
    }
    if readings.is_empty() && refusals.is_empty() {
        refusals.push(refuse(
            1,
            "",
            "no rows",
            "readings need at least one row",
            "2027-03-08T09:00, 14.2, 0.65",
        ));
    }
    if refusals.is_empty() {
        Ok(readings)
    } else {
        Err(refusals)
    }
}

/// A moment, or a clock time of the zone; of an hour that comes twice the first one that lies after `last`.
fn read_time(text: &str, zone: &TimeZone, last: Option<Timestamp>) -> Option<Timestamp> {
    let stamp = text.parse::<Timestamp>().ok().or_else(|| {
        let civil: DateTime = text.parse().ok()?;
        let first = zone.to_ambiguous_timestamp(civil).compatible().ok()?;
        if last.is_some_and(|last| first <= last) {
            zone.to_ambiguous_timestamp(civil).later().ok()
        } else {
            Some(first)
        }
    })?;
    let years = Timestamp::from_second(0).ok()?..=Timestamp::from_second(7_289_654_400).ok()?;
    years.contains(&stamp).then_some(stamp)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_on_the_shops_clock_become_moments() {
        let csv = "time,temperature_c,humidity\n2027-03-08T09:00,10.5,0.7\n2027-03-08T16:00Z,12,0.6\n";
        let readings = read("g.csv", csv.as_bytes(), "America/Chicago").unwrap();
        assert_eq!(readings[0].at.to_string(), "2027-03-08T15:00:00Z");
        assert_eq!(readings.len(), 2);
    }

    #[test]
    fn wall_clock_rows_pass_both_changes_of_the_clocks() {
        let spring =
            "time,temperature_c,humidity\n2027-03-14T01:00,1,0.5\n2027-03-14T02:00,2,0.5\n2027-03-14T03:00,3,0.5\n";
        assert_eq!(read("g.csv", spring.as_bytes(), "America/Chicago").unwrap().len(), 2);
        let autumn =
            "time,temperature_c,humidity\n2026-11-01T01:00,1,0.5\n2026-11-01T01:30,2,0.5\n2026-11-01T01:00,3,0.5\n";
        let readings = read("g.csv", autumn.as_bytes(), "America/Chicago").unwrap();
        assert_eq!(readings[2].at.duration_since(readings[0].at).as_mins(), 60);
    }

    #[test]
    fn each_bad_cell_is_named_with_its_line() {
        let csv = "time,temperature_c,humidity\n2027-03-08T09:00,warm,65\nlater,1,0.5\n";
        let refusals = read("g.csv", csv.as_bytes(), "UTC").unwrap_err();
        let places: Vec<(usize, &str)> = refusals.iter().map(|r| (r.line, r.field.as_str())).collect();
        assert_eq!(places, [(2, "temperature_c"), (2, "humidity"), (3, "time")]);
    }

    #[test]
    fn a_missing_column_is_named() {
        let refusals = read("g.csv", b"time,temp\n", "UTC").unwrap_err();
        assert_eq!(refusals.len(), 2);
        assert!(refusals[0].to_string().contains("temperature_c"));
    }
}
