use axum::http::StatusCode;

use crate::app::TestApp;

#[tokio::test]
async fn a_name_a_form_and_three_numbers_make_a_planned_piece() {
    let app = TestApp::new();
    let address = app.take_in("plant stand").await;
    assert_eq!(address, "/pieces/plant-stand");
    let page = app.get(&address).await;
    assert_eq!(page.status, StatusCode::OK);
    for words in [
        "<h1",
        "plant stand",
        "Section through the coats",
        "Because",
        "Ways to do the",
        "Price",
        "Ready",
    ] {
        assert!(page.says(words), "{words} is missing");
    }
}

#[tokio::test]
async fn what_was_typed_comes_back_with_the_reason_beside_it() {
    let app = TestApp::new();
    let entries = [
        ("name", "corner <shelf>"),
        ("form", "case"),
        ("width", "about so wide"),
        ("depth", "12 in"),
        ("height", "30 in"),
    ];
    let page = app.post("/pieces", &entries).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.says("value=\"about so wide\"") && page.says("aria-invalid=\"true\""));
    assert!(page.says("value=\"corner &lt;shelf&gt;\"") && !page.says("<shelf>"));
}

#[tokio::test]
async fn another_schedule_is_one_tap_away_and_stays_chosen() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let page = app.get(&address).await;
    let key = page
        .entry("key")
        .or_else(|| {
            page.html
                .split_once("name=\"key\" value=\"")
                .map(|(_, rest)| rest[..8].to_owned())
        })
        .unwrap();
    let zone = page.entry("zone").unwrap();
    let chosen = app
        .post(&format!("{address}/choose"), &[("zone", &zone), ("key", &key)])
        .await;
    assert_eq!(chosen.status, StatusCode::SEE_OTHER);
    let page = app.get(&address).await;
    let table = page
        .html
        .split("Plan with it")
        .nth(1)
        .unwrap()
        .split("</table>")
        .next()
        .unwrap();
    assert!(table.contains("✓ planned"));
    assert!(
        !table.contains(&format!("value=\"{key}\"")),
        "the chosen one offers itself no more"
    );
}

#[tokio::test]
async fn found_layers_and_wish_of_a_zone_are_changed_on_its_own_page() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let page = app.get(&address).await;
    let (_, after) = page.html.split_once(&format!("href=\"{address}/zones/")).unwrap();
    let zone = after.split_once('"').unwrap().0.to_owned();
    let zone_address = format!("{address}/zones/{zone}");
    assert!(app.get(&zone_address).await.says("What it should become"));
    let entries = [
        ("substrate", "red-oak"),
        ("layer-0-class", "alkyd-enamel"),
        ("layer-0-coats", "3"),
        ("lead", "none"),
        ("look", "paint"),
        ("colour", "#35506b"),
        ("colour-has", "yes"),
        ("defect-gouge", "2"),
    ];
    let saved = app.post(&zone_address, &entries).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.html);
    let page = app.get(&address).await;
    assert!(
        page.says("alkyd enamel") && page.says("red oak") && page.says("#35506b"),
        "{}",
        page.html
    );
    let wrong = app
        .post(
            &zone_address,
            &[
                ("substrate", "red-oak"),
                ("layer-0-class", "alkyd-enamel"),
                ("layer-0-coats", "many"),
            ],
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.says("value=\"many\"") && wrong.says("whole number from 1 to 30"));
}

#[tokio::test]
async fn a_piece_that_cannot_be_planned_says_why_and_bars_no_other() {
    let app = TestApp::new();
    let good = app.take_in("good chest").await;
    let bad = app.take_in("bad chest").await;
    let page = app.get(&bad).await;
    let (_, after) = page.html.split_once(&format!("href=\"{bad}/zones/")).unwrap();
    let zone = after.split_once('"').unwrap().0.to_owned();
    let entries = [
        ("substrate", "glass"),
        ("lead", "none"),
        ("look", "stain"),
        ("strip", "no"),
    ];
    app.post(&format!("{bad}/zones/{zone}"), &entries).await;
    let page = app.get(&bad).await;
    assert!(page.says("Cannot be planned:"), "{}", page.html);
    assert!(app.get(&good).await.says("Because"));
}

#[tokio::test]
async fn measures_are_changed_and_a_piece_is_taken_out() {
    let app = TestApp::new();
    let address = app.take_in("chest").await;
    let entries = [
        ("name", "tall chest"),
        ("form", "case"),
        ("width", "36 in"),
        ("depth", "18 in"),
        ("height", "48 in"),
        ("count", "1"),
        ("made", "1950s"),
        ("due", "2027-05-01"),
        ("for", "sale"),
        ("paid", "$20"),
        ("use", "bedroom"),
        ("drawer-rows", "3"),
        ("drawer-columns", "1"),
        ("doors", "0"),
    ];
    assert_eq!(
        app.post(&format!("{address}/edit"), &entries).await.status,
        StatusCode::SEE_OTHER
    );
    let page = app.get(&address).await;
    assert!(page.says("tall chest") && page.says("48") && page.says("1950s"));
    app.post(&format!("{address}/take-out"), &[]).await;
    assert_eq!(app.get(&address).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_is_not_there_says_so() {
    let app = TestApp::new();
    let page = app.get("/pieces/nothing").await;
    assert_eq!(page.status, StatusCode::NOT_FOUND);
    assert!(page.says("There is no such piece"));
}
