//! Reading TOML with the line of every value at hand.
//!
//! The one idea: a reader never stops at the first thing it dislikes. Each question it is asked either has an answer or
//! leaves a refusal behind and answers nothing; a table, when it is closed, refuses every key that nobody asked it for.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::{Range, RangeInclusive};

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use trade::UnknownWord;

use super::nearest::one_of;
use super::refusal::FileRefusal;
use super::source::Source;

/// One file being read: its text, and what was refused or taken for granted in it so far.
pub(crate) struct Reader<'a> {
    pub(crate) source: &'a Source,
    pub(crate) refusals: RefCell<Vec<FileRefusal>>,
    pub(crate) assumed: RefCell<Vec<String>>,
}

impl<'a> Reader<'a> {
    pub(crate) fn new(source: &'a Source) -> Self {
        Reader {
            source,
            refusals: RefCell::default(),
            assumed: RefCell::default(),
        }
    }

    pub(crate) fn refuse(&self, span: Range<usize>, field: &str, found: &str, limit: &str, right: &str) {
        self.refusals.borrow_mut().push(FileRefusal {
            file: self.source.name.clone(),
            line: self.source.line(span.start),
            field: field.to_owned(),
            found: found.to_owned(),
            limit: limit.to_owned(),
            right: right.to_owned(),
        });
    }

    pub(crate) fn assume(&self, text: String) {
        self.assumed.borrow_mut().push(text);
    }
}

/// A table of the file, and which of its keys were asked for.
pub(crate) struct Table<'a> {
    pub(crate) reader: &'a Reader<'a>,
    pub(crate) field: String,
    pub(crate) span: Range<usize>,
    table: &'a DeTable<'a>,
    asked: RefCell<BTreeSet<&'static str>>,
}

impl<'a> Table<'a> {
    pub(crate) fn new(reader: &'a Reader<'a>, field: String, table: &'a DeTable<'a>, span: Range<usize>) -> Self {
        Table {
            reader,
            field,
            span,
            table,
            asked: RefCell::default(),
        }
    }

    /// How a key of this table is called in a refusal.
    pub(crate) fn field_of(&self, key: &str) -> String {
        if self.field.is_empty() {
            key.to_owned()
        } else {
            format!("{}, {key}", self.field)
        }
    }

    /// The value under a key, if it is there.
    pub(crate) fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().insert(key);
        let value = self.table.get(key)?;
        Some(Value {
            reader: self.reader,
            field: self.field_of(key),
            value,
        })
    }

    /// The value under a key that must be there; refuses its absence, saying what would be right.
    pub(crate) fn need(&self, key: &'static str, right: &str) -> Option<Value<'a>> {
        let value = self.get(key);
        if value.is_none() {
            self.refuse_absence(key, "this key has no default and must be given", right);
        }
        value
    }

    /// Refuses the absence of a key that what else stands here asks for.
    pub(crate) fn refuse_absence(&self, key: &str, limit: &str, right: &str) {
        self.reader
            .refuse(self.span.clone(), &self.field_of(key), "", limit, right);
    }

    /// The tables of an array of tables, such as `[[piece]]`; none if the key is absent.
    pub(crate) fn tables(&self, key: &'static str, right: &str) -> Vec<Table<'a>> {
        let Some(value) = self.get(key) else { return Vec::new() };
        match value.value.get_ref() {
            DeValue::Array(items) => items
                .iter()
                .enumerate()
                .filter_map(|(item_idx, item)| {
                    let field = format!("{} {}", value.field, item_idx + 1);
                    Value {
                        reader: self.reader,
                        field,
                        value: item,
                    }
                    .table(right)
                })
                .collect(),
            _ => {
                value.refuse("this is a list of tables", right);
                Vec::new()
            }
        }
    }

    /// Refuses every key that nobody asked for, with the nearest that there is.
    pub(crate) fn close(self) {
        let asked = self.asked.borrow();
        let known: Vec<&str> = asked.iter().copied().collect();
        for key in self.table.keys() {
            let word: &str = key.get_ref();
            if !asked.contains(word) {
                let shown: String = word.chars().take(40).collect();
                self.reader.refuse(
                    key.span(),
                    &self.field,
                    &format!("key \"{shown}\""),
                    "there is no such key here",
                    &one_of(word, &known),
                );
            }
        }
    }
}

/// One value of the file and how it is called in a refusal.
#[derive(Clone)]
pub(crate) struct Value<'a> {
    pub(crate) reader: &'a Reader<'a>,
    pub(crate) field: String,
    pub(crate) value: &'a Spanned<DeValue<'a>>,
}

impl<'a> Value<'a> {
    /// What stands in the file.
    pub(crate) fn found(&self) -> String {
        self.reader.source.shown(self.value.span())
    }

    pub(crate) fn refuse(&self, limit: &str, right: &str) {
        self.reader
            .refuse(self.value.span(), &self.field, &self.found(), limit, right);
    }

    pub(crate) fn is_text(&self) -> bool {
        self.value.get_ref().is_str()
    }

    pub(crate) fn is_list(&self) -> bool {
        self.value.get_ref().is_array()
    }

    /// The text if it is one, without refusing anything else.
    pub(crate) fn as_text(&self) -> Option<&'a str> {
        match self.value.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            _ => None,
        }
    }

    /// A text of 1 to `longest` characters without control characters.
    pub(crate) fn text(&self, longest: usize, right: &str) -> Option<String> {
        let Some(text) = self.as_text() else {
            self.refuse("this is a text in quotes", right);
            return None;
        };
        let trimmed = text.trim();
        if trimmed.is_empty() || trimmed.chars().count() > longest || trimmed.chars().any(char::is_control) {
            self.refuse(&format!("a text of 1 to {longest} characters on one line"), right);
            return None;
        }
        Some(trimmed.to_owned())
    }

    /// A plain number, if it is one and finite.
    pub(crate) fn as_number(&self) -> Option<f64> {
        let number = match self.value.get_ref() {
            DeValue::Integer(whole) if whole.radix() == 10 => whole.as_str().parse::<f64>().ok()?,
            DeValue::Float(float) => float.as_str().parse::<f64>().ok()?,
            _ => return None,
        };
        number.is_finite().then_some(number)
    }

    /// A plain number within `range`.
    pub(crate) fn number(&self, range: RangeInclusive<f64>, right: &str) -> Option<f64> {
        match self.as_number() {
            Some(number) if range.contains(&number) => Some(number),
            _ => {
                self.refuse(&format!("a number from {} to {}", range.start(), range.end()), right);
                None
            }
        }
    }

    /// A whole number within `range`.
    pub(crate) fn whole(&self, range: RangeInclusive<u32>, right: &str) -> Option<u32> {
        if let DeValue::Integer(whole) = self.value.get_ref()
            && whole.radix() == 10
            && let Ok(number) = whole.as_str().parse::<u32>()
            && range.contains(&number)
        {
            return Some(number);
        }
        self.refuse(
            &format!("a whole number from {} to {}", range.start(), range.end()),
            right,
        );
        None
    }

    /// `true` or `false`.
    pub(crate) fn flag(&self) -> Option<bool> {
        match self.value.get_ref() {
            DeValue::Boolean(flag) => Some(*flag),
            _ => {
                self.refuse("this is yes or no", "true or false");
                None
            }
        }
    }

    /// The items of a list.
    pub(crate) fn list(&self, right: &str) -> Vec<Value<'a>> {
        match self.value.get_ref() {
            DeValue::Array(items) => items
                .iter()
                .enumerate()
                .map(|(item_idx, item)| Value {
                    reader: self.reader,
                    field: format!("{} {}", self.field, item_idx + 1),
                    value: item,
                })
                .collect(),
            _ => {
                self.refuse("this is a list in brackets", right);
                Vec::new()
            }
        }
    }

    /// Whether it is a table.
    pub(crate) fn is_table(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::Table(_))
    }

    /// The entries of a table whose keys are names; at most sixty.
    pub(crate) fn entries(&self, right: &str) -> Vec<(String, Value<'a>)> {
        match self.value.get_ref() {
            DeValue::Table(table) => table
                .iter()
                .take(60)
                .map(|(key, value)| {
                    let word: &str = key.get_ref();
                    let shown: String = word.chars().take(40).collect();
                    let field = format!("{}, {shown}", self.field);
                    let reader = self.reader;
                    (shown, Value { reader, field, value })
                })
                .collect(),
            _ => {
                self.refuse("this is a table", right);
                Vec::new()
            }
        }
    }

    /// A table.
    pub(crate) fn table(&self, right: &str) -> Option<Table<'a>> {
        match self.value.get_ref() {
            DeValue::Table(table) => Some(Table::new(self.reader, self.field.clone(), table, self.value.span())),
            _ => {
                self.refuse("this is a table", right);
                None
            }
        }
    }

    /// A word of a closed vocabulary.
    pub(crate) fn word<T: Copy>(&self, known: &[(&'static str, T)]) -> Option<T> {
        let words: Vec<&str> = known.iter().map(|(word, _)| *word).collect();
        let Some(text) = self.as_text() else {
            self.refuse("this is one word of a list, in quotes", &one_of("", &words));
            return None;
        };
        let wanted = text.trim().to_lowercase().replace([' ', '_'], "-");
        let hit = known.iter().find(|(word, _)| *word == wanted);
        if hit.is_none() {
            self.refuse("this word is not known here", &one_of(&wanted, &words));
        }
        hit.map(|(_, value)| *value)
    }

    /// A word of one of the small vocabularies, read by its own reader; `ids` are what is shown when it is refused.
    pub(crate) fn kind<T>(&self, parse: fn(&str) -> Result<T, UnknownWord>, ids: &[&str]) -> Option<T> {
        let hit = self.as_text().and_then(|word| parse(word).ok());
        if hit.is_none() {
            self.refuse(
                "this word is not known here",
                &one_of(self.as_text().unwrap_or(""), ids),
            );
        }
        hit
    }

    /// A date or a time as text, whether it was written in quotes or as TOML's own.
    pub(crate) fn moment_text(&self) -> Option<String> {
        match self.value.get_ref() {
            DeValue::String(text) => Some(text.trim().to_owned()),
            DeValue::Datetime(datetime) => Some(datetime.to_string()),
            _ => None,
        }
    }
}
