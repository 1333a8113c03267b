//! A shop in memory behind the real router, with a clock that stands still until it is set.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, Response, StatusCode, header};
use jiff::{SignedDuration, Timestamp};
use shop::model::Shop;
use shop::plan::Effort;
use store::Store;
use tower::ServiceExt;
use web::App;

/// Monday 8 March 2027, nine o'clock in Chicago.
pub(crate) const MONDAY: &str = "2027-03-08T15:00:00Z";

pub(crate) struct TestApp {
    router: Router,
    second: Arc<AtomicI64>,
}

/// What came back.
pub(crate) struct Page {
    pub(crate) status: StatusCode,
    pub(crate) headers: header::HeaderMap,
    pub(crate) html: String,
}

impl TestApp {
    /// An empty shop.
    pub(crate) fn new() -> Self {
        TestApp::with(&Shop::default())
    }

    pub(crate) fn with(shop: &Shop) -> Self {
        let store = Store::in_memory().unwrap();
        store.save(shop).unwrap();
        TestApp::on(store)
    }

    /// The shop of a store, which may have a folder for photographs.
    pub(crate) fn on(store: Store) -> Self {
        let start: Timestamp = MONDAY.parse().unwrap();
        let second = Arc::new(AtomicI64::new(start.as_second()));
        let read = Arc::clone(&second);
        let clock = Arc::new(move || Timestamp::from_second(read.load(Ordering::Relaxed)).unwrap());
        let app = App::new(store, clock, Effort::least()).unwrap();
        TestApp {
            router: web::router(app),
            second,
        }
    }

    pub(crate) fn pass(&self, time: SignedDuration) {
        self.second.fetch_add(time.as_secs(), Ordering::Relaxed);
    }

    pub(crate) fn now(&self) -> Timestamp {
        Timestamp::from_second(self.second.load(Ordering::Relaxed)).unwrap()
    }

    pub(crate) async fn get(&self, path: &str) -> Page {
        self.send(Request::get(path).body(Body::empty()).unwrap()).await
    }

    pub(crate) async fn post(&self, path: &str, entries: &[(&str, &str)]) -> Page {
        self.send(form(path, entries).body(Body::from(encoded(entries))).unwrap())
            .await
    }

    pub(crate) async fn send(&self, request: Request<Body>) -> Page {
        let response: Response<Body> = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 4_000_000).await.unwrap();
        Page {
            status: parts.status,
            headers: parts.headers,
            html: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    /// Takes in a chest of three numbers and returns the address of its page.
    pub(crate) async fn take_in(&self, name: &str) -> String {
        let entries = [
            ("name", name),
            ("form", "case"),
            ("width", "36 in"),
            ("depth", "18 in"),
            ("height", "30 in"),
        ];
        let page = self.post("/pieces", &entries).await;
        assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.html);
        page.location()
    }
}

impl Page {
    pub(crate) fn location(&self) -> String {
        self.headers[header::LOCATION].to_str().unwrap().to_owned()
    }

    pub(crate) fn says(&self, words: &str) -> bool {
        self.html.contains(words)
    }

    /// The first value of a hidden or visible entry of this name.
    pub(crate) fn entry(&self, name: &str) -> Option<String> {
        let (_, after) = self.html.split_once(&format!("name=\"{name}\" value=\""))?;
        after
            .split_once('"')
            .map(|(value, _)| value.replace("&amp;", "&").replace("&quot;", "\""))
    }
}

pub(crate) fn form(path: &str, _: &[(&str, &str)]) -> axum::http::request::Builder {
    Request::post(path).header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
}

fn encoded(entries: &[(&str, &str)]) -> String {
    let word = |text: &str| {
        text.bytes().fold(String::new(), |mut word, byte| {
            if byte.is_ascii_alphanumeric() {
                word.push(char::from(byte));
            } else {
                word.push_str(&format!("%{byte:02X}"));
            }
            word
        })
    };
    entries
        .iter()
        .map(|(name, value)| format!("{}={}", word(name), word(value)))
        .collect::<Vec<_>>()
        .join("&")
}
