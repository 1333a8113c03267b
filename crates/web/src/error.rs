//! What goes wrong on the way to a page: something that is not there, or a fault of the disk or our own.
//!
//! What a person typed wrongly is no error here: the page comes back with the words beside the field.

use std::error::Error;

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;
use shop::bench::BenchRefusal;
use store::StoreError;

use crate::view::shell;

/// Why there is no page.
#[derive(Debug)]
pub(crate) enum PageError {
    /// There is nothing of this kind at the address.
    NotFound(&'static str),
    /// The shop's rules refuse it.
    Refused(String),
    /// The disk or a mistake of ours; the text is the whole chain of reasons.
    Fault(String),
}

impl PageError {
    /// A fault with its chain of reasons.
    pub(crate) fn fault(error: &dyn Error) -> Self {
        let mut chain = error.to_string();
        let mut next = error.source();
        while let Some(reason) = next {
            chain.push_str(": ");
            chain.push_str(&reason.to_string());
            next = reason.source();
        }
        PageError::Fault(chain)
    }
}

impl From<StoreError> for PageError {
    fn from(error: StoreError) -> Self {
        PageError::fault(&error)
    }
}

impl From<BenchRefusal> for PageError {
    fn from(refusal: BenchRefusal) -> Self {
        PageError::Refused(format!("{}; {}; {}", refusal.found, refusal.limit, refusal.right))
    }
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let (status, title, text) = match self {
            PageError::NotFound(kind) => (
                StatusCode::NOT_FOUND,
                "Not here",
                format!(
                    "There is no such {kind} in this shop. It may have been taken out, or the address is mistyped."
                ),
            ),
            PageError::Refused(text) => (StatusCode::CONFLICT, "Not done", text),
            PageError::Fault(chain) => {
                tracing::error!(%chain, "a page could not be made");
                (
                    StatusCode::INTERNAL_SERVER_ERROR,
                    "A fault of the program",
                    "The page could not be made, and nothing was changed. The terminal that runs the program says why."
                        .to_owned(),
                )
            }
        };
        let body = html! {
            h1 { (title) }
            p { (text) }
            p { a.button href="/pieces" { "To the pieces" } }
        };
        (status, shell::bare_page(title, &body)).into_response()
    }
}
