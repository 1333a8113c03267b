//! Words that name surfaces.

use super::form;
use takeoff::{FormKind, take_off};

#[test]
fn everyday_words_find_their_surfaces() {
    let bench = take_off(&form(FormKind::Case, 48.0, 18.0, 32.0));
    let ids = |word: &str| {
        bench
            .find(word)
            .unwrap()
            .iter()
            .map(|s| s.id.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(ids("lid"), ["top"]);
    assert_eq!(ids("Top"), ["top"]);
    assert_eq!(ids("drawers").len(), 6);
    assert_eq!(ids("drawer fronts"), ids("drawer-fronts"));
    assert_eq!(ids("drawer-front-2"), ["drawer-front-2"]);
    assert_eq!(ids("sides"), ["left-side", "right-side"]);
    assert_eq!(ids("knobs"), ["hardware"]);
    assert_eq!(ids("pulls"), ["hardware"]);
    assert_eq!(ids("small mouldings"), ["top-moulding"]);
    assert_eq!(ids("leg"), ["legs"]);
    assert_eq!(ids("feet"), ["legs"]);
    assert_eq!(ids("back"), ["back"]);
    assert_eq!(ids("inside"), ["inside"]);
    assert!(!ids("all").contains(&"back".to_owned()));
}

#[test]
fn several_words_give_each_surface_once_in_the_pieces_order() {
    let piece = take_off(&form(FormKind::Case, 48.0, 18.0, 32.0));
    let found = piece.find_all(["sides", "body", "left-side"]).unwrap();
    let ids: Vec<&str> = found.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids, ["left-side", "right-side", "front-frame"]);
}

#[test]
fn an_unknown_word_is_refused_with_what_there_is() {
    let piece = take_off(&form(FormKind::Table, 60.0, 36.0, 30.0));
    let refusal = piece.find("drawer-fronts").unwrap_err();
    assert_eq!(
        refusal.to_string(),
        "this piece has no surface “drawer-fronts”; it has top, body, legs, underside, aprons"
    );
    assert_eq!(piece.find("legz").unwrap_err().nearest.as_deref(), Some("legs"));
    assert_eq!(piece.find("").unwrap_err().nearest, None);
}

#[test]
fn forms_are_known_by_everyday_words() {
    assert_eq!(FormKind::parse("Dresser").unwrap(), FormKind::Case);
    assert_eq!(FormKind::parse("dining-table").unwrap(), FormKind::Table);
    assert_eq!(FormKind::parse("stool").unwrap(), FormKind::Bench);
    for kind in FormKind::ALL {
        assert_eq!(FormKind::parse(kind.id()).unwrap(), kind);
    }
    let refusal = FormKind::parse("gondola").unwrap_err().to_string();
    assert!(refusal.contains("gondola") && refusal.contains("moulding"), "{refusal}");
}

#[test]
fn the_first_word_of_an_id_is_enough() {
    let chair = take_off(&form(FormKind::Chair, 17.0, 19.0, 35.0));
    let ids: Vec<&str> = chair.find("back").unwrap().iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids, ["back-rails", "back-slats"]);
    assert!(chair.find("ba").is_err());
}
