//! Cautions: a sign and a word say how grave, never a colour alone.

use std::collections::BTreeSet;

use maud::{Markup, html};
use shop::plan::{Caution, Level, Plan};

/// One caution.
pub(crate) fn caution(caution: &Caution) -> Markup {
    let class = match caution.level {
        Level::Stop => "caution stop",
        Level::Warn => "caution warn",
        Level::Note => "caution note",
    };
    html! {
        div class=(class) {
            p {
                strong.sign { (sign(caution.level)) (word(caution.level)) ": " }
                (caution.text)
                " " span.source { (source_line(&caution.source)) }
            }
        }
    }
}

fn word(level: Level) -> &'static str {
    match level {
        Level::Stop => "Stop",
        Level::Warn => "Warning",
        Level::Note => "Note",
    }
}

/// An octagon with a bar, a triangle with a mark, a ring with a dot.
fn sign(level: Level) -> Markup {
    html! {
        svg.mark viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" focusable="false" {
            @match level {
                Level::Stop => {
                    path d="M7.5 2h9L22 7.5v9L16.5 22h-9L2 16.5v-9z" fill="none" stroke="currentColor" stroke-width="2" {}
                    path d="M6.5 12h11" stroke="currentColor" stroke-width="3" {}
                }
                Level::Warn => {
                    path d="M12 3L22 21H2z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" {}
                    path d="M12 9.5v5.5M12 17.2v1.8" stroke="currentColor" stroke-width="2.2" {}
                }
                Level::Note => {
                    circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2" {}
                    path d="M12 11v6M12 7v1.8" stroke="currentColor" stroke-width="2.2" {}
                }
            }
        }
    }
}

/// The cautions that hold at one step of a list, gravest first: what was said in full further up is only named again, and what is
/// good to know waits folded up.
pub(crate) fn at_step<'p>(plan: &'p Plan, ids: &[String], said: &mut BTreeSet<&'p str>) -> Markup {
    let found = found(plan, ids);
    let (notes, grave): (Vec<&Caution>, Vec<&Caution>) = found.into_iter().partition(|each| each.level == Level::Note);
    let notes: Vec<&Caution> = notes.into_iter().filter(|note| said.insert(&note.id)).collect();
    let (new, again): (Vec<&Caution>, Vec<&Caution>) = grave.into_iter().partition(|each| said.insert(&each.id));
    html! {
        @for each in new { (caution(each)) }
        @for each in again {
            p.again { strong.sign { (sign(each.level)) (word(each.level)) ", as above: " } (beginning(&each.text)) }
        }
        @if !notes.is_empty() {
            details.notes {
                summary { (sign(Level::Note)) @if notes.len() == 1 { "Note" } @else { (notes.len()) " notes" } }
                @for each in notes { (caution(each)) }
            }
        }
    }
}

/// The first sentence, or as much of it as one line holds.
fn beginning(text: &str) -> String {
    const MOST: usize = 90;
    let sentence = text.split_once(". ").map_or(text, |(first, _)| first);
    if sentence.chars().count() <= MOST {
        return sentence.to_owned();
    }
    sentence.chars().take(MOST - 1).chain(['…']).collect()
}

/// The cautions of these ids, gravest first.
pub(crate) fn of_ids(plan: &Plan, ids: &[String]) -> Markup {
    html! { @for each in found(plan, ids) { (caution(each)) } }
}

fn found<'p>(plan: &'p Plan, ids: &[String]) -> Vec<&'p Caution> {
    let mut found: Vec<&Caution> = plan
        .cautions
        .iter()
        .filter(|caution| ids.contains(&caution.id))
        .collect();
    found.sort_by_key(|caution| caution.level);
    found
}

/// Where a statement comes from, in one line.
pub(crate) fn source_line(key: &str) -> String {
    trade::sources::get(key).map_or_else(|| key.replace('-', " "), |source| source.cite())
}
