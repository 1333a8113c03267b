//! What was changed is told in words and can be taken back, all of it or nothing.

use jiff::Timestamp;
use shop::Shop;
use shop::bench;
use shop::change::{Change, Way};
use shop::model::MarkKind;
use shop::plan::{KeptPlan, Moved, PreviousStarts};

use crate::examples::{garage, now, planned};

fn change(before: &Shop, after: &Shop) -> Change {
    let name_of = |id: &str| (id == "stool.seat.1").then(|| "stool, seat: sand".to_owned());
    Change::between(before, after, now(), PreviousStarts::default(), &name_of).unwrap()
}

fn block(shop: &mut Shop, day: &str) {
    let at = |clock: &str| format!("{day}T{clock}").parse().unwrap();
    bench::block(shop, None, at("09:00"), at("12:00"), "market day").unwrap();
}

#[test]
fn nothing_changed_is_no_change() {
    let shop = garage(&["stool"]);
    assert!(Change::between(&shop, &shop, now(), PreviousStarts::default(), &|_| None).is_none());
}

#[test]
fn a_block_is_told_by_its_day_and_goes_back_and_again() {
    let before = garage(&["stool"]);
    let mut after = before.clone();
    block(&mut after, "2027-03-11");
    let blocked = change(&before, &after);
    assert_eq!(blocked.words, "Thu 11 Mar 9:00 to 12:00 (market day) taken out");
    let mut shop = after.clone();
    blocked.go(&mut shop, Way::Back).unwrap();
    assert_eq!(shop, before, "the readings of the garage are kept too");
    blocked.go(&mut shop, Way::Again).unwrap();
    assert_eq!(shop, after);
}

#[test]
fn a_cold_snap_is_told_by_its_air_and_its_time_and_goes_back() {
    let before = garage(&["stool"]);
    let mut after = before.clone();
    let spell = shop::model::Spell {
        from: "2027-03-11T18:00".parse().unwrap(),
        to: "2027-03-13T09:00".parse().unwrap(),
        temperature: Some(quantity::Temperature::from_c(5.0)),
        humidity: None,
    };
    bench::expect_air(&mut after, 0, spell).unwrap();
    let cold = change(&before, &after);
    let room = &before.settings.rooms[0].name;
    assert_eq!(
        cold.words,
        format!("{room} at 41 °F, Thu 11 Mar 18:00 to Sat 13 Mar 9:00")
    );
    assert_eq!(change(&after, &before).words, format!("{} taken back", cold.words));
    let mut shop = after.clone();
    cold.go(&mut shop, Way::Back).unwrap();
    assert_eq!(shop, before);
}

#[test]
fn readings_of_a_room_go_back_with_the_settings() {
    let before = garage(&["stool"]);
    let mut after = before.clone();
    after.settings.rooms[0].readings.truncate(10);
    let mut shop = after.clone();
    let changed = change(&before, &after);
    changed.go(&mut shop, Way::Back).unwrap();
    assert_eq!(shop, before);
}

#[test]
fn a_change_is_kept_as_json_with_its_way_back() {
    let before = garage(&["stool"]);
    let mut after = before.clone();
    block(&mut after, "2027-03-11");
    let text = serde_json::to_string(&change(&before, &after)).unwrap();
    assert!(text.len() < 20_000, "{} bytes: the readings are not in it", text.len());
    let again: Change = serde_json::from_str(&text).unwrap();
    again.go(&mut after, Way::Back).unwrap();
    assert_eq!(after, before);
}

#[test]
fn marks_pieces_and_choices_are_told_in_words_of_the_bench() {
    let before = garage(&["stool", "hall-bench"]);
    let plan = planned(&before);
    let step = plan.pieces[0].zones[0].steps[0].id.clone();
    let words = |change_it: &dyn Fn(&mut Shop)| {
        let mut after = before.clone();
        change_it(&mut after);
        change(&before, &after).words
    };
    let done = words(&|shop| bench::mark(shop, &plan, &step, MarkKind::Done, now()).unwrap());
    assert_eq!(
        done,
        format!("{step}: done"),
        "the stage that follows is not told beside it"
    );
    let to: Timestamp = "2027-03-11T15:00:00Z".parse().unwrap();
    let moved = words(&|shop| bench::mark(shop, &plan, &step, MarkKind::Pinned { to }, now()).unwrap());
    assert!(moved.ends_with("moved to Thu 11 Mar 9:00"), "{moved}");
    let chosen = words(&|shop| bench::choose(shop, "hall-bench", "lid", Some("other")).unwrap());
    assert_eq!(chosen, "hall bench, lid: another schedule");
    assert_eq!(
        words(&|shop| shop.pieces.truncate(1)),
        format!("{} taken out", before.pieces[1].name)
    );
    let off = words(&|shop| drop(shop.shelf.remove(0)));
    assert_eq!(off, "our flat clear taken off the shelf");
    assert_eq!(words(&|shop| shop.settings.margin = 0.5), "the shop's settings changed");
}

#[test]
fn a_piece_that_was_taken_out_comes_back_in_its_place() {
    let before = garage(&["stool", "hall-bench", "sideboard"]);
    let mut after = before.clone();
    after.pieces.remove(1);
    let out = change(&before, &after);
    assert_eq!(out.takes_away(Way::Again), ["hall-bench"]);
    assert!(out.takes_away(Way::Back).is_empty());
    out.go(&mut after, Way::Back).unwrap();
    assert_eq!(after, before);
}

#[test]
fn what_was_changed_again_since_is_left_alone() {
    let before = garage(&["stool", "hall-bench"]);
    let mut after = before.clone();
    bench::choose(&mut after, "hall-bench", "lid", Some("other")).unwrap();
    block(&mut after, "2027-03-11");
    let both = change(&before, &after);
    bench::choose(&mut after, "hall-bench", "lid", Some("third")).unwrap();
    let standing = after.clone();
    let refused = both.go(&mut after, Way::Back).unwrap_err();
    assert_eq!(refused.part, "hall bench");
    assert_eq!(after, standing, "the part that could be taken back was not either");
}

#[test]
fn what_moved_is_counted_against_the_plan_before() {
    let mut shop = garage(&["stool"]);
    let plan = planned(&shop);
    let before = PreviousStarts::of(&plan);
    assert_eq!(Moved::between(&before, &plan).to_string(), "No step moved.");
    let last = plan.pieces[0].closing.last().unwrap();
    let to = last.starts.timestamp() + jiff::SignedDuration::from_hours(7 * 24);
    bench::mark(&mut shop, &plan, &last.id, MarkKind::Pinned { to }, now()).unwrap();
    let after = shop::plan::replan(&shop, now(), shop::plan::Effort::default(), &before).unwrap();
    let moved = Moved::between(&before, &after);
    assert_eq!((moved.steps, moved.new, moved.ready.len()), (1, 0, 1));
    let ready = after.pieces[0].ready.strftime("%a %-d %b %-H:%M");
    let steps = plan.steps().count();
    assert_eq!(
        moved.to_string(),
        format!("1 of {steps} steps moved; steel-legged stool is now ready {ready}.")
    );
}

#[test]
fn a_kept_plan_knows_its_own_shop_only() {
    let mut shop = garage(&["stool"]);
    let kept = KeptPlan::of(&planned(&shop), &shop, now());
    let text = serde_json::to_string(&kept).unwrap();
    let again: KeptPlan = serde_json::from_str(&text).unwrap();
    assert_eq!(again, kept);
    assert!(again.is_of(&shop));
    block(&mut shop, "2027-03-11");
    assert!(!again.is_of(&shop));
}
