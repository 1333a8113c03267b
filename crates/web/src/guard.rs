//! What every answer carries and every change must show: a strict content policy, and that a form came from our own page.

use axum::extract::Request;
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Nothing but our own files; no inline script or style; no framing.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; font-src 'self'; img-src 'self' blob: data:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Refuses a change that another site's page sent, and adds the headers.
///
/// A browser says where a form came from (`Sec-Fetch-Site`, or `Origin` against `Host`); what says nothing is no browser.
pub(crate) async fn guard(request: Request, next: Next) -> Response {
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
    if changes && !is_own(&request) {
        return (StatusCode::FORBIDDEN, "This form came from another site's page. Open the page here and send it again.")
            .into_response();
    }
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("same-origin"));
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
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
