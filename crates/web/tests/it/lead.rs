//! A lead test with its kind and amount, and whether a piece is built in, said on its pages.

use axum::http::StatusCode;

use crate::app::TestApp;

const CHEST: [(&str, &str); 13] = [
    ("name", "chest"),
    ("form", "case"),
    ("width", "36 in"),
    ("depth", "18 in"),
    ("height", "30 in"),
    ("count", "1"),
    ("made", "before 1978"),
    ("due", ""),
    ("for", "client"),
    ("paid", ""),
    ("use", "bedroom"),
    ("notes", ""),
    ("placement", ""),
];

async fn with_zone(app: &TestApp) -> (String, String) {
    let address = app.take_in("chest").await;
    app.post(&format!("{address}/edit"), &CHEST).await;
    let page = app.get(&address).await;
    let (_, after) = page.html.split_once(&format!("href=\"{address}/zones/")).unwrap();
    let zone = format!("{address}/zones/{}", after.split_once('"').unwrap().0);
    (address, zone)
}

const PAINTED: [(&str, &str); 6] = [
    ("substrate", "pine"),
    ("layer-0-class", "alkyd-enamel"),
    ("layer-0-coats", "3"),
    ("look", "paint"),
    ("strip", "yes"),
    ("state-sound", "yes"),
];

fn painted<'v>(lead: [(&'v str, &'v str); 3]) -> Vec<(&'v str, &'v str)> {
    PAINTED.into_iter().chain(lead).collect()
}

#[tokio::test]
async fn kind_and_amount_are_kept_and_the_cautions_reckon_with_them() {
    let app = TestApp::new();
    let (address, zone) = with_zone(&app).await;
    let page = app.get(&zone).await;
    assert!(
        page.says("What each kind of test can and cannot tell") && page.says("speaks for the spot"),
        "{}",
        page.html
    );
    let entries = painted([
        ("lead", "present"),
        ("lead-by", "lab-chip"),
        ("lead-amount", "8000 ppm"),
    ]);
    assert_eq!(app.post(&zone, &entries).await.status, StatusCode::SEE_OTHER);
    let page = app.get(&address).await;
    assert!(
        page.says("lead found: 0.8 % by mass, by paint chip sent to a laboratory"),
        "{}",
        page.html
    );
    assert!(page.says("by the measured 0.8 % by mass"), "{}", page.html);
    assert!(!page.says("kind of test is not noted"));
    let page = app.get(&zone).await;
    assert!(
        page.says("value=\"0.8 %\"") && page.says("option value=\"lab-chip\" selected"),
        "{}",
        page.html
    );
}

#[tokio::test]
async fn what_no_test_says_is_refused_beside_its_field_and_nothing_is_lost() {
    let app = TestApp::new();
    let (_, zone) = with_zone(&app).await;
    for (lead, words, field) in [
        (
            [("lead", "present"), ("lead-by", "swab"), ("lead-amount", "2 mg/cm2")],
            "gives no amount",
            "zone-lead-amount-refusal",
        ),
        (
            [("lead", "present"), ("lead-by", ""), ("lead-amount", "a lot")],
            "0.001 to 100 mg/cm2",
            "zone-lead-amount-refusal",
        ),
        (
            [("lead", "not-tested"), ("lead-by", "xrf"), ("lead-amount", "")],
            "needs the result of the test",
            "zone-lead-refusal",
        ),
        (
            [("lead", "none"), ("lead-by", "xrf"), ("lead-amount", "0.2 mg/cm2")],
            "found none has no amount",
            "zone-lead-amount-refusal",
        ),
    ] {
        let wrong = app.post(&zone, &painted(lead)).await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(
            wrong.says(words) && wrong.says(&format!("id=\"{field}\"")),
            "{words}: {}",
            wrong.html
        );
        assert!(
            wrong.says(&format!("value=\"{}\"", lead[2].1)),
            "{words}: what was typed is lost"
        );
    }
    assert!(
        app.get(&zone).await.says("option value=\"not-tested\" selected"),
        "nothing was kept"
    );
}

#[tokio::test]
async fn a_piece_is_built_in_or_movable_as_it_is_said() {
    let app = TestApp::new();
    let (address, zone) = with_zone(&app).await;
    app.post(
        &zone,
        &painted([("lead", "not-tested"), ("lead-by", ""), ("lead-amount", "")]),
    )
    .await;
    assert!(!app.get(&address).await.says("The piece is part of the house"));
    let mut entries = CHEST;
    entries[12].1 = "built-in";
    assert_eq!(
        app.post(&format!("{address}/edit"), &entries).await.status,
        StatusCode::SEE_OTHER
    );
    let page = app.get(&address).await;
    assert!(
        page.says("The piece is part of the house") && page.says("built in: part of the house"),
        "{}",
        page.html
    );
    assert!(
        app.get(&format!("{address}/edit"))
            .await
            .says("option value=\"built-in\" selected")
    );
    entries[12].1 = "sideways";
    let wrong = app.post(&format!("{address}/edit"), &entries).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.says("is not a placement of a piece"), "{}", wrong.html);
}

#[tokio::test]
async fn what_is_made_for_a_child_is_said_and_not_only_named() {
    let app = TestApp::new();
    let (address, _) = with_zone(&app).await;
    let page = app.get(&address).await;
    assert!(!page.says("made for a child") && !page.says("crib"), "{}", page.html);
    let entries: Vec<(&str, &str)> = CHEST.into_iter().chain([("kind", "crib")]).collect();
    assert_eq!(
        app.post(&format!("{address}/edit"), &entries).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(app.get(&address).await.says("crib"));
    assert!(
        app.get(&format!("{address}/edit"))
            .await
            .says("option value=\"crib\" selected")
    );
}
