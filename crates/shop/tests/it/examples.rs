//! The example shops, read from the repository's own folder.

use std::path::{Path, PathBuf};

use jiff::Timestamp;
use shop::Shop;
use shop::file::{Beside, Source, read};
use shop::plan::{Effort, Plan, check_steps, plan};

/// The five pieces of the cold garage, in the order in which they were taken in.
pub(crate) const GARAGE: [&str; 5] = ["hall-bench", "kitchen-chairs", "sideboard", "blanket-box", "stool"];

struct Folder(PathBuf);

impl Beside for Folder {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        std::fs::read(self.0.join(name)).map_err(|error| error.to_string())
    }
}

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

/// The moment at which every test believes to be.
pub(crate) fn now() -> Timestamp {
    "2027-03-08T15:00:00Z".parse().unwrap()
}

fn shop_of(folder_name: &str, files: &[String]) -> Shop {
    let folder = folder(folder_name);
    let sources: Vec<Source> = files
        .iter()
        .map(|file| Source::new(file.clone(), std::fs::read_to_string(folder.join(file)).unwrap()))
        .collect();
    read(&sources, &Folder(folder))
        .unwrap_or_else(|refusals| panic!("{refusals}"))
        .shop
}

/// The garage with some of its pieces.
pub(crate) fn garage(pieces: &[&str]) -> Shop {
    let mut files = vec!["shop.toml".to_owned()];
    files.extend(pieces.iter().map(|piece| format!("{piece}.toml")));
    shop_of("garage-in-march", &files)
}

/// The washstand in four zones.
pub(crate) fn washstand() -> Shop {
    shop_of("four-zones", &["washstand.toml".to_owned()])
}

/// Plans a shop with the usual effort.
pub(crate) fn planned(shop: &Shop) -> Plan {
    plan(shop, now(), Effort::default()).unwrap_or_else(|failure| panic!("{failure:#?}"))
}

#[test]
fn the_garages_readings_follow_their_rule() {
    let csv = std::fs::read_to_string(folder("garage-in-march").join("garage.csv")).unwrap();
    let rows: Vec<&str> = csv.lines().filter(|line| line.starts_with("2027")).collect();
    assert_eq!(rows.len(), 56 * 24);
    for (hour, row) in rows.iter().enumerate() {
        let (day, of_day) = (hour / 24, f64::from(u32::try_from(hour % 24).unwrap()));
        let swing = (2.0 * std::f64::consts::PI * (of_day - 15.0) / 24.0).cos();
        let snap = if (10..13).contains(&day) { 6.0 } else { 0.0 };
        let temperature = 12.5 + 0.1 * f64::from(u32::try_from(day).unwrap()) - snap + 3.5 * swing;
        let damp = if day % 7 == 4 { 0.08 } else { 0.0 };
        let humidity = 0.66 - 0.10 * swing + damp;
        let cells: Vec<&str> = row.split(',').collect();
        assert!((cells[1].parse::<f64>().unwrap() - temperature).abs() < 0.051, "{row}");
        assert!((cells[2].parse::<f64>().unwrap() - humidity).abs() < 0.0051, "{row}");
    }
}

#[test]
fn the_garage_as_text() {
    insta::assert_snapshot!(shop::text::plan_as_text(&planned(&garage(&GARAGE))));
}

#[test]
fn the_washstand_as_text() {
    insta::assert_snapshot!(shop::text::plan_as_text(&planned(&washstand())));
}

#[test]
fn the_same_shop_gives_the_same_plan() {
    let shop = garage(&["hall-bench", "stool"]);
    assert_eq!(planned(&shop).to_json().unwrap(), planned(&shop).to_json().unwrap());
}

/// Every step of every example is there for something: without it the check finds what the step names as its reason.
#[test]
fn no_step_of_an_example_can_be_left_out_unnoticed() {
    let mut steps_looked_at = 0;
    for shop in [garage(&GARAGE), washstand()] {
        for piece in &shop.pieces {
            for zone in &piece.zones {
                let whole = check_steps(&shop, piece, &zone.name, None).unwrap();
                for (idx, step) in whole.steps.iter().enumerate() {
                    let mut rest = whole.steps.clone();
                    rest.remove(idx);
                    let without = check_steps(&shop, piece, &zone.name, Some(&rest)).unwrap();
                    let is_new = |rule: &str| whole.findings.iter().all(|finding| finding.rule != rule);
                    let missed = without.findings.iter().any(|finding| {
                        is_new(&finding.rule) && step.because.iter().any(|reason| reason.rule == finding.rule)
                    });
                    assert!(missed, "{}, {}: {} is not missed", piece.name, zone.name, step.words());
                    steps_looked_at += 1;
                }
            }
        }
    }
    assert!(steps_looked_at > 60, "only {steps_looked_at} steps");
}
