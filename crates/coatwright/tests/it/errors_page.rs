//! `docs/ERRORS.md` is what the program itself says: every refusal on it is provoked here. Run with `COATWRIGHT_WRITE_DOCS=1` to write
//! the page anew.

use std::ffi::OsString;
use std::fmt::Write as _;

use coatwright::files::{Disk, InMemory};
use coatwright::outcome::Outcome;
use shop::plan::Effort;

use crate::plan_command::{example, now};

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/ERRORS.md");

const HEAD: &str = "\
# What the program refuses

Every refusal names its place (the file and line, the field, or the folder), what was found there, the limit that it breaks, and what would be right.
All that is wrong is named at once, and nothing is written or changed meanwhile.

| exit status | meaning |
| --- | --- |
| 0 | a plan was made, or what was asked is done; the answer is on standard output |
| 2 | the input is wrong; what, where and what would be right is on standard error, and nothing was written |
| 3 | the input is sound and no schedule exists for it; which wish stands against what, and what would free it, is on standard error |

On the pages of the browser the same words stand beside their field, and the form comes back as it was typed.
What a step or a piece cannot bear is no refusal but a finding ([FINDINGS.md](FINDINGS.md)), and what can hurt somebody a caution ([CAUTIONS.md](CAUTIONS.md)).

Each example below is provoked by a test, which compares this page with what the program says.
";

/// One value of the example spoiled: what the entry is about, what stands in the file, and what is put there.
const SPOILED: &[(&str, &str, &str)] = &[
    (
        "a length that cannot be read",
        "width    = \"80 cm\"",
        "width    = \"wide\"",
    ),
    (
        "a length no furniture has",
        "width    = \"80 cm\"",
        "width    = \"900 m\"",
    ),
    ("an unknown form", "form     = \"case\"", "form     = \"chest\""),
    ("a year that is none", "made     = \"1985\"", "made     = \"old\""),
    ("an unknown use", "use      = \"bedroom\"", "use      = \"bathroom\""),
    (
        "an unknown time zone",
        "zone_id  = \"Europe/Berlin\"",
        "zone_id  = \"Berlin\"",
    ),
    ("money below nothing", "wage     = 32.00", "wage     = -1"),
    (
        "a cold snap that ends before it begins",
        "wage     = 32.00",
        "spell = [{ from = \"2027-05-05T18:00\", to = \"2027-05-05T09:00\", temperature = \"4 °C\" }]",
    ),
    (
        "a move that is to save more than a week",
        "wage     = 32.00",
        "worth_moving = \"9 days\"",
    ),
    ("an unknown substrate", "substrate = \"steel\"", "substrate = \"steal\""),
    (
        "an unknown class of finish",
        "class = \"alkyd-enamel\"",
        "class = \"alkid-enamel\"",
    ),
    ("more coats than a zone can have", "coats = 1", "coats = 99"),
    (
        "a kind of lead test that is none",
        "tested    = { lead = \"none\" }",
        "tested    = { lead = \"none\", by = \"swap\" }",
    ),
    (
        "an amount of lead that such a test does not give",
        "tested    = { lead = \"none\" }",
        "tested    = { lead = \"present\", by = \"swab\", amount = \"2 mg/cm2\" }",
    ),
    (
        "an amount of lead that no paint holds",
        "tested    = { lead = \"none\" }",
        "tested    = { lead = \"present\", by = \"lab-chip\", amount = \"120 %\" }",
    ),
    (
        "a piece neither movable nor built in",
        "use      = \"bedroom\"",
        "use      = \"bedroom\"\nplacement = \"upstairs\"",
    ),
    ("a count that is no number", "pulls    = 4", "pulls    = \"four\""),
    ("a key that is mistyped", "hands    = 1", "hans    = 1"),
    (
        "hours that overlap",
        "tue = \"8:00-12:00 13:00-17:00\"",
        "tue = \"8:00-12:00 11:00-17:00\"",
    ),
    (
        "a surface that the form has not",
        "of        = [\"top\"]",
        "of        = [\"roof\"]",
    ),
    (
        "readings that are not there",
        "hands    = 1",
        "readings = \"garage.csv\"",
    ),
    ("what is no TOML", "[[piece]]", "[[piece]"),
    (
        "a wish that nothing meets",
        "wish      = { look = \"metallic\", sheen = \"satin\", colour = \"#3a3a38\" }",
        "wish      = { look = \"stain\" }",
    ),
];

struct Page(String);

impl Page {
    fn section(&mut self, title: &str) {
        let _ = write!(self.0, "\n## {title}\n");
    }

    /// Puts what the program said beside what provoked it.
    fn entry(&mut self, what: &str, by: &str, outcome: &Outcome) {
        assert_ne!(outcome.status, 0, "{what}: {by} was taken:\n{}", outcome.out);
        assert!(outcome.out.is_empty() && !outcome.err.is_empty(), "{what}");
        let said = outcome.err.trim_end();
        let _ = write!(
            self.0,
            "\n### {what}\n\n`{by}` ends with {}:\n\n```text\n{said}\n```\n",
            outcome.status
        );
    }
}

fn plan_files(page: &mut Page) {
    page.section("Plan files");
    let whole = example("four-zones/washstand.toml");
    for (what, right, wrong) in SPOILED {
        assert!(whole.contains(right), "the example no longer holds {right}");
        let text = whole.replacen(right, wrong, 1);
        let files = InMemory::holding([("washstand.toml", text.as_bytes())]);
        let args = ["coatwright", "plan", "washstand.toml"].map(OsString::from);
        let outcome = coatwright::run(args, &files, now(), Effort::default());
        let spaces = wrong.split_whitespace().collect::<Vec<_>>().join(" ");
        page.entry(what, &spaces, &outcome);
    }
}

/// Commands over a folder that holds a letter and a shop; `FOLDER` stands for its path.
fn commands(page: &mut Page) {
    page.section("Commands");
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("letter.txt"), "Dear client").unwrap();
    store::Store::open(&folder.path().join("shop"))
        .unwrap()
        .save(&shop::Shop::default())
        .unwrap();
    let long = folder.path().display().to_string();
    let cases: &[(&str, &str)] = &[
        ("a file that is not there", "plan nowhere.toml"),
        ("a command that there is not", "dance"),
        ("a port that cannot be", "serve --port 99999"),
        ("a backup of no shop", "backup FOLDER/all.backup --shop FOLDER/nowhere"),
        ("a backup over a file", "backup FOLDER/letter.txt --shop FOLDER/shop"),
        ("a backup onto a folder", "backup FOLDER/shop --shop FOLDER/shop"),
        (
            "restoring what is no backup",
            "restore FOLDER/letter.txt --shop FOLDER/new",
        ),
        ("restoring over a shop", "restore FOLDER/letter.txt --shop FOLDER/shop"),
        ("exporting over a folder", "export FOLDER/shop --shop FOLDER/shop"),
        (
            "importing what is no plan file",
            "import FOLDER/letter.txt --shop FOLDER/new",
        ),
    ];
    for (what, line) in cases {
        let args = std::iter::once("coatwright")
            .chain(line.split(' '))
            .map(|word| OsString::from(word.replace("FOLDER", &long)));
        let mut outcome = coatwright::run(args, &Disk, now(), Effort::default());
        outcome.err = outcome.err.replace(&long, "FOLDER");
        page.entry(what, &format!("coatwright {line}"), &outcome);
    }
    let mut there: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    there.sort();
    assert_eq!(there, ["letter.txt", "shop"], "a refused command wrote something");
}

#[test]
fn the_page_of_refusals_says_what_the_program_says() {
    let mut page = Page(HEAD.to_owned());
    plan_files(&mut page);
    commands(&mut page);
    if std::env::var_os("COATWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(PAGE, &page.0).unwrap();
    }
    let written = std::fs::read_to_string(PAGE).unwrap_or_default();
    assert_eq!(
        written, page.0,
        "docs/ERRORS.md is out of date: run this test with COATWRIGHT_WRITE_DOCS=1"
    );
}

#[test]
fn every_refusal_of_a_file_or_folder_has_its_four_parts() {
    let page = std::fs::read_to_string(PAGE).unwrap();
    for entry in page
        .split("\n### ")
        .skip(1)
        .filter(|entry| !entry.contains("Usage:") && !entry.contains("ends with 3"))
    {
        let is_whole = ["limit: ", "right: "].iter().all(|part| entry.contains(part));
        // clap words its own: what is wrong and how to ask for help.
        assert!(is_whole || entry.contains("--help"), "{entry}");
    }
}
