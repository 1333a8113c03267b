//! A colour as a form asks for it: typed, taken from what the shop knows, or picked on the screen.

use colour::{Lab, Srgb};
use maud::{Markup, html};
use shop::model::{Piece, ShelfProduct};
use shop::swatch::{SwatchReading, called, read_lab};

use crate::app::Desk;
use crate::error::PageError;
use crate::typed::Typed;
use crate::view::fields::{Choice, Fields};

/// Where a known colour comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Shelf,
    Found,
    Wished,
}

/// A colour that the shop knows already.
#[derive(Debug, Clone)]
pub(super) struct Known {
    pub(super) kind: Kind,
    /// What a form sends for it.
    pub(super) key: String,
    /// What it is called on the screen.
    pub(super) name: String,
    pub(super) colour: Lab,
}

/// A colour that was given.
#[derive(Debug, Clone)]
pub(super) struct Said {
    pub(super) colour: Lab,
    /// How it was given, in words.
    pub(super) name: String,
    /// Its key, where the shop knew it.
    pub(super) key: Option<String>,
}

impl Said {
    /// As a screen shows it.
    pub(super) fn hex(&self) -> String {
        Srgb::nearest(self.colour).to_string()
    }
}

/// All colours that the shop knows: the shelf's, those found on pieces, those wished for them.
pub(super) fn known(desk: &Desk) -> Result<Vec<Known>, PageError> {
    let readings = desk.store.swatches()?;
    let mut all: Vec<Known> = desk
        .shop
        .shelf
        .iter()
        .filter_map(|product| on_shelf(product, &readings))
        .collect();
    for piece in &desk.shop.pieces {
        all.extend(of_piece(piece));
    }
    Ok(all)
}

fn on_shelf(product: &ShelfProduct, readings: &[SwatchReading]) -> Option<Known> {
    let read = readings
        .iter()
        .find(|reading| reading.product == product.name)
        .and_then(|reading| reading.own);
    let colour = match (read, &product.colour) {
        (Some(read), _) => read,
        (None, Some(hex)) => Srgb::parse(hex).ok()?.to_lab(),
        (None, None) => return None,
    };
    Some(Known {
        kind: Kind::Shelf,
        key: format!("shelf:{}", product.name),
        name: product.name.clone(),
        colour,
    })
}

fn of_piece(piece: &Piece) -> Vec<Known> {
    let mut all = Vec::new();
    for zone in &piece.zones {
        let at = format!("{}/{}", piece.id, zone.name);
        let mut add = |kind, word: &str, hex: Option<&String>, how: &str| {
            if let Some(colour) = hex.and_then(|hex| Srgb::parse(hex).ok()) {
                all.push(Known {
                    kind,
                    key: format!("{word}:{at}"),
                    name: format!("{}, {}, {how}", piece.name, zone.name),
                    colour: colour.to_lab(),
                });
            }
        };
        let found = zone.found.iter().rev().find_map(|layer| layer.colour.as_ref());
        add(Kind::Found, "found", found, "as found");
        add(Kind::Wished, "wished", zone.wish.colour.as_ref(), "as wished");
    }
    all
}

/// The three ways of giving one colour, in one group.
pub(super) fn fields(fields: &Fields<'_>, name: &str, label: &str, known: &[Known]) -> Markup {
    let (from, pick) = (format!("{name}-from"), format!("{name}-pick"));
    html! {
        fieldset.said data-said=(name) {
            legend { (label) }
            @if !known.is_empty() { (fields.select_of(&from, "From the shop", "", &groups(known))) }
            div.said-two {
                (fields.text(name, "Or typed", "#rrggbb, a word such as cream, or a reading: L a b"))
                (fields.swatch(&pick, "Or picked here"))
            }
        }
    }
}

fn groups(known: &[Known]) -> Vec<(String, Vec<Choice>)> {
    let mut groups = vec![(
        String::new(),
        vec![(String::new(), "as typed or picked below".to_owned())],
    )];
    for (kind, title) in [
        (Kind::Shelf, "On the shelf"),
        (Kind::Found, "Found on a piece"),
        (Kind::Wished, "Wished for a piece"),
    ] {
        let of_kind = known.iter().filter(|known| known.kind == kind);
        let choices: Vec<Choice> = of_kind
            .map(|known| (known.key.clone(), format!("{} ({})", known.name, called(known.colour))))
            .collect();
        if !choices.is_empty() {
            groups.push((title.to_owned(), choices));
        }
    }
    groups
}

/// The colour that was given: what was typed counts before what was taken from the shop, and that before what was picked.
pub(super) fn read(typed: &mut Typed, name: &str, known: &[Known]) -> Option<Said> {
    if !typed.text(name).is_empty() {
        let text = typed.text(name).to_owned();
        let colour = typed.read(name, read_typed)?;
        return Some(Said {
            colour,
            name: text,
            key: None,
        });
    }
    let key = typed.text(&format!("{name}-from")).to_owned();
    if !key.is_empty() {
        let Some(there) = known.iter().find(|known| known.key == key) else {
            typed.refuse(
                &format!("{name}-from"),
                "this colour is no longer in the shop; choose another",
            );
            return None;
        };
        return Some(Said {
            colour: there.colour,
            name: there.name.clone(),
            key: Some(key),
        });
    }
    let picked = typed.read(&format!("{name}-pick"), Srgb::parse)?;
    Some(Said {
        colour: picked.to_lab(),
        name: called(picked.to_lab()),
        key: None,
    })
}

/// A screen colour, a colour word, or a meter's reading.
pub(super) fn read_typed(text: &str) -> Result<Lab, String> {
    if let Some(word) = shop::file::read_colour(text) {
        return Srgb::parse(&word).map(Srgb::to_lab).map_err(|why| why.to_string());
    }
    let numbers = text.split_whitespace().count();
    if text.starts_with('#') || (numbers == 1 && text.chars().all(|c| c.is_ascii_hexdigit())) {
        return Srgb::parse(text).map(Srgb::to_lab).map_err(|why| why.to_string());
    }
    if text.chars().any(|c| c.is_ascii_digit()) {
        return read_lab(text).map_err(|why| why.to_string());
    }
    Err(format!(
        "“{}” is no colour known here; write # and six figures such as #8a9a5b, a word such as cream, or a reading such as 61 -16.3 31.2",
        text.chars().take(40).collect::<String>()
    ))
}
