//! Cautions: a sign and a word say how grave, never a colour alone.

use maud::{Markup, html};
use shop::plan::{Caution, Level, Plan};

/// One caution.
pub(crate) fn caution(caution: &Caution) -> Markup {
    let (class, word) = match caution.level {
        Level::Stop => ("caution stop", "Stop"),
        Level::Warn => ("caution warn", "Warning"),
        Level::Note => ("caution note", "Note"),
    };
    html! {
        div class=(class) {
            p {
                strong.sign { (sign(caution.level)) (word) ": " }
                (caution.text)
                " " span.source { (source_line(&caution.source)) }
            }
        }
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

/// The cautions of these ids, gravest first.
pub(crate) fn of_ids(plan: &Plan, ids: &[String]) -> Markup {
    let mut found: Vec<&Caution> = plan.cautions.iter().filter(|caution| ids.contains(&caution.id)).collect();
    found.sort_by_key(|caution| caution.level);
    html! { @for each in found { (caution(each)) } }
}

/// Where a statement comes from, in one line.
pub(crate) fn source_line(key: &str) -> String {
    trade::sources::get(key).map_or_else(|| key.replace('-', " "), |source| source.cite())
}
