//! The light switch: a cookie, so that it works without scripts.

use axum::Form;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};

use crate::typed::Typed;
use crate::view::shell::Light;

/// `POST /light`: remembers the light and goes back.
pub(crate) async fn set(Form(entries): Form<Vec<(String, String)>>) -> Response {
    let typed = Typed::from(entries);
    let word = Light::parse(typed.text("light")).map_or("device", |_| typed.text("light"));
    let cookie = format!("light={word}; Path=/; Max-Age=31536000; SameSite=Lax");
    (
        [(header::SET_COOKIE, cookie)],
        Redirect::to(own_path(typed.text("back"))),
    )
        .into_response()
}

/// A path of our own, else the first page: nobody is sent elsewhere.
pub(crate) fn own_path(path: &str) -> &str {
    let is_own = path.starts_with('/') && !path.starts_with("//") && !path.contains(['\\', '\r', '\n']);
    if is_own { path } else { "/" }
}

#[cfg(test)]
mod tests {
    use super::own_path;

    #[test]
    fn nobody_is_sent_to_another_site() {
        assert_eq!(own_path("/week?from=2027-03-08"), "/week?from=2027-03-08");
        for elsewhere in [
            "//elsewhere.example",
            "https://elsewhere.example",
            "/\\elsewhere",
            "/a\r\nb",
            "",
        ] {
            assert_eq!(own_path(elsewhere), "/");
        }
    }
}
