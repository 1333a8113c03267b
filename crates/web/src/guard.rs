//! What every answer carries and every change must show: a strict content policy, and that a form came from our own page.

use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;

use crate::app::App;
use crate::view::shell::cookie;

/// Nothing but our own files; no inline script or style; no framing.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; font-src 'self'; img-src 'self' blob: data:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Refuses a change that another site's page sent, and adds the headers.
///
/// A browser says where a form came from (`Sec-Fetch-Site`, or `Origin` against `Host`); what says nothing is no browser.
pub(crate) async fn guard(request: Request, next: Next) -> Response {
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
    if changes && !is_own(&request) {
        return (
            StatusCode::FORBIDDEN,
            "This form came from another site's page. Open the page here and send it again.",
        )
            .into_response();
    }
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("same-origin"));
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}

/// Lets this machine in, and other devices only once they were paired.
///
/// Where nobody knows the sender's address, as in tests, the request is this program's own.
pub(crate) async fn pair(State(app): State<App>, request: Request, next: Next) -> Response {
    let from_here = request
        .extensions()
        .get::<ConnectInfo<SocketAddr>>()
        .is_none_or(|ConnectInfo(address)| address.ip().to_canonical().is_loopback());
    let path = request.uri().path();
    let is_open = path.starts_with("/pair/") || path.starts_with("/static/");
    if from_here || is_open || app.is_paired(cookie(request.headers(), "paired").as_deref()) {
        return next.run(request).await;
    }
    let words = "This device is not paired with the shop. Open the address that the program shows on its own machine.";
    (StatusCode::FORBIDDEN, words).into_response()
}

fn is_own(request: &Request) -> bool {
    let text = |name: &str| request.headers().get(name).and_then(|value| value.to_str().ok());
    if let Some(site) = text("sec-fetch-site") {
        return matches!(site, "same-origin" | "none");
    }
    match (text("origin"), text("host")) {
        (Some(origin), Some(host)) => origin.split("://").nth(1) == Some(host),
        (Some(_), None) => false,
        (None, _) => true,
    }
}
