//! Taking changes back, several steps and over a restart; and a plan that stands as it stood.

use axum::http::StatusCode;
use jiff::SignedDuration;
use store::Store;

use crate::app::{Page, TestApp};

/// The number of the change that the button of this word is for, and its words.
fn button(page: &Page, word: &str) -> Option<(String, String)> {
    let (before, after) = page.html.split_once(&format!(">{word}: "))?;
    let (_, id) = before.rsplit_once("name=\"change\" value=\"")?;
    Some((
        id.split_once('"')?.0.to_owned(),
        after.split_once("</button>")?.0.to_owned(),
    ))
}

async fn press(app: &TestApp, word: &str) -> String {
    let (id, words) = button(&app.get("/week").await, word).unwrap();
    let path = if word == "Undo" { "/undo" } else { "/redo" };
    let page = app.post(path, &[("change", &id), ("back", "/week")]).await;
    assert_eq!(
        (page.status, page.location().as_str()),
        (StatusCode::SEE_OTHER, "/week"),
        "{}",
        page.html
    );
    words
}

async fn block(app: &TestApp, day: &str, why: &str) {
    let entries = [("day", day), ("begins", "9:00"), ("ends", "17:00"), ("why", why)];
    assert_eq!(app.post("/week/block", &entries).await.status, StatusCode::SEE_OTHER);
}

/// The day sheets and the words of the plan: all that a change of the week can move.
fn sheets(page: &Page) -> String {
    let (_, after) = page.html.split_once("class=\"days\"").unwrap();
    after.split_once("Move a step").unwrap().0.to_owned()
}

#[tokio::test]
async fn changes_are_taken_back_one_after_the_other_and_made_again() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let first = sheets(&app.get("/week").await);
    block(&app, "2027-03-08", "market day").await;
    let blocked = app.get("/week").await;
    assert!(
        blocked.says(" steps moved") && blocked.says("chest is now ready"),
        "{}",
        blocked.html
    );
    assert_ne!(sheets(&blocked), first);
    let step = app.get("/bench").await.entry("step").unwrap();
    app.post("/bench/mark", &[("step", &step), ("what", "begun")]).await;
    assert!(press(&app, "Undo").await.ends_with(": begun"));
    assert_eq!(
        press(&app, "Undo").await,
        "Mon 8 Mar 9:00 to 17:00 (market day) taken out"
    );
    assert_eq!(
        sheets(&app.get("/week").await),
        first,
        "the steps are back where they were"
    );
    assert_eq!(
        press(&app, "Again").await,
        "Mon 8 Mar 9:00 to 17:00 (market day) taken out"
    );
    assert!(app.get("/week").await.says("Give it back"));
    assert!(press(&app, "Again").await.ends_with(": begun"));
    assert!(button(&app.get("/week").await, "Again").is_none());
}

#[tokio::test]
async fn a_new_change_ends_what_could_be_made_again() {
    let app = TestApp::new();
    app.take_in("chest").await;
    block(&app, "2027-03-10", "").await;
    press(&app, "Undo").await;
    block(&app, "2027-03-11", "").await;
    let week = app.get("/week").await;
    assert!(button(&week, "Again").is_none());
    assert_eq!(button(&week, "Undo").unwrap().1, "Thu 11 Mar 9:00 to 17:00 taken out");
}

#[tokio::test]
async fn a_second_tap_on_the_same_button_takes_nothing_more_back() {
    let app = TestApp::new();
    app.take_in("chest").await;
    block(&app, "2027-03-10", "first").await;
    block(&app, "2027-03-11", "second").await;
    let (id, _) = button(&app.get("/week").await, "Undo").unwrap();
    for _ in 0..2 {
        app.post("/undo", &[("change", &id), ("back", "/week")]).await;
    }
    let week = app.get("/week").await;
    assert!(week.says("first)") || week.says(": first"), "{}", week.html);
    assert_eq!(
        button(&week, "Undo").unwrap().1,
        "Wed 10 Mar 9:00 to 17:00 (first) taken out"
    );
    let nowhere = app
        .post("/undo", &[("change", "the last"), ("back", "//elsewhere.example")])
        .await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_way_back_and_the_plan_outlive_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let app = TestApp::on(Store::open(folder.path()).unwrap());
    app.take_in("chest").await;
    let step = app.get("/bench").await.entry("step").unwrap();
    app.post("/bench/mark", &[("step", &step), ("what", "done")]).await;
    block(&app, "2027-03-09", "away").await;
    let before = sheets(&app.get("/week").await);
    drop(app);

    let again = TestApp::on(Store::open(folder.path()).unwrap());
    again.pass(SignedDuration::from_hours(3));
    assert_eq!(sheets(&again.get("/week").await), before, "the week jumped");
    assert_eq!(press(&again, "Undo").await, "Tue 9 Mar 9:00 to 17:00 (away) taken out");
    assert!(press(&again, "Undo").await.ends_with(": done"));
    assert_eq!(press(&again, "Undo").await, "chest taken in");
    assert!(!again.get("/pieces").await.says("chest"));
}

#[tokio::test]
async fn a_piece_with_photographs_is_not_taken_away_by_undo() {
    let folder = tempfile::tempdir().unwrap();
    let app = TestApp::on(Store::open(folder.path()).unwrap());
    app.take_in("chest").await;
    let png = b"\x89PNG\r\n\x1a\n and so on";
    let second = Store::open(folder.path()).unwrap();
    second.add_photograph("chest", png, app.now(), "as it came").unwrap();
    let (id, _) = button(&app.get("/week").await, "Undo").unwrap();
    let refused = app.post("/undo", &[("change", &id), ("back", "/week")]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.says("has photographs"));
    assert!(app.get("/pieces").await.says("chest"));
}
