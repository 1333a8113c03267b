//! A material, whichever of the two tables it stands in.

use std::fmt;

use crate::{FinishClass, PrepClass, UnknownWord, word};

/// A finish class or a preparation class. Their ids do not overlap, so one word names one material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Material {
    /// Something that stays on the piece.
    Finish(FinishClass),
    /// Something that prepares the piece.
    Prep(PrepClass),
}

impl Material {
    /// Every material that can be used: the choosable finish classes, then the preparation classes.
    pub fn every() -> impl Iterator<Item = Material> {
        FinishClass::CHOOSABLE
            .iter()
            .map(|class| Material::Finish(*class))
            .chain(PrepClass::EVERY.iter().map(|class| Material::Prep(*class)))
    }

    /// The id as it stands in files and JSON.
    pub const fn id(self) -> &'static str {
        match self {
            Material::Finish(class) => class.id(),
            Material::Prep(class) => class.id(),
        }
    }

    /// What a person calls it.
    pub const fn label(self) -> &'static str {
        match self {
            Material::Finish(class) => class.label(),
            Material::Prep(class) => class.label(),
        }
    }

    /// The finish class, if it is one.
    pub const fn finish(self) -> Option<FinishClass> {
        match self {
            Material::Finish(class) => Some(class),
            Material::Prep(_) => None,
        }
    }

    /// The preparation class, if it is one.
    pub const fn prep(self) -> Option<PrepClass> {
        match self {
            Material::Prep(class) => Some(class),
            Material::Finish(_) => None,
        }
    }

    /// Reads an id or an alias of either table.
    ///
    /// # Errors
    /// [`UnknownWord`] with the nearest ids of both tables.
    pub fn parse(typed: &str) -> Result<Self, UnknownWord> {
        if let Ok(class) = FinishClass::parse(typed) {
            return Ok(Material::Finish(class));
        }
        if let Ok(class) = PrepClass::parse(typed) {
            return Ok(Material::Prep(class));
        }
        Err(word::refuse(
            "material class",
            typed,
            FinishClass::spellings().chain(PrepClass::spellings()),
        ))
    }
}

impl From<FinishClass> for Material {
    fn from(class: FinishClass) -> Self {
        Material::Finish(class)
    }
}

impl From<PrepClass> for Material {
    fn from(class: PrepClass) -> Self {
        Material::Prep(class)
    }
}

impl fmt::Display for Material {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

impl serde::Serialize for Material {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.id())
    }
}

impl<'de> serde::Deserialize<'de> for Material {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let typed = <std::borrow::Cow<'de, str> as serde::Deserialize<'de>>::deserialize(deserializer)?;
        Self::parse(&typed).map_err(serde::de::Error::custom)
    }
}
