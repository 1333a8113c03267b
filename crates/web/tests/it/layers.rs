//! The found build-up by its layers: tapped, changed, moved, put between, taken out; and what a wrong guess at one would do.

use axum::http::StatusCode;

use crate::app::{Page, TestApp};

/// The layers of a zone's page, outermost first.
fn stack(page: &Page) -> Vec<String> {
    let coats = page.html.split("class=\"coats\"").nth(1).unwrap();
    let coats = coats.split("</ol>").next().unwrap();
    let names = coats.split("<strong>").skip(1);
    names
        .map(|name| name.split_once("</strong>").unwrap().0.to_owned())
        .collect()
}

async fn chest(app: &TestApp) -> String {
    let address = app.take_in("chest").await;
    format!("{address}/zones/top")
}

#[tokio::test]
async fn layers_are_put_on_moved_changed_and_taken_out() {
    let app = TestApp::new();
    let zone = chest(&app).await;
    assert_eq!(
        stack(&app.get(&zone).await),
        ["Oil-based polyurethane", "Wood of unknown species"]
    );
    let page = app.get(&format!("{zone}/layers/new?at=1")).await;
    assert!(page.says("It lies on oil-based polyurethane"), "{}", page.html);
    let entries = [
        ("at", "1"),
        ("class", "alkyd-enamel"),
        ("coats", "3"),
        ("age", "5 days"),
        ("soundness", "flaking"),
    ];
    let added = app.post(&format!("{zone}/layers/new"), &entries).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.html);
    let page = app.get(&zone).await;
    assert_eq!(stack(&page)[0], "Alkyd enamel");
    assert!(page.says("3 coats · flaking · 5 days old"), "{}", page.html);
    let moved = app
        .post(
            &format!("{zone}/layers/1"),
            &[("act", "inwards"), ("was", "alkyd-enamel")],
        )
        .await;
    assert_eq!(moved.status, StatusCode::SEE_OTHER);
    assert_eq!(stack(&app.get(&zone).await)[0], "Oil-based polyurethane");
    let stale = app
        .post(
            &format!("{zone}/layers/1"),
            &[("act", "remove"), ("was", "alkyd-enamel")],
        )
        .await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    let wrong = [
        ("act", "save"),
        ("was", "alkyd-enamel"),
        ("class", "alkyd-enamel"),
        ("coats", "99"),
        ("age", "long"),
    ];
    let refused = app.post(&format!("{zone}/layers/0"), &wrong).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.says("from 1 to 30") && refused.says("value=\"long\""),
        "{}",
        refused.html
    );
    let unknown = [
        ("act", "save"),
        ("was", "alkyd-enamel"),
        ("class", "unknown"),
        ("coats", "2"),
    ];
    app.post(&format!("{zone}/layers/0"), &unknown).await;
    let page = app.get(&format!("{zone}/layers/0")).await;
    assert!(page.says(&format!("href=\"{zone}/test?layer=0\"")), "{}", page.html);
    app.post(&format!("{zone}/layers/0"), &[("act", "remove"), ("was", "unknown")])
        .await;
    assert_eq!(stack(&app.get(&zone).await).len(), 2);
    assert_eq!(app.get(&format!("{zone}/layers/7")).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_guess_keeps_its_tests_and_the_piece_says_what_a_wrong_one_does() {
    let app = TestApp::new();
    let zone = chest(&app).await;
    let answers = "era=1960-1989&look=clear-film&alcohol=nothing";
    let page = app.get(&format!("{zone}/test?{answers}")).await;
    assert!(
        page.says("What a wrong guess would do") || page.says("They answer alike."),
        "{}",
        page.html
    );
    assert!(page.says(" after all"), "{}", page.html);
    let taken = [
        ("class", "nitrocellulose-lacquer"),
        ("era", "1960-1989"),
        ("look", "clear-film"),
        ("alcohol", "nothing"),
    ];
    let planned = app.post(&format!("{zone}/test"), &taken).await;
    assert_eq!(planned.status, StatusCode::SEE_OTHER);
    let piece = zone.split("/zones/").next().unwrap().to_owned();
    let page = app.get(&piece).await;
    assert!(page.says("Planned as nitrocellulose lacquer, by test"), "{}", page.html);
    assert!(page.says("if it is oil-based polyurethane after all"), "{}", page.html);
    assert!(app.get(&zone).await.says("by test, "));
    let again = app.get(&format!("{zone}/test")).await;
    assert!(
        again.says("value=\"nothing\" selected"),
        "the answers are remembered: {}",
        again.html
    );
    // Said to be something else by hand, it is a guess no more.
    let sure = [
        ("act", "save"),
        ("was", "nitrocellulose-lacquer"),
        ("class", "dewaxed-shellac"),
        ("coats", "2"),
    ];
    app.post(&format!("{zone}/layers/0"), &sure).await;
    assert!(!app.get(&piece).await.says(", by test"));
}
