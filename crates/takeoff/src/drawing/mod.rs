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
    let subject = Subject {
        model: form.model(),
        size_m: form.outline_m(),
        on_floor: form.stands(),
        title: look.title_or(form.kind().id()),
    };
    let full = subject.drawn(look, view, Fineness::Full);
    if full.len() <= MOST_BYTES {
        return full;
    }
    subject.drawn(look, view, Fineness::Plain)
}

/// Past this a drawing is made again with less in it; the promise is 30 kB.
const MOST_BYTES: usize = 29_500;

/// How much of what is small is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fineness {
    /// Everything.
    Full,
    /// No knobs, no slivers; turnings without their beads.
    Plain,
}

impl Fineness {
    /// Narrower faces than this are left out, in units of the drawing.
    const fn least_units(self) -> f64 {
        match self {
            Self::Full => 0.6,
            Self::Plain => 9.0,
        }
    }
}

/// What is drawn.
struct Subject {
    model: Model,
    size_m: [f64; 3],
    on_floor: bool,
    title: String,
}

impl Subject {
    fn drawn(&self, look: &ZoneLook, view: View, fineness: Fineness) -> String {
        let eye = view.eye();
        let parts = self.model.parts.iter();
        let drawn: Vec<Drawn> = parts.filter_map(|part| Drawn::of(part, &eye, fineness)).collect();
        let order = order::far_to_near(&drawn, &eye);
        let measures = if view.dimensions {
            measures::lines(self.size_m, &eye, view.units)
        } else {
            Vec::new()
        };
        let floor = self.on_floor.then_some((self.size_m, &eye));
        let sheet = Sheet::around(&drawn, &measures, floor, view.width_px);
        let shown = hidden::shown(&drawn, &order, fineness.least_units() / sheet.scale());
        let mut pen = Pen::new(sheet, view.width_px);
        pen.open(&self.title);
        if self.on_floor {
            pen.ground(self.size_m, &eye);
        }
        pen.silhouette(&drawn, &order, &shown);
        let surfaces = self.model.surfaces.iter();
        let looks: Vec<Option<Look>> = surfaces.map(|named| look.of(&named.id, named.zone)).collect();
        pen.patches(&drawn, &order, &shown, &looks);
        measures::draw(&mut pen, &measures);
        pen.close()
    }
}
