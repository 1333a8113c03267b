//! What could be given up or changed of a wish, a piece or a shop, the smallest first.

use crate::limits::Limits;
use crate::schedule::Release;
use crate::wish::{Look, Wish};
use crate::zone::{LeadTest, Use, Zone};

/// What is planned for.
#[derive(Clone)]
pub(super) struct Case {
    pub(super) zone: Zone,
    pub(super) wish: Wish,
    pub(super) limits: Limits,
}

/// One change: its words and its key, and what it does.
pub(super) struct Change {
    pub(super) release: Release,
    pub(super) edit: Box<dyn Fn(&mut Case)>,
}

fn change(words: impl Into<String>, key: &str, edit: impl Fn(&mut Case) + 'static) -> Change {
    Change {
        release: Release {
            change: words.into(),
            key: key.to_owned(),
        },
        edit: Box::new(edit),
    }
}

/// Every single thing that could be given up or changed, the smallest first.
pub(super) fn changes(case: &Case) -> Vec<Change> {
    let mut changes = Vec::new();
    of_the_wish(case, &mut changes);
    of_the_shop(case, &mut changes);
    of_the_purpose(case, &mut changes);
    changes
}

fn of_the_wish(case: &Case, changes: &mut Vec<Change>) {
    let wish = &case.wish;
    if case.zone.is_lead_suspect() && case.zone.lead == LeadTest::NotTested {
        changes.push(change(
            "have the old finish tested; if no lead is found the way is free",
            "tested.lead",
            |case| case.zone.lead = LeadTest::None,
        ));
    }
    if let Some(sheen) = wish.sheen {
        changes.push(change(
            format!("leave the sheen open instead of {sheen}"),
            "sheen",
            |case| case.wish.sheen = None,
        ));
    }
    if let Some(coats) = wish.coats {
        changes.push(change(
            format!("leave the number of coats open instead of {coats}"),
            "coats",
            |case| case.wish.coats = None,
        ));
    }
    for excluded in wish.without.iter().copied() {
        changes.push(change(
            format!("give up doing without {}", excluded.label()),
            "without",
            move |case| case.wish.without.retain(|what| *what != excluded),
        ));
    }
    if let Some(class) = wish.class {
        changes.push(change(
            format!("leave the class open instead of {}", class.label()),
            "class",
            |case| case.wish.class = None,
        ));
    }
    if wish.strip {
        changes.push(change("keep the old finish", "strip", |case| case.wish.strip = false));
    }
    if wish.glaze {
        changes.push(change("do without the glaze", "glaze", |case| case.wish.glaze = false));
    }
    if wish.distress {
        changes.push(change("do without the worn edges", "distress", |case| {
            case.wish.distress = false;
        }));
    }
}

fn of_the_shop(case: &Case, changes: &mut Vec<Change>) {
    let limits = &case.limits;
    if !limits.never.is_empty() {
        changes.push(change("allow the classes that the shop refuses", "never", |case| {
            case.limits.never.clear();
        }));
    }
    if let Some(air) = limits.air {
        changes.push(change(
            format!(
                "work in warmer, drier air than {:.0} °C and {:.0} % humidity",
                air.warmest_c,
                air.driest_rh * 100.0
            ),
            "room",
            |case| case.limits.air = None,
        ));
    }
    if !limits.has_sander {
        changes.push(change("have a sanding machine", "has_sander", |case| {
            case.limits.has_sander = true;
        }));
    }
    if !limits.has_spray_gun {
        changes.push(change("have a spray gun", "has_spray_gun", |case| {
            case.limits.has_spray_gun = true;
        }));
    }
}

fn of_the_purpose(case: &Case, changes: &mut Vec<Change>) {
    if case.zone.use_ != Use::Display {
        changes.push(change(
            format!("ask less of it than {}", case.zone.use_.label()),
            "use",
            |case| case.zone.use_ = Use::Display,
        ));
    }
    let now = case.wish.look;
    for look in Look::EVERY.iter().copied().filter(|look| *look != now) {
        changes.push(change(
            format!("have it {} instead of {}", look.label(), now.label()),
            "look",
            move |case| {
                case.wish.look = look;
                case.wish.class = None;
            },
        ));
    }
}
