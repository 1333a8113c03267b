use axum::body::Body;
use axum::http::{Request, StatusCode, header};

use crate::app::{TestApp, form};

#[tokio::test]
async fn every_page_forbids_what_is_not_its_own() {
    let app = TestApp::new();
    for path in [
        "/",
        "/pieces",
        "/pieces/new",
        "/week",
        "/bench",
        "/shelf",
        "/colour",
        "/money",
        "/shop",
        "/nowhere",
    ] {
        let page = app.get(path).await;
        let policy = page.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(
            policy.starts_with("default-src 'none'") && !policy.contains("unsafe"),
            "{path}: {policy}"
        );
        assert!(
            !page.says(" style="),
            "{path}: an inline style would be dropped by the policy"
        );
        assert!(!page.says("onclick"), "{path}");
    }
}

#[tokio::test]
async fn a_form_of_another_site_changes_nothing() {
    let app = TestApp::new();
    let body = "name=planted&form=case&width=36in&depth=18in&height=30in";
    let foreign = [("sec-fetch-site", "cross-site"), ("origin", "http://elsewhere.example")];
    for (name, value) in foreign {
        let request = form("/pieces", &[])
            .header("host", "127.0.0.1:4180")
            .header(name, value)
            .body(Body::from(body))
            .unwrap();
        assert_eq!(app.send(request).await.status, StatusCode::FORBIDDEN, "{name}");
    }
    assert!(!app.get("/pieces").await.says("planted"));
    let own = form("/pieces", &[])
        .header("sec-fetch-site", "same-origin")
        .body(Body::from(body))
        .unwrap();
    assert_eq!(app.send(own).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn styles_and_type_are_kept_for_a_year_under_an_address_of_their_own() {
    let app = TestApp::new();
    let page = app.get("/").await;
    let (_, after) = page.html.split_once("rel=\"stylesheet\" href=\"").unwrap();
    let (address, _) = after.split_once('"').unwrap();
    let style = app.get(address).await;
    assert_eq!(style.status, StatusCode::OK);
    assert!(
        style.headers[header::CACHE_CONTROL]
            .to_str()
            .unwrap()
            .contains("immutable")
    );
    assert!(style.says("@media print"));
}

#[tokio::test]
async fn the_light_is_remembered_without_scripts() {
    let app = TestApp::new();
    let set = app.post("/light", &[("light", "evening"), ("back", "/week")]).await;
    assert_eq!(set.location(), "/week");
    let cookie = set.headers[header::SET_COOKIE]
        .to_str()
        .unwrap()
        .split(';')
        .next()
        .unwrap()
        .to_owned();
    let request = Request::get("/week")
        .header(header::COOKIE, cookie)
        .body(Body::empty())
        .unwrap();
    assert!(app.send(request).await.says("data-light=\"evening\""));
}
