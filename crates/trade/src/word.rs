//! Words of the trade as ids: how an id is read from what somebody typed, and how an unknown word is refused.
//!
//! Ids are kebab-case; spaces, underscores and capitals in what was typed do not matter. The refusal names the nearest
//! ids, so that a slip of the finger costs one look.

use std::fmt;

/// A word that no id or alias of its kind matches.
///
/// The display form is meant for the user: what was read, what kind of word was expected, which ids come nearest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownWord {
    /// What kind of word was expected, as a person would say it: "finish class", "operation".
    pub expected: &'static str,
    /// The word as it was typed.
    pub given: String,
    /// The nearest ids, best first; at most three, never empty.
    pub nearest: Vec<&'static str>,
}

impl fmt::Display for UnknownWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let article = if self.expected.starts_with(['a', 'e', 'i', 'o', 'u']) {
            "an"
        } else {
            "a"
        };
        write!(f, "`{}` is not {article} {}", self.given, self.expected)?;
        for (idx, id) in self.nearest.iter().enumerate() {
            write!(f, "{}`{id}`", if idx == 0 { "; nearest: " } else { ", " })?;
        }
        Ok(())
    }
}

impl std::error::Error for UnknownWord {}

/// Brings typed words to the shape of an id: lower case, one hyphen for each run of spaces, underscores or hyphens.
pub fn normalise(typed: &str) -> String {
    typed
        .to_lowercase()
        .split(|c: char| c.is_whitespace() || c == '_' || c == '-')
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("-")
}

/// The refusal of `given`, with the three ids that come nearest by spelling (`spellings` pairs a spelling with its id).
pub fn refuse(
    expected: &'static str,
    given: &str,
    spellings: impl Iterator<Item = (&'static str, &'static str)>,
) -> UnknownWord {
    let wanted = normalise(given);
    let mut scored: Vec<(f64, &'static str)> = Vec::new();
    for (spelling, id) in spellings {
        let mut score = strsim::jaro_winkler(&wanted, spelling);
        if wanted.len() >= 3
            && spelling
                .split('-')
                .any(|part| part == wanted || wanted.split('-').any(|w| w == part))
        {
            score += 0.3;
        }
        match scored.iter_mut().find(|(_, seen)| *seen == id) {
            Some(entry) => entry.0 = entry.0.max(score),
            None => scored.push((score, id)),
        }
    }
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    let nearest = scored.into_iter().take(3).map(|(_, id)| id).collect();
    UnknownWord {
        expected,
        given: given.trim().to_owned(),
        nearest,
    }
}

/// Defines a closed vocabulary: an enum whose variants have a kebab-case id, a plain label and aliases of everyday speech.
///
/// The one mechanism for words that stand in files, whichever crate they belong to; a crate that uses it depends on `serde`.
///
/// ```
/// trade::vocabulary! {
///     /// How far a lid is open.
///     Lid is "state of a lid" {
///         Open = "open", "open", ["up"];
///         Shut = "shut", "shut";
///     }
/// }
/// assert_eq!(Lid::parse("Up")?, Lid::Open);
/// assert!(Lid::parse("opne").is_err_and(|refused| refused.nearest[0] == "open"));
/// # Ok::<(), trade::UnknownWord>(())
/// ```
#[macro_export]
macro_rules! vocabulary {
    (
        $(#[$meta:meta])*
        $name:ident is $what:literal {
            $( $variant:ident = $id:literal, $label:literal $(, [$($alias:literal),* $(,)?])? ; )*
        }
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $( #[doc = concat!("`", $id, "`: ", $label, ".")] $variant, )*
        }

        impl $name {
            /// Every member, in the order of the table.
            pub const EVERY: &'static [$name] = &[$( $name::$variant ),*];

            /// The id as it stands in files, in JSON and in URLs.
            pub const fn id(self) -> &'static str {
                match self { $( $name::$variant => $id ),* }
            }

            /// What a person calls it.
            pub const fn label(self) -> &'static str {
                match self { $( $name::$variant => $label ),* }
            }

            /// Everyday words that are read as this member, beside its id.
            pub const fn aliases(self) -> &'static [&'static str] {
                match self { $( $name::$variant => &[$($($alias),*)?] ),* }
            }

            /// Every spelling that [`Self::parse`] takes, with the id it leads to.
            pub fn spellings() -> impl Iterator<Item = (&'static str, &'static str)> {
                Self::EVERY.iter().flat_map(|member| {
                    std::iter::once(member.id())
                        .chain(member.aliases().iter().copied())
                        .map(move |spelling| (spelling, member.id()))
                })
            }

            /// Reads an id or an alias; capitals, spaces and underscores do not matter.
            ///
            /// # Errors
            /// An `UnknownWord` with the nearest ids if nothing matches.
            pub fn parse(typed: &str) -> Result<Self, $crate::UnknownWord> {
                let wanted = $crate::word::normalise(typed);
                Self::EVERY
                    .iter()
                    .copied()
                    .find(|member| member.id() == wanted || member.aliases().contains(&wanted.as_str()))
                    .ok_or_else(|| $crate::word::refuse($what, typed, Self::spellings()))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.id())
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::UnknownWord;

            fn from_str(typed: &str) -> Result<Self, Self::Err> {
                Self::parse(typed)
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.id())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let typed = <std::borrow::Cow<'de, str> as serde::Deserialize<'de>>::deserialize(deserializer)?;
                Self::parse(&typed).map_err(serde::de::Error::custom)
            }
        }
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_words_come_to_the_shape_of_an_id() {
        assert_eq!(normalise("  Oil_based  Polyurethane "), "oil-based-polyurethane");
        assert_eq!(normalise("VM&P naphtha"), "vm&p-naphtha");
    }

    #[test]
    fn refusal_reads_as_a_sentence_and_names_the_nearest() {
        let refused = refuse(
            "finish class",
            "alkid enamel",
            [("alkyd-enamel", "alkyd-enamel"), ("paste-wax", "paste-wax")].into_iter(),
        );
        assert_eq!(refused.nearest[0], "alkyd-enamel");
        assert_eq!(
            refused.to_string(),
            "`alkid enamel` is not a finish class; nearest: `alkyd-enamel`, `paste-wax`"
        );
    }
}
