//! Moving a step by hand on the week's page.

use axum::http::StatusCode;

use crate::app::TestApp;

#[tokio::test]
async fn a_pinned_step_starts_then_and_can_be_let_go_again() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let week = app.get("/week").await;
    let step = week
        .html
        .split_once("<option value=\"")
        .unwrap()
        .1
        .split_once('"')
        .unwrap()
        .0
        .to_owned();
    let moved = [("step", step.as_str()), ("to-day", "2027-03-10"), ("to-clock", "14:30")];
    let pinned = app.post("/week/pin", &moved).await;
    assert_eq!(pinned.status, StatusCode::SEE_OTHER, "{}", pinned.html);
    let week = app.get("/week?from=2027-03-10").await;
    assert!(week.says("stays at Wed 10 Mar 14:30"), "{}", week.html);
    let sheet = week.html.split_once(&format!("id=\"sheet-{step}\"")).unwrap().1;
    assert!(sheet.split_once("</li>").unwrap().0.contains("14:30"), "{sheet}");
    assert_eq!(
        app.post("/week/unpin", &[("step", &step)]).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(!app.get("/week").await.says("stays at"));
}

#[tokio::test]
async fn a_time_gone_by_or_no_time_is_refused_beside_its_field() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let week = app.get("/week").await;
    let step = week
        .html
        .split_once("<option value=\"")
        .unwrap()
        .1
        .split_once('"')
        .unwrap()
        .0
        .to_owned();
    for (day, clock, words) in [
        ("2020-01-01", "9:00", "has gone by"),
        ("2027-03-10", "noonish", "not a clock time"),
        ("2027-03-14", "9:00", "nobody works that day"),
    ] {
        let refused = app
            .post("/week/pin", &[("step", &step), ("to-day", day), ("to-clock", clock)])
            .await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(refused.says(words), "{}", refused.html);
    }
}

#[tokio::test]
async fn a_refused_move_changes_nothing_and_a_time_it_names_does() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let week = app.get("/week").await;
    let last = week
        .html
        .rsplit_once("&amp;step=")
        .unwrap()
        .1
        .split_once('#')
        .unwrap()
        .0
        .to_owned();
    let moved = [("step", last.as_str()), ("to-day", "2027-03-08"), ("to-clock", "15:30")];
    let refused = app.post("/week/pin", &moved).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", refused.html);
    assert!(refused.says("cannot begin Mon 8 Mar 15:30:"), "{}", refused.html);
    let week = app.get("/week").await;
    assert!(!week.says("stays at") && !week.says("moved to"), "{}", week.html);
    let named = refused
        .html
        .split_once("It could begin ")
        .unwrap()
        .1
        .split_once('.')
        .unwrap()
        .0;
    let (day, clock) = named.rsplit_once(' ').unwrap();
    let day = format!("2027-03-{:0>2}", day.split(' ').nth(1).unwrap());
    let moved = [("step", last.as_str()), ("to-day", day.as_str()), ("to-clock", clock)];
    let moved = app.post("/week/pin", &moved).await;
    assert_eq!(moved.status, StatusCode::SEE_OTHER, "{named}: {}", moved.html);
    assert!(app.get("/week").await.says("moved to"));
}
