//! Every source that a row names is listed, and every listed source is named by something.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use trade::{abrasives, compat, finish_rows, law, methods, prep_rows, solvents, sources, species_rows, wood_rules};

fn crates() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the crate lies in crates/")
        .to_owned()
}

/// Every key that a row of this crate's tables names.
fn named_keys() -> BTreeSet<String> {
    let mut keys = BTreeSet::new();
    keys.extend(finish_rows::all().iter().map(|row| row.source.clone()));
    keys.extend(prep_rows::all().iter().map(|row| row.source.clone()));
    for row in species_rows::all() {
        keys.extend([
            row.source.clone(),
            row.hardness_source.clone(),
            row.behaviour_source.clone(),
        ]);
    }
    for found in trade::FoundSurface::EVERY {
        keys.extend(
            trade::FinishClass::EVERY
                .iter()
                .map(|new| compat::verdict(*found, *new).source.to_owned()),
        );
    }
    keys.extend(compat::rules().iter().map(|row| row.source.clone()));
    keys.extend(abrasives::grits().iter().map(|row| row.source.clone()));
    keys.extend(abrasives::cami().iter().map(|row| row.source.clone()));
    keys.extend(abrasives::steps().iter().map(|row| row.source.clone()));
    keys.insert(abrasives::rules().source.clone());
    keys.extend(methods::all().iter().map(|row| row.source.clone()));
    keys.extend(methods::details().iter().map(|row| row.source.clone()));
    keys.extend(solvents::all().iter().map(|row| row.source.clone()));
    keys.extend(law::all().iter().map(|row| row.source.clone()));
    keys.extend(law::voc_limits().iter().map(|row| row.source.clone()));
    keys.extend(wood_rules::all().iter().map(|row| row.source.clone()));
    keys
}

/// The text of every file of code or data under `crates/`.
fn texts_under(folder: &Path, into: &mut String) {
    for entry in fs::read_dir(folder).expect("the folder is readable") {
        let path = entry.expect("the entry is readable").path();
        if path.is_dir() && !path.ends_with("target") {
            texts_under(&path, into);
        } else if path
            .extension()
            .is_some_and(|ext| ["rs", "toml", "csv"].iter().any(|known| ext == *known))
        {
            into.push_str(&fs::read_to_string(&path).unwrap_or_default());
        }
    }
}

#[test]
fn every_key_resolves() {
    for key in named_keys() {
        assert!(sources::get(&key).is_some(), "`{key}` is not in docs/SOURCES.toml");
    }
}

#[test]
fn no_listed_source_is_unused() {
    let mut texts = String::new();
    texts_under(&crates(), &mut texts);
    let words: BTreeSet<&str> = texts
        .split(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))
        .collect();
    for key in sources::all().keys() {
        assert!(
            words.contains(key.as_str()),
            "`{key}` is listed in docs/SOURCES.toml but nothing names it"
        );
    }
}

#[test]
fn sources_stand_sorted_by_key() {
    let text = fs::read_to_string(crates().join("../docs/SOURCES.toml")).expect("the list is there");
    let keys: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix('[')?.strip_suffix(']'))
        .collect();
    assert!(keys.is_sorted(), "sort docs/SOURCES.toml by key: {keys:?}");
}

#[test]
fn no_row_claims_more_than_its_source() {
    // A row that was read needs a source that was read; one by common practice needs no document.
    for row in finish_rows::all() {
        let source = sources::get(&row.source).expect("every_key_resolves");
        assert!(
            row.status != sources::Status::Read || source.status == sources::Status::Read,
            "{}",
            row.class
        );
        assert_eq!(
            row.status == sources::Status::CommonPractice,
            row.source == "common-practice",
            "{}",
            row.class
        );
    }
    for row in law::all() {
        let source = sources::get(&row.source).expect("every_key_resolves");
        assert!(
            row.rule_status != sources::Status::Read || source.status == sources::Status::Read,
            "{}",
            row.id
        );
    }
}
