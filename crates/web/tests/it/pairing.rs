//! Phones on the network: a wrong word, the right one, and the same one again.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::ConnectInfo;
use axum::http::{Request, StatusCode, header};
use shop::plan::Effort;
use store::Store;
use tower::ServiceExt;
use web::{App, Pairing};

use crate::app::MONDAY;

/// One phone: where it asks from, and the cookie that it keeps.
struct Phone<'r> {
    router: &'r Router,
    from: SocketAddr,
    cookie: Option<String>,
}

impl Phone<'_> {
    async fn get(&mut self, path: &str) -> (StatusCode, String) {
        let mut request = Request::get(path);
        if let Some(cookie) = &self.cookie {
            request = request.header(header::COOKIE, cookie);
        }
        let mut request = request.body(Body::empty()).unwrap();
        request.extensions_mut().insert(ConnectInfo(self.from));
        let response = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        if let Some(set) = parts.headers.get(header::SET_COOKIE) {
            let set = set.to_str().unwrap();
            assert!(set.contains("HttpOnly") && set.contains("SameSite=Lax"), "{set}");
            self.cookie = set.split(';').next().map(str::to_owned);
        }
        let bytes = to_bytes(body, 4_000_000).await.unwrap();
        (parts.status, String::from_utf8_lossy(&bytes).into_owned())
    }
}

fn router() -> Router {
    let pairing = Pairing {
        address: "http://192.168.1.5:4180".to_owned(),
        invitations: vec!["second-word".to_owned(), "first-word".to_owned()],
        pass: "the-pass".to_owned(),
    };
    let clock = Arc::new(|| MONDAY.parse().unwrap());
    let store = Store::in_memory().unwrap();
    web::router(App::with_pairing(store, clock, Effort::least(), Some(pairing)).unwrap())
}

fn phone<'r>(router: &'r Router, from: &str) -> Phone<'r> {
    Phone {
        router,
        from: from.parse().unwrap(),
        cookie: None,
    }
}

#[tokio::test]
async fn each_phone_opens_its_own_address_once() {
    let router = router();
    let mut first = phone(&router, "192.168.1.20:50000");
    let mut second = phone(&router, "192.168.1.21:50000");
    assert_eq!(first.get("/bench").await.0, StatusCode::FORBIDDEN);
    assert_eq!(first.get("/pair/wrong-word").await.0, StatusCode::NOT_FOUND);
    assert_eq!(
        first.get("/pair/second-word").await.0,
        StatusCode::NOT_FOUND,
        "not yet its turn"
    );
    assert_eq!(first.get("/bench").await.0, StatusCode::FORBIDDEN);
    assert_eq!(first.get("/pair/first-word").await.0, StatusCode::SEE_OTHER);
    assert_eq!(first.get("/bench").await.0, StatusCode::OK);

    assert_eq!(second.get("/pair/first-word").await.0, StatusCode::NOT_FOUND, "used up");
    second.cookie = Some("paired=first-word".to_owned());
    assert_eq!(second.get("/bench").await.0, StatusCode::FORBIDDEN);
    let (_, shop) = first.get("/shop").await;
    assert!(shop.contains("http://192.168.1.5:4180/pair/second-word") && shop.contains("class=\"qr\""));
    assert_eq!(second.get("/pair/second-word").await.0, StatusCode::SEE_OTHER);
    assert_eq!(second.get("/bench").await.0, StatusCode::OK);
    let (_, shop) = first.get("/shop").await;
    assert!(!shop.contains("/pair/"), "no address is left");
}

#[tokio::test]
async fn this_machine_needs_no_word_and_others_no_page_without_pairing() {
    let router = router();
    for here in ["127.0.0.1:50000", "[::1]:50000", "[::ffff:127.0.0.1]:50000"] {
        assert_eq!(phone(&router, here).get("/bench").await.0, StatusCode::OK, "{here}");
    }
    let clock = Arc::new(|| MONDAY.parse().unwrap());
    let alone = web::router(App::new(Store::in_memory().unwrap(), clock, Effort::least()).unwrap());
    assert_eq!(
        phone(&alone, "192.168.1.20:50000").get("/bench").await.0,
        StatusCode::FORBIDDEN
    );
    assert!(
        !phone(&alone, "127.0.0.1:50000")
            .get("/shop")
            .await
            .1
            .contains("Let a phone in")
    );
}
