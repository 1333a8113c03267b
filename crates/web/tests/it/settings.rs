use axum::http::StatusCode;

use crate::app::TestApp;

fn settings<'e>(change: &[(&'e str, &'e str)]) -> Vec<(&'e str, &'e str)> {
    let mut entries = vec![
        ("shop", "the garage"),
        ("units", "metric"),
        ("currency", "EUR"),
        ("zone", "Europe/Berlin"),
        ("mon", "9:00-12:00"),
        ("tue", ""),
        ("wed", ""),
        ("thu", "18:00-21:00"),
        ("fri", ""),
        ("sat", ""),
        ("sun", ""),
        ("hands", "Ada"),
        ("wage", "30"),
        ("overhead", "5"),
        ("margin", "20 %"),
        ("prefer", "wear"),
        ("room", "garage"),
        ("temperature", "14 °C"),
        ("humidity", "65 %"),
        ("volume", "90 m3"),
        ("air-changes", "1"),
    ];
    for (name, value) in change {
        entries.retain(|(known, _)| known != name);
        entries.push((name, value));
    }
    entries
}

#[tokio::test]
async fn settings_are_kept_and_the_pages_follow_them() {
    let app = TestApp::new();
    let saved = app.post("/shop", &settings(&[])).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.html);
    let page = app.get("/shop").await;
    assert!(page.says("value=\"18:00-21:00\"") && page.says("value=\"Europe/Berlin\""));
    let address = app.take_in("chest").await;
    let page = app.get(&address).await;
    assert!(page.says("€") && page.says("91.4 cm"), "{}", page.html);
}

#[tokio::test]
async fn what_the_tools_are_like_is_kept_and_refused_beside_its_field() {
    let app = TestApp::new();
    let tools = [
        ("by-hand", "roller"),
        ("sprayer", "airless"),
        ("cup-loss", "60 ml"),
        ("disc", "15 cm"),
    ];
    assert_eq!(app.post("/shop", &settings(&tools)).await.status, StatusCode::SEE_OTHER);
    let page = app.get("/shop").await;
    assert!(
        page.says("value=\"60 ml\"") && page.says("value=\"15 cm\""),
        "{}",
        page.html
    );
    assert!(page.says("value=\"airless\" selected"));
    let wrong = app
        .post("/shop", &settings(&[("cup-loss", "a cup"), ("disc", "15 m")]))
        .await;
    assert!(wrong.says("shop-cup-loss-refusal") && wrong.says("shop-disc-refusal"));
}

#[tokio::test]
async fn a_wrong_setting_is_refused_beside_its_field_and_nothing_is_kept() {
    let app = TestApp::new();
    let wrong = app
        .post(
            "/shop",
            &settings(&[("mon", "12:00-9:00"), ("zone", "Nowhere/Else"), ("hands", "")]),
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for id in ["shop-mon-refusal", "shop-zone-refusal", "shop-hands-refusal"] {
        assert!(wrong.says(id), "{id}");
    }
    assert!(!app.get("/shop").await.says("Europe/Berlin"));
}

#[tokio::test]
async fn a_product_goes_on_the_shelf_changes_and_comes_off() {
    let app = TestApp::new();
    let put = [
        ("name", "harbour blue"),
        ("class", "waterborne-acrylic-enamel"),
        ("size", "1 qt"),
        ("left", "80 %"),
        ("price", "27"),
        ("recoat", "2 h"),
    ];
    assert_eq!(app.post("/shelf", &put).await.status, StatusCode::SEE_OTHER);
    assert!(app.get("/shelf").await.says("harbour blue"));
    assert!(app.get("/shelf?product=harbour%20blue").await.says("value=\"80 %\""));
    let wrong = app
        .post(
            "/shelf",
            &[
                ("name", "x"),
                ("class", "soup"),
                ("size", "big"),
                ("left", "80 %"),
                ("price", "27"),
            ],
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.says("product-size-refusal") && wrong.says("product-class-refusal"));
    app.post("/shelf/take-off", &[("product", "harbour blue")]).await;
    assert!(!app.get("/shelf").await.says("harbour blue"));
}

#[tokio::test]
async fn a_tick_on_the_shopping_list_survives_a_reload() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let page = app.get("/shelf").await;
    let line = page.entry("line").unwrap();
    app.post("/shelf/tick", &[("line", &line), ("to", "on")]).await;
    assert!(app.get("/shelf").await.says("class=\"bought\""));
}

#[tokio::test]
async fn what_a_move_must_save_is_kept_as_it_was_said_and_limited() {
    let app = TestApp::new();
    assert!(app.get("/shop").await.says("value=\"1 h\""));
    for said in ["1 h 30 min", "45 min", "0 min"] {
        let saved = app.post("/shop", &settings(&[("worth-moving", said)])).await;
        assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.html);
        let page = app.get("/shop").await;
        assert!(page.says(&format!("value=\"{said}\"")), "{}", page.html);
    }
    let wrong = app.post("/shop", &settings(&[("worth-moving", "8 days")])).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.says("shop-worth-moving-refusal") && wrong.says("7 days is the most"));
}
