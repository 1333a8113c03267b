//! Words of the trade tables as they stand in a plan file: classes and substrates.

use trade::{FinishClass, Material, Substrate};

use super::node::Value;

/// The longest word that is worth comparing with the tables'.
const LONGEST: usize = 80;

/// A word that one of the trade's vocabularies reads.
pub(crate) fn trade_word<T, E: std::fmt::Display>(
    value: &Value<'_>,
    what: &str,
    parse: fn(&str) -> Result<T, E>,
) -> Option<T> {
    let example = format!("{what}, in quotes");
    let Some(text) = value.as_text() else {
        value.refuse("this is one word of the trade's tables", &example);
        return None;
    };
    if text.trim().is_empty() || text.chars().count() > LONGEST {
        value.refuse("this is one word of the trade's tables", &example);
        return None;
    }
    match parse(text.trim()) {
        Ok(word) => Some(word),
        Err(refusal) => {
            let reason = refusal.to_string().split_whitespace().collect::<Vec<_>>().join(" ");
            value.refuse("this word is not in the trade's tables", &reason);
            None
        }
    }
}

/// A finish class.
pub(crate) fn finish_class(value: &Value<'_>) -> Option<FinishClass> {
    trade_word(
        value,
        "a finish class such as \"waterborne-acrylic-enamel\"",
        FinishClass::parse,
    )
}

/// A finish or a preparation class.
pub(crate) fn material(value: &Value<'_>) -> Option<Material> {
    trade_word(
        value,
        "a material class such as \"waterborne-flat-clear\"",
        Material::parse,
    )
}

/// A substrate.
pub(crate) fn substrate(value: &Value<'_>) -> Option<Substrate> {
    trade_word(
        value,
        "a substrate such as \"oak\", \"veneer\", \"mdf\" or \"brass\"",
        Substrate::parse,
    )
}

/// The ids of a small vocabulary.
macro_rules! ids_of {
    ($kind:ty) => {{
        let ids: Vec<&str> = <$kind>::EVERY.iter().map(|member| member.id()).collect();
        ids
    }};
}
pub(crate) use ids_of;
