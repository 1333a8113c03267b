use axum::http::StatusCode;

use crate::app::{Page, TestApp};

async fn on_the_list(app: &TestApp, seller: &str, trip: &str, price: &str) {
    let put = app
        .post("/shelf/prices/seller", &[("name", seller), ("trip", trip)])
        .await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.html);
    let put = self::put(app, seller, "1 qt", price).await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.html);
}

async fn put(app: &TestApp, seller: &str, size: &str, price: &str) -> Page {
    let entries = [
        ("seller", seller),
        ("class", "waterborne-acrylic-enamel"),
        ("size", size),
        ("price", price),
    ];
    app.post("/shelf/prices", &entries).await
}

/// A chest that is to be painted with acrylic enamel.
async fn painted(app: &TestApp) {
    let entries = [
        ("name", "chest"),
        ("form", "case"),
        ("width", "36 in"),
        ("depth", "18 in"),
        ("height", "30 in"),
        ("class", "waterborne-acrylic-enamel"),
        ("found", "bare-wood"),
    ];
    assert_eq!(app.post("/pieces", &entries).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn the_shopping_list_goes_by_seller_and_says_what_each_comes_to() {
    let app = TestApp::new();
    painted(&app).await;
    on_the_list(&app, "paint counter", "6", "30").await;
    on_the_list(&app, "yard", "", "33").await;
    let page = app.get("/shelf").await;
    assert!(page.says("<h3>yard</h3>") && page.says("33.00"), "{}", page.html);
    assert!(!page.says("<h3>paint counter</h3>"));
    assert!(page.says("<h3>Anywhere</h3>"), "what has no seller stands by itself");
    // A cheaper way moves the can to the other seller, with the way in the sum.
    app.post("/shelf/prices/seller", &[("name", "paint counter"), ("trip", "2")])
        .await;
    let page = app.get("/shelf").await;
    assert!(
        page.says("<h3>paint counter</h3>") && page.says("32.00"),
        "{}",
        page.html
    );
    assert!(!page.says("<h3>yard</h3>"));
}

#[tokio::test]
async fn a_price_is_kept_changed_and_taken_off() {
    let app = TestApp::new();
    assert!(
        !app.get("/shelf/prices").await.says("A price</h2>"),
        "first somebody to buy from"
    );
    on_the_list(&app, "yard", "", "33").await;
    put(&app, "yard", "1 qt", "31.50").await;
    let page = app.get("/shelf/prices").await;
    assert!(page.says("31.50") && !page.says("33.00"), "{}", page.html);
    let ml = page.entry("ml").unwrap();
    let entries = [
        ("seller", "yard"),
        ("class", "waterborne-acrylic-enamel"),
        ("ml", ml.as_str()),
    ];
    app.post("/shelf/prices/take-off", &entries).await;
    assert!(app.get("/shelf/prices").await.says("No prices yet"));
    app.post("/shelf/prices/take-off", &[("seller", "yard")]).await;
    assert!(!app.get("/shelf/prices").await.says("seller-yard"));
}

#[tokio::test]
async fn what_is_no_price_is_refused_beside_its_field_and_stays_as_typed() {
    let app = TestApp::new();
    on_the_list(&app, "yard", "", "33").await;
    let wrong = put(&app, "nobody", "a bucket", "cheap").await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for id in ["can-seller-refusal", "can-size-refusal", "can-price-refusal"] {
        assert!(wrong.says(id), "{id}");
    }
    assert!(wrong.says("value=\"a bucket\""));
    let nameless = app.post("/shelf/prices/seller", &[("name", ""), ("trip", "-3")]).await;
    assert!(
        nameless.says("seller-name-refusal") && nameless.says("seller-trip-refusal"),
        "{}",
        nameless.html
    );
    for number in 0..9 {
        let name = format!("seller {number}");
        app.post("/shelf/prices/seller", &[("name", &name)]).await;
    }
    let eleventh = app.post("/shelf/prices/seller", &[("name", "one more")]).await;
    assert!(eleventh.says("10 sellers are on the list"));
}
