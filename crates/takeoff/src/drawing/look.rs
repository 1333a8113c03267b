//! What colour and sheen each zone is planned to have.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::{DefaultZone, TakeOff, UnknownSurface};

/// A colour of the screen, sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Rgb(
    /// Red.
    pub u8,
    /// Green.
    pub u8,
    /// Blue.
    pub u8,
);

impl Rgb {
    /// From `#rrggbb`, with or without the sign; `None` for anything else.
    #[must_use]
    pub fn parse(hex: &str) -> Option<Self> {
        let hex = hex.trim().trim_start_matches('#');
        if hex.len() != 6 || !hex.is_ascii() {
            return None;
        }
        let part = |range: std::ops::Range<usize>| u8::from_str_radix(&hex[range], 16).ok();
        Some(Self(part(0..2)?, part(2..4)?, part(4..6)?))
    }
}

/// How a zone is to look.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// Its colour in even light.
    pub colour: Rgb,
    /// From 0, dead flat, to 1, full gloss.
    pub gloss: f64,
}

/// The looks of a piece's zones and surfaces; what has none is paper.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ZoneLook {
    by_zone: BTreeMap<DefaultZone, Look>,
    by_surface: BTreeMap<String, Look>,
    title: Option<String>,
}

impl ZoneLook {
    /// Everything paper.
    #[must_use]
    pub fn paper() -> Self {
        Self::default()
    }

    /// The drawing's accessible name: “oak hall bench, seen from the front right”.
    #[must_use]
    pub fn titled(mut self, title: impl Into<String>) -> Self {
        self.title = Some(title.into());
        self
    }

    /// A look for a whole zone by default.
    #[must_use]
    pub fn zone(mut self, zone: DefaultZone, look: Look) -> Self {
        self.by_zone.insert(zone, look);
        self
    }

    /// A look for one surface; it wins over its zone's.
    #[must_use]
    pub fn surface(mut self, id: impl Into<String>, look: Look) -> Self {
        self.by_surface.insert(id.into(), look);
        self
    }

    /// A look for what the words of a plan file name.
    ///
    /// # Errors
    /// As [`TakeOff::find`].
    pub fn named<'a>(
        mut self,
        piece: &TakeOff,
        words: impl IntoIterator<Item = &'a str>,
        look: Look,
    ) -> Result<Self, UnknownSurface> {
        for surface in piece.find_all(words)? {
            self.by_surface.insert(surface.id.clone(), look);
        }
        Ok(self)
    }

    pub(super) fn of(&self, surface: &str, zone: DefaultZone) -> Option<Look> {
        self.by_surface
            .get(surface)
            .or_else(|| self.by_zone.get(&zone))
            .copied()
    }

    pub(super) fn title_or(&self, form: &str) -> String {
        self.title.clone().unwrap_or_else(|| format!("Drawing of the {form}"))
    }
}
