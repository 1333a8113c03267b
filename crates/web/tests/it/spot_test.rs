//! "I don't know what is on it": the answers, the next test, and planning with what they say.

use axum::http::StatusCode;

use crate::app::TestApp;

#[tokio::test]
async fn what_dissolves_in_alcohol_is_most_likely_shellac_and_is_planned_so() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let test = format!("{address}/zones/top/test");
    let nothing = app.get(&test).await;
    assert!(
        nothing.says("Not sure yet") && nothing.says("What tells the most next"),
        "{}",
        nothing.html
    );
    let answered = app
        .get(&format!("{test}?era=1900-1929&look=clear-film&alcohol=dissolves"))
        .await;
    assert!(answered.says("Most likely shellac with its wax"), "{}", answered.html);
    let taken = app.post(&test, &[("class", "waxed-shellac")]).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER);
    let zone = app.get(&format!("{address}/zones/top")).await;
    assert!(zone.says("value=\"waxed-shellac\" selected"), "{}", zone.html);
}

#[tokio::test]
async fn an_answer_that_makes_no_sense_counts_as_none() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let page = app
        .get(&format!(
            "{address}/zones/top/test?alcohol=beads&era=yesterday&look=%3Cb%3E"
        ))
        .await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.says("Not sure yet") && !page.says("<b>"));
    let nowhere = app.get(&format!("{address}/zones/tail/test")).await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_step_left_out_by_hand_is_missed_and_the_whole_schedule_is_not() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let check = format!("{address}/zones/top/check");
    let whole = app.get(&check).await;
    assert!(whole.says("name=\"without-0\""), "{}", whole.html);
    assert!(!whole.says("Stop: ") && !whole.says("Warning: "), "{}", whole.html);
    let steps = whole.html.matches("name=\"without-").count();
    for place in 0..steps {
        let without = app.get(&format!("{check}?without-{place}=yes")).await;
        let found = without.says("Stop: ") || without.says("Warning: ") || without.says("Note: ");
        assert!(found, "step {place} is not missed: {}", without.html);
    }
}
