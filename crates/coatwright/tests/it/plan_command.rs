//! `plan` from the outside: exit status, what is printed, what is written.

use std::ffi::OsString;
use std::path::Path;

use coatwright::files::{Disk, InMemory};
use coatwright::outcome::Outcome;
use jiff::Timestamp;
use shop::plan::Effort;

/// The example pieces, by their path below `examples/`.
pub(crate) const EXAMPLES: [&str; 6] = [
    "garage-in-march/hall-bench.toml",
    "garage-in-march/kitchen-chairs.toml",
    "garage-in-march/sideboard.toml",
    "garage-in-march/blanket-box.toml",
    "garage-in-march/stool.toml",
    "four-zones/washstand.toml",
];

/// The text of an example.
pub(crate) fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The moment at which every test believes to be.
pub(crate) fn now() -> Timestamp {
    "2027-03-08T15:00:00Z".parse().unwrap()
}

fn run(args: &[&str], files: &InMemory) -> Outcome {
    let args = ["coatwright", "plan"].iter().chain(args).map(OsString::from);
    coatwright::run(args, files, now(), Effort::default())
}

fn one_file(text: &str) -> Outcome {
    run(&["piece.toml"], &InMemory::holding([("piece.toml", text.as_bytes())]))
}

#[test]
fn a_name_a_form_and_three_numbers_are_enough() {
    let outcome = one_file(
        "[[piece]]\nname = \"chest\"\nform = \"case\"\nwidth = \"30 in\"\ndepth = \"18 in\"\nheight = \"34 in\"\n",
    );
    assert_eq!(outcome.status, 0, "{}", outcome.err);
    assert!(outcome.out.contains("CHEST"));
    assert!(outcome.out.contains("TAKEN FOR GRANTED"));
}

#[test]
fn every_mistake_is_named_at_once_with_its_line() {
    let outcome = one_file(
        "[shop]\nunits = \"imperail\"\n\n[[piece]]\nname = \"chest\"\nform = \"cas\"\nwidht = \"30 in\"\ndepth = \"18 quarts\"\nheight = \"34 in\"\n",
    );
    assert_eq!(outcome.status, 2);
    assert!(outcome.out.is_empty());
    for part in [
        "line 2",
        "imperial",
        "line 6",
        "case",
        "line 7",
        "width",
        "line 8",
        "18 quarts",
    ] {
        assert!(outcome.err.contains(part), "{part} is missing in:\n{}", outcome.err);
    }
}

#[test]
fn a_missing_file_is_a_refusal() {
    let outcome = run(&["nowhere.toml"], &InMemory::default());
    assert_eq!(outcome.status, 2);
    assert!(outcome.err.contains("nowhere.toml") && outcome.err.contains("no such file"));
}

#[test]
fn a_wrong_command_line_is_a_refusal_and_help_is_an_answer() {
    let files = InMemory::default();
    assert_eq!(run(&["--jsn", "x.toml"], &files).status, 2);
    assert_eq!(run(&[], &files).status, 2);
    let help = run(&["--help"], &files);
    assert_eq!(help.status, 0);
    assert!(help.out.contains("--ics"));
}

#[test]
fn nothing_is_written_beside_a_refusal() {
    let files = InMemory::holding([("piece.toml", b"[[piece]]\n".as_slice())]);
    let outcome = run(&["piece.toml", "--ics", "bench.ics", "--paper", "papers"], &files);
    assert_eq!(outcome.status, 2);
    assert_eq!(files.paths().len(), 1);
}

#[test]
fn papers_and_calendar_are_written_whole_on_disk() {
    let folder = tempfile::tempdir().unwrap();
    let piece = folder.path().join("washstand.toml");
    std::fs::write(&piece, example("four-zones/washstand.toml")).unwrap();
    let (ics, papers) = (folder.path().join("bench.ics"), folder.path().join("papers"));
    let args = ["coatwright", "plan"].map(OsString::from).into_iter().chain([
        piece.into_os_string(),
        "--ics".into(),
        ics.clone().into_os_string(),
        "--paper".into(),
        papers.clone().into_os_string(),
    ]);
    let outcome = coatwright::run(args, &Disk, now(), Effort::default());
    assert_eq!(outcome.status, 0, "{}", outcome.err);
    assert!(std::fs::read_to_string(&ics).unwrap().ends_with("END:VCALENDAR\r\n"));
    let mut names: Vec<String> = std::fs::read_dir(&papers)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "care-card-washstand.html",
            "day-sheets.html",
            "job-card-washstand.html",
            "quote-washstand.html",
            "shopping.html",
            "steps.csv"
        ]
    );
}

#[test]
fn a_folder_that_cannot_be_written_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let piece = folder.path().join("washstand.toml");
    std::fs::write(&piece, example("four-zones/washstand.toml")).unwrap();
    let ics = folder.path().join("bench.ics");
    // The plan file itself is no folder, so nothing can be written below it.
    let papers = piece.join("papers");
    let args = ["coatwright", "plan"].map(OsString::from).into_iter().chain([
        piece.clone().into_os_string(),
        "--ics".into(),
        ics.clone().into_os_string(),
        "--paper".into(),
        papers.into_os_string(),
    ]);
    let outcome = coatwright::run(args, &Disk, now(), Effort::default());
    assert_eq!(outcome.status, 2);
    assert!(outcome.err.contains("could not be written"));
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        1,
        "only the plan file is there"
    );
}

#[test]
fn a_surface_that_the_form_has_not_is_refused_on_its_zones_line() {
    let text = example("four-zones/washstand.toml").replacen("of        = [\"top\"]", "of        = [\"roof\"]", 1);
    let line = 1 + text[..text.find("[[piece.zone]]").unwrap()].matches('\n').count();
    let outcome = one_file(&text);
    assert_eq!(outcome.status, 2, "{}", outcome.out);
    for part in ["roof", "drawer-fronts", &format!("line {line}")] {
        assert!(outcome.err.contains(part), "{part} is missing in:\n{}", outcome.err);
    }
}

#[test]
fn a_wish_that_nothing_meets_ends_with_three_and_says_what_would_free_it() {
    let text = example("four-zones/washstand.toml").replacen(
        "wish      = { look = \"metallic\", sheen = \"satin\", colour = \"#3a3a38\" }",
        "wish      = { look = \"stain\" }",
        1,
    );
    let outcome = one_file(&text);
    assert_eq!(outcome.status, 3, "{}{}", outcome.out, outcome.err);
    for part in ["washstand, hardware", "stands against", "finding:", "would free it:"] {
        assert!(outcome.err.contains(part), "{part} is missing in:\n{}", outcome.err);
    }
}
