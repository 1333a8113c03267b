//! Ids and aliases: unambiguous, read back, refused with the nearest.

use std::collections::BTreeMap;

use trade::{FinishClass, FoundSurface, Material, Operation, PrepClass, Species, Substrate, Verdict};

/// No two members share a spelling, and none repeats its own id.
fn assert_unambiguous(kind: &str, spellings: impl Iterator<Item = (&'static str, &'static str)>) {
    let mut seen: BTreeMap<&str, &str> = BTreeMap::new();
    for (spelling, id) in spellings {
        assert_eq!(
            spelling,
            spelling.to_lowercase(),
            "{kind}: {spelling} is not in the shape that is looked up"
        );
        assert!(
            !spelling.contains([' ', '_']),
            "{kind}: {spelling} is not in the shape that is looked up"
        );
        if let Some(other) = seen.insert(spelling, id) {
            unreachable!("{kind}: `{spelling}` means both {other} and {id}");
        }
    }
}

#[test]
fn no_spelling_means_two_things() {
    assert_unambiguous("finish class", FinishClass::spellings());
    assert_unambiguous("preparation class", PrepClass::spellings());
    assert_unambiguous("material", FinishClass::spellings().chain(PrepClass::spellings()));
    assert_unambiguous("operation", Operation::spellings());
    assert_unambiguous("species", Species::spellings());
    assert_unambiguous("surface", FoundSurface::spellings());
    assert_unambiguous("verdict", Verdict::spellings());
}

#[test]
fn plain_substrates_and_species_do_not_overlap() {
    for (spelling, id) in Species::spellings() {
        assert_eq!(
            Substrate::parse(spelling).map(|s| s.id()).as_deref(),
            Ok(id),
            "{spelling}"
        );
    }
}

#[test]
fn counts_are_those_of_the_plan_format() {
    assert_eq!(FinishClass::CHOOSABLE.len(), 31);
    assert_eq!(FinishClass::EVERY.len(), 33);
    assert_eq!(PrepClass::EVERY.len(), 20);
    assert_eq!(Operation::EVERY.len(), 29);
    assert_eq!(Material::every().count(), 51);
    assert_eq!(Species::EVERY.len(), 33);
    assert_eq!(FoundSurface::EVERY.len(), 25);
}

#[test]
fn every_id_and_alias_is_read_as_its_member() {
    for class in FinishClass::EVERY {
        for spelling in [class.id()].iter().chain(class.aliases()) {
            assert_eq!(FinishClass::parse(spelling), Ok(*class));
            assert_eq!(
                FinishClass::parse(&spelling.to_uppercase().replace('-', " ")),
                Ok(*class)
            );
        }
    }
}

#[test]
fn everyday_words_find_their_class() {
    let pairs = [
        ("poly", "oil-based-polyurethane"),
        ("Varnish", "oil-based-polyurethane"),
        ("shellac", "dewaxed-shellac"),
        ("water based poly", "waterborne-polyurethane"),
        ("TSP", "alkaline-cleaner"),
        ("stripper", "gel-stripper"),
        ("precat lacquer", "precatalysed-lacquer"),
        ("lacquer", "nitrocellulose-lacquer"),
        ("tung oil", "drying-oil"),
    ];
    for (typed, id) in pairs {
        assert_eq!(Material::parse(typed).map(Material::id), Ok(id), "{typed}");
    }
}

#[test]
fn unknown_words_name_the_nearest_of_their_kind() {
    let cases = [
        ("polyurethene", "oil-based-polyurethane"),
        ("shelac", "dewaxed-shellac"),
        ("waterborne polyurethane clear", "waterborne-polyurethane"),
        ("mineral spirit", "mineral-spirits"),
    ];
    for (typed, id) in cases {
        let refused = Material::parse(typed).unwrap_err();
        assert!(refused.nearest.contains(&id), "{typed}: {refused}");
        assert!(refused.nearest.len() <= 3);
    }
    assert_eq!(Operation::parse("scuf").unwrap_err().nearest[0], "scuff");
    assert!(!FinishClass::parse("").unwrap_err().nearest.is_empty());
}

#[test]
fn ids_are_kebab_case() {
    let ids = Material::every()
        .map(Material::id)
        .chain(Operation::EVERY.iter().map(|op| op.id()));
    for id in ids {
        assert!(
            id.chars()
                .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
            "{id}"
        );
    }
}
