//! `backup`, `restore`, `export` and `import` from the outside, each in a folder that is thrown away.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

use coatwright::files::Disk;
use coatwright::outcome::Outcome;
use jiff::Timestamp;
use shop::Shop;
use shop::file::{Beside, Source};
use shop::model::{Block, LeadAmount, LeadTest, LeadTested, Mark, MarkKind, Placement, TestKind};
use shop::plan::Effort;
use store::Store;
use tempfile::TempDir;

use crate::plan_command::{EXAMPLES, example, now};

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n and so on";

struct Examples;

impl Beside for Examples {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        Ok(example(&format!("garage-in-march/{name}")).into_bytes())
    }
}

/// A shop of the example pieces with a renamed one, two rooms, a block, a log and two photographs.
fn lived_in() -> Shop {
    let mut sources = vec![Source::new("shop.toml", example("garage-in-march/shop.toml"))];
    let pieces = EXAMPLES.iter().filter(|name| name.starts_with("garage"));
    sources.extend(pieces.map(|name| Source::new(*name, example(name))));
    let mut shop = shop::file::read(&sources, &Examples).unwrap().shop;
    shop.pieces[0].name = "the hall's \"bench\"".to_owned();
    shop.pieces[1].notes = "two lines,\nand a comma".to_owned();
    shop.pieces[1].placement = Some(Placement::BuiltIn);
    // Steps being written by hand, begun and just cleared, and a lead test with all that it said.
    let draft = r#"[ { "operation": "scuff", "grit": "P220", "wet": true, "wait_min": 90 },
                     { "operation": "paint", "material": "alkyd-enamel", "method": "roller" } ]"#;
    shop.pieces[0].zones[0].draft = serde_json::from_str(draft).unwrap();
    shop.pieces[1].zones[0].draft = Some(Vec::new());
    shop.pieces[1].zones[0].lead = LeadTested {
        said: LeadTest::Present,
        by: Some(TestKind::Xrf),
        amount: Some(LeadAmount::MgPerCm2(2.4)),
    };
    let mut spray = shop.settings.rooms[0].clone();
    spray.name = "spray corner".to_owned();
    spray.readings.truncate(5);
    spray.readings_file = None;
    shop.settings.rooms.push(spray);
    shop.settings.blocks.push(Block {
        hand: None,
        from: "2027-03-11T09:00".parse().unwrap(),
        to: "2027-03-11T12:00".parse().unwrap(),
        why: "market day".to_owned(),
    });
    for what in [
        MarkKind::Begun,
        MarkKind::StillTacky { more_min: 45 },
        MarkKind::Pinned { to: now() },
    ] {
        let step = "hall-bench.lid.1-clean".to_owned();
        shop.log.push(Mark {
            step,
            at: now(),
            what,
            of: None,
        });
    }
    shop
}

struct Place(TempDir);

impl Place {
    /// A place with the shop in its folder `shop`.
    fn with_shop() -> Self {
        let place = Place(tempfile::tempdir().unwrap());
        let store = Store::open(&place.path("shop")).unwrap();
        store.save(&lived_in()).unwrap();
        let when: Timestamp = "2027-03-01T10:00:00Z".parse().unwrap();
        store
            .add_photograph("sideboard", PNG, when, "as it came, \"dull\"")
            .unwrap();
        store.add_photograph("hall-bench", PNG, when, "").unwrap();
        place
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// Runs a command; words that begin with `/` are names within the place.
    fn run(&self, args: &[&str]) -> Outcome {
        let word = |arg: &&str| match arg.strip_prefix('/') {
            Some(name) => self.path(name).into_os_string(),
            None => OsString::from(arg),
        };
        let args = std::iter::once(OsString::from("coatwright")).chain(args.iter().map(word));
        coatwright::run(args, &Disk, now(), Effort::least())
    }

    fn done(&self, args: &[&str]) -> String {
        let outcome = self.run(args);
        assert_eq!(outcome.status, 0, "{args:?}: {}", outcome.err);
        outcome.out
    }

    /// Runs a command that must be refused with these words, worded as every refusal is.
    fn refused(&self, args: &[&str], parts: &[&str]) {
        let outcome = self.run(args);
        assert_eq!(outcome.status, 2, "{args:?}: {}", outcome.out);
        for part in parts.iter().chain(&["found:", "limit:", "right:"]) {
            assert!(
                outcome.err.contains(part),
                "{args:?}: \"{part}\" is missing in\n{}",
                outcome.err
            );
        }
    }

    fn shop(&self, name: &str) -> Shop {
        Store::open(&self.path(name)).unwrap().load().unwrap()
    }

    fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.0.path()).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }
}

/// Every file below a folder with its bytes.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in std::fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_owned();
                found.insert(name, std::fs::read(&path).unwrap());
            }
        }
    }
    found
}

#[test]
fn a_backup_restores_the_whole_shop_elsewhere() {
    let place = Place::with_shop();
    let said = place.done(&["backup", "/kept/all.backup", "--shop", "/shop"]);
    assert!(
        said.contains("5 pieces, 3 lines of the bench log and 2 photographs"),
        "{said}"
    );
    place.done(&["restore", "/kept/all.backup", "--shop", "/again"]);
    assert_eq!(place.shop("again"), place.shop("shop"));
    let again = Store::open(&place.path("again")).unwrap();
    let photograph = again.photographs("sideboard").unwrap().remove(0);
    assert_eq!(again.photograph_bytes(&photograph).unwrap(), PNG);
    assert_eq!(place.names(), ["again", "kept", "shop"], "nothing half-made is left");
}

#[test]
fn nothing_is_written_over_without_being_asked() {
    let place = Place::with_shop();
    place.done(&["backup", "/all.backup", "--shop", "/shop"]);
    let first = std::fs::read(place.path("all.backup")).unwrap();
    place.refused(
        &["backup", "/all.backup", "--shop", "/shop"],
        &["all.backup", "--overwrite"],
    );
    assert_eq!(std::fs::read(place.path("all.backup")).unwrap(), first);
    place.done(&["backup", "/all.backup", "--shop", "/shop", "--overwrite"]);

    place.refused(&["restore", "/all.backup", "--shop", "/shop"], &["--overwrite"]);
    let said = place.done(&["restore", "/all.backup", "--shop", "/shop", "--overwrite"]);
    assert!(said.contains("shop.before-1"), "{said}");
    assert_eq!(
        place.shop("shop.before-1"),
        place.shop("shop"),
        "what was there is put aside"
    );

    place.done(&["export", "/files", "--shop", "/shop"]);
    place.refused(&["export", "/files", "--shop", "/shop"], &["files", "--overwrite"]);
    place.refused(&["import", "/files", "--shop", "/shop"], &["shop", "--overwrite"]);
    std::fs::create_dir(place.path("empty")).unwrap();
    place.done(&["import", "/files", "--shop", "/empty"]);
    assert_eq!(
        place.names(),
        ["all.backup", "empty", "files", "shop", "shop.before-1"],
        "nothing half-made is left"
    );
}

#[test]
fn what_cannot_be_used_is_refused_and_leaves_nothing_behind() {
    let place = Place::with_shop();
    std::fs::write(place.path("letter.txt"), "Dear client").unwrap();
    let before = place.names();
    place.refused(
        &["backup", "/all.backup", "--shop", "/nowhere"],
        &["nowhere", "no shop"],
    );
    place.refused(&["backup", "/shop", "--shop", "/shop"], &["this is a folder"]);
    place.refused(&["restore", "/letter.txt", "--shop", "/new"], &["letter.txt", "backup"]);
    place.refused(
        &["restore", "/nothing.backup", "--shop", "/new"],
        &["nothing.backup", "no such file"],
    );
    place.refused(&["export", "/files", "--shop", "/nowhere"], &["no shop"]);
    place.refused(
        &["import", "/nothing.toml", "--shop", "/new"],
        &["nothing.toml", "no such file"],
    );
    place.refused(
        &["import", "/letter.txt", "--shop", "/new"],
        &["letter.txt", "line 1", "TOML"],
    );
    assert_eq!(place.names(), before);
}

#[test]
fn an_export_that_is_imported_exports_the_same_bytes() {
    let place = Place::with_shop();
    place.done(&["export", "/first", "--shop", "/shop"]);
    place.done(&["import", "/first", "--shop", "/again"]);
    place.done(&["export", "/second", "--shop", "/again"]);
    let (first, second) = (files(&place.path("first")), files(&place.path("second")));
    assert_eq!(first.keys().collect::<Vec<_>>(), second.keys().collect::<Vec<_>>());
    for (name, bytes) in &first {
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        assert_eq!(text(bytes), text(&second[name]), "{}", name.display());
    }
    for name in [
        "shop.toml",
        "log.csv",
        "garage.csv",
        "spray-corner.csv",
        "photographs.csv",
        "photographs/2.png",
    ] {
        assert!(
            first.contains_key(Path::new(name)),
            "{name} is missing in {:?}",
            first.keys()
        );
    }
    // A label's spread is written to nine decimals; everything else of a piece and the log comes back as it was.
    let (shop, again) = (place.shop("shop"), place.shop("again"));
    assert_eq!(again.pieces[0].zones[0].draft.as_ref().map(Vec::len), Some(2));
    assert_eq!(again.pieces[1].zones[0].draft, Some(Vec::new()));
    assert_eq!((again.pieces, again.log), (shop.pieces, shop.log));
    assert_eq!(again.shelf.len(), shop.shelf.len());
    let notes = Store::open(&place.path("again"))
        .unwrap()
        .photographs("sideboard")
        .unwrap();
    assert_eq!(notes[0].note, "as it came, \"dull\"");
}

#[test]
fn an_export_is_a_plan_file_and_plan_files_become_a_shop() {
    let place = Place::with_shop();
    place.done(&["export", "/files", "--shop", "/shop"]);
    assert!(place.done(&["plan", "/files/shop.toml"]).contains("SIDEBOARD"));
    let piece = "[[piece]]\nname = \"chest\"\nform = \"case\"\nwidth = 30\ndepth = \"18 in\"\nheight = \"34 in\"\n";
    std::fs::write(place.path("chest.toml"), piece).unwrap();
    let said = place.done(&["import", "/chest.toml", "--shop", "/small"]);
    assert!(
        said.contains("1 piece,") && said.contains("Taken for granted: "),
        "{said}"
    );
    assert_eq!(place.shop("small").pieces[0].name, "chest");
}

#[test]
fn a_spoiled_export_is_refused_with_its_file_and_line() {
    let place = Place::with_shop();
    place.done(&["export", "/files", "--shop", "/shop"]);
    let spoil = |name: &str, from: &str, to: &str| {
        let path = place.path("files").join(name);
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{name}: {text}");
        std::fs::write(&path, text.replacen(from, to, 1)).unwrap();
        text
    };
    for (name, from, to, words) in [
        ("log.csv", ",begun,", ",danced,", "danced"),
        ("photographs.csv", "sideboard,", "wardrobe,", "wardrobe"),
        ("photographs.csv", "1.png", "../shop.toml", "plain file name"),
        ("shop.toml", "form = \"case\"", "form = \"cas\"", "line "),
    ] {
        let before = spoil(name, from, to);
        place.refused(&["import", "/files", "--shop", "/new"], &[name, words]);
        std::fs::write(place.path("files").join(name), before).unwrap();
    }
    assert!(!place.path("new").exists());
}
