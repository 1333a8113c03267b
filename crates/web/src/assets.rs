//! Style, type and small scripts: embedded in the program, served under a name that holds their hash, kept by the browser for a year.

use axum::body::Body;
use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use std::sync::LazyLock;

/// One embedded file.
struct Asset {
    name: &'static str,
    kind: &'static str,
    bytes: &'static [u8],
}

const FILES: &[Asset] = &[
    Asset {
        name: "look.css",
        kind: "text/css; charset=utf-8",
        bytes: include_bytes!("../static/look.css"),
    },
    Asset {
        name: "serif.woff2",
        kind: "font/woff2",
        bytes: include_bytes!("../static/fonts/serif.woff2"),
    },
    Asset {
        name: "plain.woff2",
        kind: "font/woff2",
        bytes: include_bytes!("../static/fonts/plain.woff2"),
    },
    Asset {
        name: "live.js",
        kind: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../static/live.js"),
    },
    Asset {
        name: "colour.css",
        kind: "text/css; charset=utf-8",
        bytes: include_bytes!("../static/colour.css"),
    },
    Asset {
        name: "colour.js",
        kind: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../static/colour.js"),
    },
    Asset {
        name: "measure.css",
        kind: "text/css; charset=utf-8",
        bytes: include_bytes!("../static/measure.css"),
    },
    Asset {
        name: "measure.js",
        kind: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../static/measure.js"),
    },
    Asset {
        name: "icon.svg",
        kind: "image/svg+xml",
        bytes: include_bytes!("../static/icon.svg"),
    },
];

/// One hash over all files: any change of one gives all a new address, so that a page never mixes old and new.
static STAMP: LazyLock<String> = LazyLock::new(|| {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in FILES.iter().flat_map(|file| file.bytes) {
        hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    format!("{hash:016x}")
});

/// The address of an embedded file.
pub(crate) fn address(name: &str) -> String {
    format!("/static/{}/{name}", *STAMP)
}

/// `GET /static/{stamp}/{name}`.
pub(crate) async fn serve(Path((_, name)): Path<(String, String)>) -> Response {
    let Some(file) = FILES.iter().find(|file| file.name == name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let headers = [
        (header::CONTENT_TYPE, file.kind),
        (header::CACHE_CONTROL, "public, max-age=31536000, immutable"),
    ];
    (headers, Body::from(file.bytes)).into_response()
}
