//! A shop's folder as a user of the crate sees it.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    missing_docs,
    reason = "a test fails by panicking"
)]

use jiff::Timestamp;
use quantity::Length;
use shop::change::{Change, Way};
use shop::model::{FormKind, FormSaid, Mark, MarkKind, Piece, ShelfSupply, Shop};
use shop::plan::PreviousStarts;
use store::{Store, StoreError, Tick, backup};
use trade::Supply;

const PNG: &[u8] = b"\x89PNG\r\n\x1a\n and so on";

fn piece(name: &str) -> Piece {
    let form = FormSaid::of(FormKind::Case, [1.0, 0.4, 0.8].map(Length::from_m));
    Piece::new(name, form)
}

fn noon() -> Timestamp {
    "2027-03-08T12:00:00Z".parse().unwrap()
}

fn small_shop() -> Shop {
    let mut shop = Shop {
        pieces: vec![piece("hall bench"), piece("blanket box")],
        ..Shop::default()
    };
    shop.settings.name = "the corner shop".to_owned();
    shop.supplies.push(ShelfSupply {
        name: "box of P120".to_owned(),
        what: Supply::parse("disc-p120").unwrap(),
        pack: 50.0,
        left: 12.0,
        price: quantity::Money::from_minor(1800),
    });
    shop.log.push(Mark {
        step: "hall-bench/lid/1".to_owned(),
        at: noon(),
        what: MarkKind::StillTacky { more_min: 60 },
        of: None,
    });
    shop
}

#[test]
fn a_new_folder_is_the_default_shop() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("not/there/yet")).unwrap();
    assert!(store.is_new().unwrap());
    assert_eq!(store.load().unwrap(), Shop::default());
}

#[test]
fn what_was_saved_is_there_after_closing_and_opening() {
    let folder = tempfile::tempdir().unwrap();
    Store::open(folder.path()).unwrap().save(&small_shop()).unwrap();
    let again = Store::open(folder.path()).unwrap();
    assert!(!again.is_new().unwrap());
    assert_eq!(again.load().unwrap(), small_shop());
}

#[test]
fn a_changed_piece_keeps_its_place_and_a_new_one_stands_last() {
    let store = Store::in_memory().unwrap();
    store.save(&small_shop()).unwrap();
    let mut bench = small_shop().pieces[0].clone();
    bench.count = 3;
    store.save_piece(&bench).unwrap();
    store.save_piece(&piece("stool")).unwrap();
    let pieces = store.load().unwrap().pieces;
    let seen: Vec<(&str, u32)> = pieces.iter().map(|piece| (piece.id.as_str(), piece.count)).collect();
    assert_eq!(seen, [("hall-bench", 3), ("blanket-box", 1), ("stool", 1)]);
}

#[test]
fn a_piece_goes_with_its_photographs() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.save(&small_shop()).unwrap();
    let id = store.add_photograph("hall-bench", PNG, noon(), "as it came").unwrap();
    let photograph = store.photograph(id).unwrap().unwrap();
    assert_eq!(
        (photograph.kind.as_str(), photograph.note.as_str()),
        ("image/png", "as it came")
    );
    assert_eq!(store.photograph_bytes(&photograph).unwrap(), PNG);
    store.remove_piece("hall-bench").unwrap();
    assert_eq!(store.photograph(id).unwrap(), None);
    assert!(store.photograph_bytes(&photograph).is_err(), "its file is gone too");
    assert!(matches!(store.remove_piece("hall-bench"), Err(StoreError::NoPiece(_))));
}

#[test]
fn saving_the_whole_shop_keeps_the_photographs_of_pieces_that_stay() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.save(&small_shop()).unwrap();
    store.add_photograph("hall-bench", PNG, noon(), "").unwrap();
    store.save(&small_shop()).unwrap();
    assert_eq!(store.photographs("hall-bench").unwrap().len(), 1);
}

#[test]
fn only_pictures_of_pieces_that_are_there_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.save(&small_shop()).unwrap();
    assert!(matches!(
        store.add_photograph("hall-bench", b"GIF89a", noon(), ""),
        Err(StoreError::NotAPicture)
    ));
    assert!(matches!(
        store.add_photograph("wardrobe", PNG, noon(), ""),
        Err(StoreError::NoPiece(_))
    ));
    let huge = [PNG, &vec![0; 41_000_000]].concat();
    let refused = store.add_photograph("hall-bench", &huge, noon(), "").unwrap_err();
    assert_eq!(
        refused.to_string(),
        "a photograph may have at most 40 MB; this one has 41 MB"
    );
    assert!(store.photographs("hall-bench").unwrap().is_empty());
}

#[test]
fn one_file_holds_the_whole_shop() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("shop")).unwrap();
    store.save(&small_shop()).unwrap();
    store.add_photograph("hall-bench", PNG, noon(), "").unwrap();
    let file = folder.path().join("all.backup");
    store.backup(&file).unwrap();
    assert!(
        matches!(store.backup(&file), Err(StoreError::Occupied(_))),
        "a backup is never overwritten"
    );

    let again = backup::restore(&file, &folder.path().join("elsewhere")).unwrap();
    assert_eq!(again.load().unwrap(), small_shop());
    let photographs = again.photographs("hall-bench").unwrap();
    assert_eq!(again.photograph_bytes(&photographs[0]).unwrap(), PNG);
    assert!(matches!(
        backup::restore(&file, &folder.path().join("shop")),
        Err(StoreError::Occupied(_))
    ));
}

#[test]
fn what_is_no_backup_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("letter.txt");
    std::fs::write(&file, "Dear client").unwrap();
    let refused = backup::restore(&file, &folder.path().join("new"))
        .unwrap_err()
        .to_string();
    assert!(refused.contains("letter.txt is not a backup of a shop"), "{refused}");
}

#[test]
fn ticks_on_the_shopping_list_stay() {
    let store = Store::in_memory().unwrap();
    store.tick("dewaxed shellac, 1 qt", noon(), Tick::On).unwrap();
    store.tick("dewaxed shellac, 1 qt", noon(), Tick::On).unwrap();
    store.tick("P220 discs", noon(), Tick::On).unwrap();
    store.tick("P220 discs", noon(), Tick::Off).unwrap();
    assert_eq!(store.ticked().unwrap(), ["dewaxed shellac, 1 qt"]);
}

#[test]
fn fourteen_days_of_snapshots_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    store.save(&small_shop()).unwrap();
    for day in 1..=20 {
        store.snapshot(jiff::civil::date(2027, 3, day)).unwrap();
    }
    let mut names: Vec<String> = std::fs::read_dir(folder.path().join("snapshots"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names.len(), 14);
    assert_eq!(names[0], "2027-03-07.sqlite");
}

#[test]
fn several_threads_take_turns() {
    let store = Store::in_memory().unwrap();
    store.save(&small_shop()).unwrap();
    std::thread::scope(|scope| {
        for thread in 0..4 {
            let store = &store;
            scope.spawn(move || {
                for turn in 0..25 {
                    let mark = Mark {
                        step: format!("{thread}/{turn}"),
                        at: noon(),
                        what: MarkKind::Begun,
                        of: None,
                    };
                    store.add_mark(&mark).unwrap();
                }
            });
        }
    });
    assert_eq!(store.load().unwrap().log.len(), 101);
}

fn change(before: &Shop, after: &Shop) -> Change {
    Change::between(before, after, noon(), PreviousStarts::default(), &|_| None).unwrap()
}

#[test]
fn changes_are_kept_with_their_way_back_and_forth() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).unwrap();
    let before = small_shop();
    let mut after = before.clone();
    after.settings.name = "the other shop".to_owned();
    store.save(&after).unwrap();
    store.remember(&change(&before, &after)).unwrap();
    let last = store.changes().unwrap()[0].clone();
    assert_eq!((last.words.as_str(), last.at), ("the shop's settings changed", noon()));

    let mut shop = after.clone();
    store
        .change(last.id)
        .unwrap()
        .unwrap()
        .go(&mut shop, Way::Back)
        .unwrap();
    store.went(last.id, Way::Back, &shop).unwrap();
    let again = Store::open(folder.path()).unwrap();
    assert_eq!(again.load().unwrap(), before);
    assert!(again.changes().unwrap().is_empty());
    assert_eq!(again.taken_back().unwrap().first(), Some(&last));
    again.went(last.id, Way::Again, &after).unwrap();
    assert_eq!((again.load().unwrap(), again.changes().unwrap()), (after, vec![last]));
}

#[test]
fn fifty_changes_are_kept() {
    let store = Store::in_memory().unwrap();
    let mut shop = small_shop();
    for count in 2..60 {
        let before = shop.clone();
        shop.pieces[0].count = count;
        store.remember(&change(&before, &shop)).unwrap();
    }
    assert_eq!(store.changes().unwrap().len(), 50);
}
