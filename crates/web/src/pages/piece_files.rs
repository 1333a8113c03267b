//! What of a piece goes out as a file: its drawing as SVG, its form as STL.

use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use shop::model::FormKind;

use crate::app::App;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::drawing::{self, Shown};

/// `GET /pieces/{id}/drawing.svg?turn=…&eye=…&measures=…`.
pub(crate) async fn drawing(
    State(app): State<App>,
    Path(id): Path<String>,
    Query(entries): Query<Vec<(String, String)>>,
) -> Result<Response, PageError> {
    let (name, file) = app
        .at_desk(move |desk, _| {
            let piece = desk.piece(&id)?;
            let shown = Shown::read(&Typed::from(entries));
            let file = drawing::file(piece, desk.shop.settings.units, shown).ok_or(PageError::NotFound("drawing"))?;
            Ok((format!("{}.svg", shop::model::slug(&piece.name)), file))
        })
        .await?;
    Ok(as_file(&name, "image/svg+xml", file.into_bytes()))
}

/// `GET /pieces/{id}/form.stl`: the open surfaces of the form in millimetres; a scan has its own file already.
pub(crate) async fn form(State(app): State<App>, Path(id): Path<String>) -> Result<Response, PageError> {
    let (name, file) = app
        .at_desk(move |desk, _| {
            let piece = desk.piece(&id)?;
            if piece.form.kind == FormKind::Mesh {
                return Err(PageError::NotFound("form but its scan"));
            }
            let form = shop::plan::form_of(&piece.form).map_err(|refused| PageError::Refused(refused.to_string()))?;
            let name = format!("{}-millimetres.stl", shop::model::slug(&piece.name));
            Ok((name, takeoff::mesh::stl(&form)))
        })
        .await?;
    Ok(as_file(&name, "model/stl", file))
}

fn as_file(name: &str, kind: &'static str, bytes: Vec<u8>) -> Response {
    let plain: String = name
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || matches!(c, '-' | '.') {
                c
            } else {
                '-'
            }
        })
        .collect();
    let disposition = format!("attachment; filename=\"{plain}\"");
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, disposition),
    ];
    (headers, bytes).into_response()
}
