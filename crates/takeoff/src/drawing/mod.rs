//! The line drawing: a piece in axonometric view as SVG, with hidden lines hidden.
//!
//! Parts are painted from the farthest to the nearest (module `order`), so that nearer wood covers farther lines; the
//! silhouette is a heavier stroke laid beneath everything, of which only the outside remains to be seen. Lines take the
//! colour of the text around them (`currentColor`); zones without a planned colour are paper.

mod hidden;
mod look;
mod measures;
mod order;
mod pen;
mod projected;
mod view;

pub use look::{Look, Rgb, ZoneLook};
pub use view::View;

use crate::Form;
use crate::solid::Model;

use pen::{Pen, Sheet};
use projected::Drawn;

/// Draws a form.
///
/// The text is one `<svg role="img">` element with a `<title>`, without ids, styles or scripts, in 1 400 units along its
/// longer side; the same arguments always give the same text. Paper faces carry the classes `paper-1` (lit) to `paper-3`
/// (shaded), so that a page may recolour them for the dark.
#[must_use]
pub fn svg(form: &Form, look: &ZoneLook, view: View) -> String {
    let model = form.model();
    draw(
        &model,
        form.outline_m(),
        form.stands(),
        &look.title_or(form.kind().id()),
        look,
        view,
    )
}

/// Draws a model.
pub(crate) fn draw(model: &Model, size_m: [f64; 3], ground: bool, title: &str, look: &ZoneLook, view: View) -> String {
    let eye = view.eye();
    let drawn: Vec<Drawn> = model.parts.iter().filter_map(|part| Drawn::of(part, &eye)).collect();
    let order = order::far_to_near(&drawn, &eye);
    let measures = if view.dimensions {
        measures::lines(size_m, &eye, view.units)
    } else {
        Vec::new()
    };
    let sheet = Sheet::around(&drawn, &measures, ground.then_some((size_m, &eye)), view.width_px);
    let mut pen = Pen::new(sheet, view.width_px);
    pen.open(title);
    if ground {
        pen.ground(size_m, &eye);
    }
    pen.silhouette(&drawn);
    let looks: Vec<Option<Look>> = model
        .surfaces
        .iter()
        .map(|named| look.of(&named.id, named.zone))
        .collect();
    pen.patches(&drawn, &order, &looks);
    measures::draw(&mut pen, &measures);
    pen.close()
}
