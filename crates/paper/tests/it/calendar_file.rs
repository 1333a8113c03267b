//! The calendar file against RFC 5545: line endings, folding, escaping, required properties, UTC.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;

use crate::planned::{now, plan_of_a_difficult_name};

/// Unfolds the text (3.1) and returns its content lines as name, parameters and value.
fn content_lines(text: &str) -> Vec<(String, String, String)> {
    assert!(text.ends_with("\r\n"), "the last line ends too");
    assert!(
        !text.replace("\r\n", "").contains(['\r', '\n']),
        "every line ends in CR LF"
    );
    text.replace("\r\n ", "")
        .split("\r\n")
        .filter(|line| !line.is_empty())
        .map(|line| {
            let (name, value) = line.split_once(':').unwrap_or_else(|| panic!("no colon in {line}"));
            let (name, parameters) = name.split_once(';').unwrap_or((name, ""));
            (name.to_owned(), parameters.to_owned(), value.to_owned())
        })
        .collect()
}

/// Undoes the escapes of TEXT (3.3.11).
fn plain(value: &str) -> String {
    let mut out = String::new();
    let mut chars = value.chars();
    while let Some(c) = chars.next() {
        match c {
            '\\' => match chars.next() {
                Some('n' | 'N') => out.push('\n'),
                Some(c @ ('\\' | ';' | ',')) => out.push(c),
                other => panic!("\\{other:?} is no escape of RFC 5545"),
            },
            ',' | ';' => panic!("{c} stands unescaped in {value}"),
            c => out.push(c),
        }
    }
    out
}

fn moment(value: &str) -> Timestamp {
    let text = format!(
        "{}-{}-{}T{}:{}:{}Z",
        &value[0..4],
        &value[4..6],
        &value[6..8],
        &value[9..11],
        &value[11..13],
        &value[13..15]
    );
    assert!(
        value.len() == 16 && value.as_bytes()[8] == b'T' && value.ends_with('Z'),
        "{value} is a moment in UTC"
    );
    text.parse().unwrap()
}

#[test]
fn no_line_is_longer_than_75_octets() {
    let text = paper::calendar::icalendar(&plan_of_a_difficult_name(), now());
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
    }
    assert!(text.contains("\r\n "), "something was folded");
}

#[test]
fn every_event_has_what_the_standard_requires_once() {
    let plan = plan_of_a_difficult_name();
    let lines = content_lines(&paper::calendar::icalendar(&plan, now()));
    let names: Vec<&str> = lines.iter().map(|(name, ..)| name.as_str()).collect();
    assert_eq!(&names[..3], ["BEGIN", "VERSION", "PRODID"]);
    assert_eq!(lines[1].2, "2.0");
    let mut open: Vec<String> = Vec::new();
    let mut events: Vec<BTreeMap<String, String>> = Vec::new();
    for (name, _, value) in lines {
        match name.as_str() {
            "BEGIN" => {
                open.push(value.clone());
                if value == "VEVENT" {
                    events.push(BTreeMap::new());
                }
            }
            "END" => assert_eq!(open.pop(), Some(value)),
            _ if open.last().is_some_and(|open| open == "VEVENT") => {
                let twice = events.last_mut().unwrap().insert(name.clone(), value);
                assert_eq!(twice, None, "{name} stands twice");
            }
            _ => {}
        }
    }
    assert!(open.is_empty());
    let blocks: usize = plan.days.iter().map(|day| day.blocks.len()).sum();
    assert_eq!(events.len(), blocks + 2 * plan.pieces.len());
    let uids: BTreeSet<&String> = events.iter().map(|event| &event["UID"]).collect();
    assert_eq!(uids.len(), events.len(), "UIDs differ");
    for event in &events {
        assert_eq!(moment(&event["DTSTAMP"]), now());
        assert!(
            plain(&event["SUMMARY"]).contains("Ädel, \"oak\"; <chest> \\ 50 %"),
            "{}",
            event["SUMMARY"]
        );
    }
}

#[test]
fn events_stand_where_the_plan_has_them() {
    let plan = plan_of_a_difficult_name();
    let lines = content_lines(&paper::calendar::icalendar(&plan, now()));
    let moments = |wanted: &str| -> Vec<Timestamp> {
        lines
            .iter()
            .filter(|(name, parameters, _)| name == wanted && parameters.is_empty())
            .map(|(_, _, value)| moment(value))
            .collect()
    };
    let blocks: Vec<_> = plan.days.iter().flat_map(|day| &day.blocks).collect();
    assert_eq!(
        moments("DTSTART"),
        blocks.iter().map(|block| block.from.timestamp()).collect::<Vec<_>>()
    );
    assert_eq!(
        moments("DTEND"),
        blocks.iter().map(|block| block.to.timestamp()).collect::<Vec<_>>()
    );
    let dates: Vec<&str> = lines
        .iter()
        .filter(|(name, parameters, _)| name == "DTSTART" && parameters == "VALUE=DATE")
        .map(|(_, _, v)| v.as_str())
        .collect();
    assert_eq!(dates[0], plan.pieces[0].ready.strftime("%Y%m%d").to_string());
}

#[test]
fn the_same_plan_gives_the_same_uids_later() {
    let plan = plan_of_a_difficult_name();
    let uids = |now: Timestamp| -> Vec<String> {
        content_lines(&paper::calendar::icalendar(&plan, now))
            .into_iter()
            .filter(|(name, ..)| name == "UID")
            .map(|(_, _, v)| v)
            .collect()
    };
    assert_eq!(uids(now()), uids("2027-04-01T00:00:00Z".parse().unwrap()));
}
