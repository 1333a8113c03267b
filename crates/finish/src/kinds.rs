//! Closed sets of words of this crate: an enum whose members have a kebab-case id and a plain label.
//!
//! They are the small brothers of the vocabularies of `trade`: same spelling rules, no aliases beyond those listed.

/// Defines such an enum with `id`, `label`, `EVERY`, `parse`, and the id as its serialised form.
macro_rules! kinds {
    (
        $(#[$meta:meta])*
        $name:ident {
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

            /// The id as it stands in files and in JSON.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self { $( $name::$variant => $id ),* }
            }

            /// What a person calls it.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self { $( $name::$variant => $label ),* }
            }

            /// Reads an id or an everyday word for it; capitals, spaces and underscores do not matter. `None` for any other word.
            #[must_use]
            pub fn parse(typed: &str) -> Option<Self> {
                let wanted = typed.trim().to_lowercase().replace([' ', '_'], "-");
                Self::EVERY.iter().copied().find(|member| {
                    let aliases: &[&str] = match member { $( $name::$variant => &[$($($alias),*)?] ),* };
                    member.id() == wanted || aliases.contains(&wanted.as_str())
                })
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.id())
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
                Self::parse(&typed).ok_or_else(|| {
                    let known: Vec<&str> = Self::EVERY.iter().map(|member| member.id()).collect();
                    serde::de::Error::custom(format!("`{typed}` is none of {}", known.join(", ")))
                })
            }
        }
    };
}

pub(crate) use kinds;
