//! Form fields: a label above, a hint, what was typed, and what is wrong with it beside it.

use maud::{Markup, html};

use crate::typed::Typed;

/// One choice of a select: value and words.
pub(crate) type Choice = (String, String);

/// What surrounds every field.
struct Around<'f> {
    form: &'f str,
    name: &'f str,
    label: &'f str,
    hint: &'f str,
}

impl Around<'_> {
    fn id(&self) -> String {
        format!("{}-{}", self.form, self.name)
    }

    /// What describes the field to whoever cannot see it.
    fn described_by(&self, typed: &Typed) -> Option<String> {
        let id = self.id();
        let mut parts = Vec::new();
        if !self.hint.is_empty() {
            parts.push(format!("{id}-hint"));
        }
        if typed.refusal(self.name).is_some() {
            parts.push(format!("{id}-refusal"));
        }
        (!parts.is_empty()).then(|| parts.join(" "))
    }

    fn field(&self, typed: &Typed, control: &Markup) -> Markup {
        let id = self.id();
        html! {
            div.field {
                label for=(id) { (self.label) }
                @if !self.hint.is_empty() { span.hint id={ (id) "-hint" } { (self.hint) } }
                (control)
                @if let Some(refusal) = typed.refusal(self.name) {
                    span.refusal id={ (id) "-refusal" } { span.sign { "Not yet: " } (refusal) }
                }
            }
        }
    }
}

/// The fields of one form; ids begin with the form's own word.
#[derive(Clone, Copy)]
pub(crate) struct Fields<'f> {
    pub(crate) form: &'f str,
    pub(crate) typed: &'f Typed,
}

impl Fields<'_> {
    /// A line of text.
    pub(crate) fn text(&self, name: &str, label: &str, hint: &str) -> Markup {
        self.input("text", name, label, hint)
    }

    /// A day.
    pub(crate) fn day(&self, name: &str, label: &str, hint: &str) -> Markup {
        self.input("date", name, label, hint)
    }

    fn input(&self, kind: &str, name: &str, label: &str, hint: &str) -> Markup {
        let around = Around {
            form: self.form,
            name,
            label,
            hint,
        };
        let invalid = self.typed.refusal(name).map(|_| "true");
        around.field(
            self.typed,
            &html! {
                input type=(kind) id=(around.id()) name=(name) value=(self.typed.text(name)) autocomplete="off"
                    aria-invalid=[invalid] aria-describedby=[around.described_by(self.typed)];
            },
        )
    }

    /// One of several.
    pub(crate) fn select(&self, name: &str, label: &str, hint: &str, choices: &[Choice]) -> Markup {
        self.select_of(name, label, hint, &[(String::new(), choices.to_vec())])
    }

    /// One of several, in groups; a group without a name stands by itself.
    pub(crate) fn select_of(&self, name: &str, label: &str, hint: &str, groups: &[(String, Vec<Choice>)]) -> Markup {
        let around = Around {
            form: self.form,
            name,
            label,
            hint,
        };
        let chosen = self.typed.text(name);
        let options = |choices: &[Choice]| {
            html! {
                @for (value, words) in choices {
                    option value=(value) selected[value == chosen] { (words) }
                }
            }
        };
        let invalid = self.typed.refusal(name).map(|_| "true");
        around.field(
            self.typed,
            &html! {
                select id=(around.id()) name=(name) aria-invalid=[invalid] aria-describedby=[around.described_by(self.typed)] {
                    @for (group, choices) in groups {
                        @if group.is_empty() { (options(choices)) }
                        @else { optgroup label=(group) { (options(choices)) } }
                    }
                }
            },
        )
    }

    /// A box to tick.
    pub(crate) fn tick(&self, name: &str, label: &str) -> Markup {
        html! {
            label.tick {
                input type="checkbox" name=(name) value="yes" checked[self.typed.is_ticked(name)];
                span { (label) }
            }
        }
    }

    /// A colour that must be said.
    pub(crate) fn swatch(&self, name: &str, label: &str) -> Markup {
        self.input("color", name, label, "")
    }

    /// A colour that may be left open: a box to tick, and the colour beside it.
    pub(crate) fn colour(&self, name: &str, label: &str) -> Markup {
        let id = format!("{}-{name}", self.form);
        let has = format!("{name}-has");
        let value = match self.typed.text(name) {
            "" => "#8b8b86",
            colour => colour,
        };
        html! {
            fieldset.colour {
                legend { (label) }
                label.tick {
                    input type="checkbox" name=(has) value="yes" checked[self.typed.is_ticked(&has)];
                    span { "It has a colour that matters" }
                }
                label for=(id) { "Colour" }
                input type="color" id=(id) name=(name) value=(value);
                @if let Some(refusal) = self.typed.refusal(name) { span.refusal { (refusal) } }
            }
        }
    }
}

/// Choices from pairs of words.
pub(crate) fn choices<'c>(pairs: impl IntoIterator<Item = (&'c str, &'c str)>) -> Vec<Choice> {
    pairs
        .into_iter()
        .map(|(value, words)| (value.to_owned(), words.to_owned()))
        .collect()
}

/// What is wrong with the form as a whole, above it, so that it is heard first.
pub(crate) fn summary(typed: &Typed) -> Markup {
    html! {
        @if !typed.is_sound() {
            p.refusal role="alert" { "Nothing was changed yet: see the marked entries below." }
        }
    }
}
