//! A schedule by hand: steps edited in plain forms, warnings overruled with a reason, planned, and derived again.

use axum::http::StatusCode;
use store::Store;

use crate::app::{Page, TestApp};

/// The operation of each step on the page, in order.
fn operations(page: &Page) -> Vec<String> {
    let forms = page.html.split("class=\"row moves\"").skip(1);
    let of_form = |form: &str| {
        let (_, after) = form.split_once("name=\"was\" value=\"").unwrap();
        after.split_once('"').unwrap().0.to_owned()
    };
    forms.map(of_form).collect()
}

/// What a hidden entry of the first form after `mark` holds.
fn entry_after(page: &Page, mark: &str, name: &str) -> String {
    let (_, after) = page
        .html
        .split_once(mark)
        .unwrap_or_else(|| panic!("{mark} is missing: {}", page.html));
    let (_, after) = after.split_once(&format!("name=\"{name}\" value=\"")).unwrap();
    let value = after.split_once('"').unwrap().0;
    value
        .replace("&amp;", "&")
        .replace("&quot;", "\"")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
}

async fn chest(app: &TestApp) -> (String, String) {
    let address = app.take_in("chest").await;
    let steps = format!("{address}/zones/top/steps");
    (address, steps)
}

/// Takes the first dusting off out of the schedule, and answers with the page.
async fn without_dusting_off(app: &TestApp, steps: &str) -> Page {
    let page = app.get(steps).await;
    let place = operations(&page).iter().position(|each| each == "dust-off").unwrap();
    let at = place.to_string();
    let taken = app
        .post(steps, &[("act", "remove"), ("at", &at), ("was", "dust-off")])
        .await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.html);
    app.get(steps).await
}

#[tokio::test]
async fn steps_are_added_moved_changed_and_taken_out() {
    let app = TestApp::new();
    let (_, steps) = chest(&app).await;
    let before = operations(&app.get(&steps).await);
    let last = (before.len() - 1).to_string();
    let added = app
        .post(&steps, &[("act", "add"), ("at", "0"), ("operation", "dewax")])
        .await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.html);
    let page = app.get(&steps).await;
    assert_eq!(operations(&page)[0], "dewax");
    assert!(page.says("Dewax, mineral spirits"), "{}", page.html);
    app.post(&steps, &[("act", "down"), ("at", "0"), ("was", "dewax")])
        .await;
    assert_eq!(operations(&app.get(&steps).await)[1], "dewax");
    let change = [
        ("act", "change"),
        ("at", "1"),
        ("was", "dewax"),
        ("material", "naphtha"),
        ("wait", "3 h"),
    ];
    assert_eq!(app.post(&steps, &change).await.status, StatusCode::SEE_OTHER);
    let page = app.get(&steps).await;
    assert!(page.says("Dewax, naphtha") && page.says("3 h (yours)"), "{}", page.html);
    app.post(&steps, &[("act", "remove"), ("at", "1"), ("was", "dewax")])
        .await;
    assert_eq!(operations(&app.get(&steps).await), before);
    let nonsense = app
        .post(&steps, &[("act", "remove"), ("at", &last), ("was", "distress")])
        .await;
    assert_eq!(nonsense.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nonsense.says("changed elsewhere meanwhile"), "{}", nonsense.html);
}

#[tokio::test]
async fn what_does_not_go_together_is_refused_in_its_form() {
    let app = TestApp::new();
    let (_, steps) = chest(&app).await;
    let entries = [
        ("act", "add"),
        ("at", "1"),
        ("operation", "paint"),
        ("material", "gel-stripper"),
    ];
    let refused = app.post(&steps, &entries).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.says("is not done with gel stripper") && refused.says("details class=\"add-step\" id=\"add-1\" open"),
        "{}",
        refused.html
    );
    let entries = [("act", "add"), ("at", "1"), ("operation", "rinse"), ("wait", "<b>soon")];
    let refused = app.post(&steps, &entries).await;
    assert!(
        refused.says("value=\"&lt;b&gt;soon\"") && !refused.says("<b>soon"),
        "{}",
        refused.html
    );
}

#[tokio::test]
async fn a_warning_is_overruled_with_a_reason_and_the_plan_says_so_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let (address, steps) = {
        let app = TestApp::on(Store::open(folder.path()).unwrap());
        let (address, steps) = chest(&app).await;
        // Old paint that was tested is abraded dry, and so dusted off.
        let zone = [
            ("substrate", "oak"),
            ("layer-0-class", "oil-based-polyurethane"),
            ("layer-0-coats", "2"),
            ("lead", "none"),
            ("look", "paint"),
            ("colour", "#f4f3ee"),
            ("colour-has", "yes"),
        ];
        app.post(&format!("{address}/zones/top"), &zone).await;
        let page = without_dusting_off(&app, &steps).await;
        assert!(page.says("Warning: ") && page.says("in its way"), "{}", page.html);
        let early = app.post(&steps, &[("act", "plan")]).await;
        assert_eq!(early.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(early.says("neither mended nor overruled"), "{}", early.html);
        // Overrule until nothing is in the way.
        for _ in 0..8 {
            let page = app.get(&steps).await;
            if page.says("Nothing is in its way") {
                break;
            }
            let rule = entry_after(&page, "Go on in spite of it", "rule");
            let situation = entry_after(&page, "Go on in spite of it", "situation");
            let silent = [
                ("act", "overrule"),
                ("rule", &*rule),
                ("situation", &*situation),
                ("finding", "0"),
            ];
            let refused = app.post(&steps, &silent).await;
            assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
            let mut said = silent.to_vec();
            said.extend([("reason", "the hood is <running>"), ("by", "Ada")]);
            let overruled = app.post(&steps, &said).await;
            assert_eq!(overruled.status, StatusCode::SEE_OTHER, "{}", overruled.html);
        }
        assert!(app.get(&steps).await.says("Overruled: "));
        let planned = app.post(&steps, &[("act", "plan")]).await;
        assert_eq!(planned.status, StatusCode::SEE_OTHER, "{}", planned.html);
        (address, steps)
    };
    let app = TestApp::on(Store::open(folder.path()).unwrap());
    let page = app.get(&address).await;
    for words in [
        "Your own steps of the top",
        "You chose to go on although",
        "the hood is &lt;running&gt;",
        "Ada",
        "2027-03-08",
    ] {
        assert!(page.says(words), "{words} is missing: {}", page.html);
    }
    assert!(!page.says("<running>"));
    // A new situation: other paint below. The old consent does not cover it, and nothing is planned behind the user's back.
    let zone = [
        ("substrate", "oak"),
        ("layer-0-class", "nitrocellulose-lacquer"),
        ("layer-0-coats", "2"),
        ("lead", "none"),
        ("look", "paint"),
        ("colour", "#f4f3ee"),
        ("colour-has", "yes"),
    ];
    let saved = app.post(&format!("{address}/zones/top"), &zone).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.html);
    let page = app.get(&address).await;
    assert!(
        page.says("Cannot be planned:") && page.says("has lapsed"),
        "{}",
        page.html
    );
    assert!(app.get(&steps).await.says("has lapsed"));
    let back = app.post(&steps, &[("act", "derived")]).await;
    assert_eq!(back.status, StatusCode::SEE_OTHER);
    let page = app.get(&address).await;
    assert!(
        !page.says("Your own steps") && !page.says("Cannot be planned:"),
        "{}",
        page.html
    );
}

#[tokio::test]
async fn a_stop_can_be_overruled_neither_by_its_form_nor_by_hand() {
    let app = TestApp::new();
    let (address, steps) = chest(&app).await;
    let zone = [
        ("substrate", "oak"),
        ("layer-0-class", "oil-based-polyurethane"),
        ("layer-0-coats", "2"),
        ("on-wax", "yes"),
        ("lead", "none"),
        ("look", "paint"),
    ];
    app.post(&format!("{address}/zones/top"), &zone).await;
    let page = app.get(&steps).await;
    let place = operations(&page)
        .iter()
        .position(|each| each == "dewax")
        .unwrap()
        .to_string();
    app.post(&steps, &[("act", "remove"), ("at", &place), ("was", "dewax")])
        .await;
    let page = app.get(&steps).await;
    assert!(page.says("A stop cannot be overruled."), "{}", page.html);
    let forged = [
        ("act", "overrule"),
        ("rule", "wax-under-coat"),
        ("situation", "any"),
        ("reason", "I know"),
        ("by", "Ada"),
        ("finding", "0"),
    ];
    let refused = app.post(&steps, &forged).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.says("a stop cannot be overruled"), "{}", refused.html);
    let planned = app.post(&steps, &[("act", "plan")]).await;
    assert_eq!(planned.status, StatusCode::UNPROCESSABLE_ENTITY);
    app.post(&steps, &[("act", "forget")]).await;
    assert!(app.get(&steps).await.says("Nothing is in its way"));
}

#[tokio::test]
async fn leaving_steps_out_goes_on_by_hand() {
    let app = TestApp::new();
    let (address, steps) = chest(&app).await;
    let before = operations(&app.get(&steps).await);
    let check = app.get(&format!("{address}/zones/top/check?without-0=yes")).await;
    assert!(check.says("Go on from here by hand"), "{}", check.html);
    let on = app.post(&format!("{steps}/without"), &[("without-0", "yes")]).await;
    assert_eq!(on.location(), steps);
    assert_eq!(operations(&app.get(&steps).await), before[1..]);
}
