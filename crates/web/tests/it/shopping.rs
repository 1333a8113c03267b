use axum::http::StatusCode;

use crate::app::{Page, TestApp};

/// The sum that is still to be paid, in cents.
fn to_pay(page: &Page) -> Option<i64> {
    let (_, after) = page.html.split_once("Still to pay: </strong>")?;
    let sum = after.split_once('$')?.1.split('<').next()?;
    sum.replace(['.', ','], "").parse().ok()
}

fn lines(page: &Page) -> Vec<String> {
    page.html
        .split("name=\"line\" value=\"")
        .skip(1)
        .map(|rest| rest.split('"').next().unwrap().to_owned())
        .collect()
}

#[tokio::test]
async fn a_tick_survives_the_reload_and_takes_its_cans_off_what_is_to_pay() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let page = app.get("/shelf").await;
    let (before, lines) = (to_pay(&page).unwrap(), lines(&page));
    assert!(!lines.is_empty() && before > 0, "{}", page.html);
    let tick = app.post("/shelf/tick", &[("line", &lines[0]), ("to", "on")]).await;
    assert_eq!(tick.status, StatusCode::SEE_OTHER);
    let page = app.get("/shelf").await;
    assert!(page.says("aria-pressed=\"true\" aria-label=\"Bought:"), "{}", page.html);
    assert!(to_pay(&page).is_none_or(|after| after < before));
    for line in &lines[1..] {
        app.post("/shelf/tick", &[("line", line), ("to", "on")]).await;
    }
    assert!(app.get("/shelf").await.says("All of it is bought"));
    for line in &lines {
        app.post("/shelf/tick", &[("line", line), ("to", "off")]).await;
    }
    assert_eq!(to_pay(&app.get("/shelf").await), Some(before));
}

#[tokio::test]
async fn a_product_says_when_it_goes_off_soon_and_when_it_is_off() {
    let app = TestApp::new();
    for (name, until) in [
        ("fresh", "2027-09-01"),
        ("ageing", "2027-03-20"),
        ("stale", "2027-03-01"),
    ] {
        let entries = [
            ("name", name),
            ("class", "waterborne-acrylic-enamel"),
            ("size", "1 qt"),
            ("left", "50 %"),
            ("price", "$24"),
            ("good-until", until),
        ];
        let put = app.post("/shelf", &entries).await;
        assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.html);
    }
    let page = app.get("/shelf").await;
    assert!(
        page.says("soon: Sat 20 Mar") && page.says("off since Mon 1 Mar") && page.says(">Wed 1 Sep"),
        "{}",
        page.html
    );
}

#[tokio::test]
async fn a_supply_is_kept_with_its_price_and_a_wrong_one_is_refused_beside_its_field() {
    let app = TestApp::new();
    app.take_in("chest").await;
    let page = app.get("/shelf").await;
    assert!(
        page.says("no price known") && page.says("Discs, tape, rags"),
        "{}",
        page.html
    );
    let entries = [
        ("name", "bag of rags"),
        ("kind", "rag"),
        ("grit", ""),
        ("pack", "200"),
        ("left", "0"),
        ("price", "$12"),
    ];
    let put = app.post("/shelf/supply", &entries).await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.html);
    let page = app.get("/shelf").await;
    assert!(
        page.says("1 × bag of rags") && page.says("Packs to pay: </strong><span class=\"figure\">$12"),
        "{}",
        page.html
    );
    let wrong = app
        .post(
            "/shelf/supply",
            &[
                ("name", "discs"),
                ("kind", "disc"),
                ("grit", ""),
                ("pack", "some"),
                ("price", "$9"),
            ],
        )
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for id in ["supply-grit-refusal", "supply-pack-refusal"] {
        assert!(wrong.says(id), "{id}: {}", wrong.html);
    }
    app.post("/shelf/supply/take-off", &[("name", "bag of rags")]).await;
    assert!(!app.get("/shelf").await.says("bag of rags"));
}
