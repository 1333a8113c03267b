use axum::http::StatusCode;
use jiff::{SignedDuration, Timestamp};

use crate::app::{Page, TestApp};

/// The words of the step that the bench shows.
fn now(page: &Page) -> String {
    let (_, after) = page.html.split_once("class=\"what\">").unwrap();
    after.split_once('<').unwrap().0.to_owned()
}

#[tokio::test]
async fn an_empty_bench_leads_to_the_first_piece() {
    let app = TestApp::new();
    assert!(app.get("/bench").await.says("/pieces/new"));
}

#[tokio::test]
async fn done_brings_the_next_step_up_and_can_be_taken_back() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let before = app.get("/bench").await;
    let step = before.entry("step").unwrap();
    let first = now(&before);
    app.pass(SignedDuration::from_mins(20));
    let marked = app.post("/bench/mark", &[("step", &step), ("what", "done")]).await;
    assert_eq!(marked.status, StatusCode::SEE_OTHER, "{}", marked.html);
    let after = app.get("/bench").await;
    assert_ne!(after.entry("step").unwrap(), step);
    assert!(after.says("Done last"));
    app.post("/bench/mark", &[("step", &step), ("what", "undone")]).await;
    assert_eq!(now(&app.get("/bench").await), first);
}

#[tokio::test]
async fn what_a_step_took_and_how_long_are_kept_and_told() {
    let app = TestApp::new();
    app.take_in("chest").await;
    assert!(app.get("/shop/pace").await.says("Nothing is logged yet"));
    let bench = app.get("/bench").await;
    let step = bench.entry("step").unwrap();
    assert!(
        bench.says("<dt>Takes</dt>"),
        "the first step, cleaning, takes a cleaner: {}",
        bench.html
    );
    app.post("/bench/mark", &[("step", &step), ("what", "begun")]).await;
    app.pass(SignedDuration::from_mins(25));
    app.post("/bench/mark", &[("step", &step), ("what", "done")]).await;
    assert!(app.get("/bench").await.says("It took"));
    app.post("/bench/mark", &[("step", &step), ("what", "took"), ("took", "much")])
        .await;
    assert!(
        app.get("/bench").await.says("It took"),
        "what cannot be read is not kept"
    );
    app.post("/bench/mark", &[("step", &step), ("what", "took"), ("took", "2 gal")])
        .await;
    let bench = app.get("/bench").await;
    assert!(bench.says("more than the most planned"), "{}", bench.html);
    assert!(bench.says("your own pace"), "the next step goes at it: {}", bench.html);
    let pace = app.get("/shop/pace").await;
    assert!(
        pace.says("in the log: 1.") && pace.says("Clean") && pace.says("more than"),
        "{}",
        pace.html
    );
}

#[tokio::test]
async fn still_tacky_moves_the_end_of_a_wait() {
    let app = TestApp::new();
    app.take_in("chest").await;
    // Works through the plan until a coat or a stripper leaves a clock running.
    for _ in 0..12 {
        let page = app.get("/bench").await;
        if let Some((running, _)) = page.html.split_once("value=\"tacky\"") {
            let last = |mark: &str| {
                running
                    .rsplit_once(mark)
                    .unwrap()
                    .1
                    .split_once('"')
                    .unwrap()
                    .0
                    .to_owned()
            };
            let (until, step) = (last("data-until=\""), last("name=\"step\" value=\""));
            // It is looked at just when it should be dry.
            app.pass(until.parse::<Timestamp>().unwrap().duration_since(app.now()));
            assert!(app.get("/bench").await.says("value=\"tacky\""));
            let marked = app.post("/bench/mark", &[("step", &step), ("what", "tacky")]).await;
            assert_eq!(marked.status, StatusCode::SEE_OTHER, "{}", marked.html);
            let later = app.get("/bench").await;
            assert!(
                !later.says(&format!("data-until=\"{until}\"")),
                "the clock still ends at {until}"
            );
            assert!(later.says("data-until"), "{}", later.html);
            return;
        }
        let step = page.entry("step").unwrap_or_else(|| panic!("{}", page.html));
        app.pass(SignedDuration::from_mins(15));
        app.post("/bench/mark", &[("step", &step), ("what", "done")]).await;
    }
    panic!("no wait ran in twelve steps");
}

#[tokio::test]
async fn a_step_that_does_not_exist_changes_nothing() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let page = app
        .post("/bench/mark", &[("step", "chest.nothing"), ("what", "done")])
        .await;
    assert_eq!(page.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn the_week_shows_the_piece_and_gives_time_back() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let week = app.get("/week").await;
    assert!(week.says("Score of the week") && week.says("Day sheet of") && week.says("chest"));
    let entries = [
        ("day", "2027-03-10"),
        ("begins", "9:00"),
        ("ends", "17:00"),
        ("why", "market day"),
    ];
    assert_eq!(app.post("/week/block", &entries).await.status, StatusCode::SEE_OTHER);
    let week = app.get("/week").await;
    assert!(
        week.says("market day") && !week.says("Day sheet of Wed 10 Mar"),
        "nobody works in time taken out"
    );
    app.post("/week/unblock", &[("place", "0")]).await;
    assert!(!app.get("/week").await.says("Give it back"));
    let backwards = [("day", "2027-03-10"), ("begins", "17:00"), ("ends", "9:00")];
    assert_eq!(
        app.post("/week/block", &backwards).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
}

#[tokio::test]
async fn a_step_done_before_opening_time_leaves_the_rest_planned() {
    let app = TestApp::new();
    app.take_in("chest").await;
    // Half an hour before the shop opens on Tuesday.
    app.pass(SignedDuration::from_mins(17 * 60 + 30));
    for _ in 0..4 {
        let page = app.get("/bench").await;
        assert!(!page.says("Nothing is planned"), "{}", page.html);
        let step = page.entry("step").unwrap();
        app.pass(SignedDuration::from_mins(2));
        app.post("/bench/mark", &[("step", &step), ("what", "done")]).await;
    }
    assert!(!app.get("/bench").await.says("Nothing is planned"));
}

#[tokio::test]
async fn what_was_put_off_stays_off_until_all_is_laid_out_anew() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let sheets = |page: &crate::app::Page| page.html.split_once("class=\"days\"").unwrap().1.to_owned();
    let sheets = |page: &crate::app::Page| sheets(page).split_once("Move a step").unwrap().0.to_owned();
    let first = sheets(&app.get("/week").await);
    let monday = [("day", "2027-03-08"), ("begins", "9:00"), ("ends", "17:00")];
    assert_eq!(app.post("/week/block", &monday).await.status, StatusCode::SEE_OTHER);
    let put_off = sheets(&app.get("/week").await);
    assert_ne!(put_off, first);
    app.post("/week/unblock", &[("place", "0")]).await;
    let stays = sheets(&app.get("/week").await);
    assert_ne!(stays, first, "given back, the day is not filled again by itself");
    assert_eq!(app.post("/week/plan-anew", &[]).await.status, StatusCode::SEE_OTHER);
    let anew = app.get("/week").await;
    assert_eq!(sheets(&anew), first);
    assert!(anew.says(" steps moved"), "{}", anew.html);
}
