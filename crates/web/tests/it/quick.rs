use axum::http::StatusCode;

use crate::app::TestApp;

#[tokio::test]
async fn enamel_over_varnish_sticks_once_scuffed() {
    let app = TestApp::new();
    let page = app
        .get("/?ask=stick&found=oil-based-polyurethane&new=waterborne-acrylic-enamel")
        .await;
    assert_eq!(page.status, StatusCode::OK);
    let (_, reply) = page.html.split_once("class=\"reply\"").unwrap();
    assert!(reply.contains("scuff") && reply.contains("Why:"), "{reply}");
}

#[tokio::test]
async fn nothing_sticks_to_silicone_before_it_is_off() {
    let app = TestApp::new();
    let page = app
        .get("/?ask=stick&found=silicone-contaminated&new=waterborne-polyurethane")
        .await;
    assert!(page.says("Take the contaminant off first"));
}

#[tokio::test]
async fn more_coats_take_more_paint() {
    let app = TestApp::new();
    let ask = |coats: &str| {
        format!("/?ask=much&form=case&width=36in&depth=18in&height=30in&class=waterborne-acrylic-enamel&coats={coats}")
    };
    let two = app.get(&ask("2")).await;
    let three = app.get(&ask("3")).await;
    let about = |html: &str| {
        html.split_once("About ")
            .unwrap()
            .1
            .split_once('<')
            .unwrap()
            .0
            .to_owned()
    };
    assert_ne!(about(&two.html), about(&three.html));
    assert!(two.says("To buy"));
}

#[tokio::test]
async fn an_unreadable_width_is_refused_beside_its_field_and_kept() {
    let app = TestApp::new();
    let page = app
        .get("/?ask=much&form=case&width=wide&depth=18in&height=30in&class=waterborne-acrylic-enamel")
        .await;
    assert!(
        page.says("value=\"wide\"") && page.says("aria-invalid=\"true\"") && page.says("id=\"much-width-refusal\"")
    );
}

#[tokio::test]
async fn a_cold_damp_garage_is_no_place_for_waterborne_paint() {
    let app = TestApp::new();
    let page = app
        .get("/?ask=when&class=waterborne-acrylic-enamel&temperature=38F&humidity=90%25")
        .await;
    assert!(page.says("Not in this air:"), "{}", page.html);
    let page = app
        .get("/?ask=when&class=waterborne-acrylic-enamel&temperature=70F&humidity=45%25")
        .await;
    assert!(!page.says("Not in this air:") && page.says("dew point"));
}

#[tokio::test]
async fn an_answer_becomes_a_piece_with_one_tap() {
    let app = TestApp::new();
    let made = app
        .post(
            "/pieces",
            &[
                ("from", "answer"),
                ("found", "nitrocellulose-lacquer"),
                ("class", "oil-based-polyurethane"),
            ],
        )
        .await;
    assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.html);
    let page = app.get(&made.location()).await;
    assert!(
        page.says("unnamed piece") && page.says("nitrocellulose lacquer"),
        "{}",
        page.html
    );
}
