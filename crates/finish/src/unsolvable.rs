//! When nothing meets the wish: which wish stands against which finding, and the smallest change that frees it.
//!
//! The one idea: give up one thing at a time and plan again. What frees the way is what stood in it.

use crate::act::Act;
use crate::because::all_hits;
use crate::bench::Bench;
use crate::finding::Finding;
use crate::limits::Limits;
use crate::plan::paths;
use crate::rule::Hits;
use crate::schedule::{NoSchedule, Release};
use crate::search::{Boldness, search};
use crate::wish::{Look, Wish};
use crate::zone::{LeadTest, Use, Zone};

/// One change: its words, its key, and the zone, wish and limits after it.
struct Change {
    release: Release,
    zone: Zone,
    wish: Wish,
    limits: Limits,
}

pub(crate) fn explain(zone: &Zone, wish: &Wish, limits: &Limits) -> NoSchedule {
    let mut releases = Vec::new();
    let mut findings = Vec::new();
    for change in changes(zone, wish, limits) {
        let freed = paths(&Bench::new(&change.zone, &change.wish, &change.limits));
        let Some(path) = freed.first() else { continue };
        if findings.is_empty() {
            // What the freed schedule breaks of the wish as it stood is what stood in its way.
            findings = objections(&path.acts, zone, wish, limits);
        }
        releases.push(change.release);
    }
    let bench = Bench::new(zone, wish, limits);
    if findings.is_empty() {
        let barred = search(&bench, Boldness::WithTestPatch).barred;
        findings = in_words(barred.serious());
    }
    let against = findings
        .first()
        .map_or("what was found on it", |finding| finding.message.trim_end_matches('.'));
    NoSchedule {
        zone: zone.name.clone(),
        wish: releases.first().map_or_else(
            || format!("the look `{}`", wish.look),
            |release: &Release| format!("`{}`", release.key),
        ),
        against: against.to_owned(),
        findings,
        releases,
    }
}

/// What the rules say of a run of acts under the wish as it stands, worst first.
fn objections(acts: &[Act], zone: &Zone, wish: &Wish, limits: &Limits) -> Vec<Finding> {
    in_words(all_hits(acts.iter(), &Bench::new(zone, wish, limits)).serious())
}

fn in_words(hits: Hits) -> Vec<Finding> {
    let mut findings: Vec<Finding> = hits.iter().map(|rule| rule.finding(None, "")).collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
}

/// Every single thing that could be given up or changed, the smallest first.
fn changes(zone: &Zone, wish: &Wish, limits: &Limits) -> Vec<Change> {
    let mut changes = Vec::new();
    let mut add = |change: String, key: &str, edit: &dyn Fn(&mut Zone, &mut Wish, &mut Limits)| {
        let (mut zone, mut wish, mut limits) = (zone.clone(), wish.clone(), limits.clone());
        edit(&mut zone, &mut wish, &mut limits);
        changes.push(Change {
            release: Release {
                change,
                key: key.to_owned(),
            },
            zone,
            wish,
            limits,
        });
    };
    if zone.is_lead_suspect() && zone.lead == LeadTest::NotTested {
        add(
            "have the old paint tested; if no lead is found the way is free".to_owned(),
            "tested.lead",
            &|zone, _, _| {
                zone.lead = LeadTest::None;
            },
        );
    }
    if let Some(sheen) = wish.sheen {
        add(
            format!("leave the sheen open instead of {sheen}"),
            "sheen",
            &|_, wish, _| wish.sheen = None,
        );
    }
    if let Some(coats) = wish.coats {
        add(
            format!("leave the number of coats open instead of {coats}"),
            "coats",
            &|_, wish, _| wish.coats = None,
        );
    }
    for excluded in wish.without.iter().copied() {
        add(
            format!("give up doing without {}", excluded.label()),
            "without",
            &move |_, wish, _| {
                wish.without.retain(|what| *what != excluded);
            },
        );
    }
    if let Some(class) = wish.class {
        add(
            format!("leave the class open instead of {}", class.label()),
            "class",
            &|_, wish, _| wish.class = None,
        );
    }
    if wish.strip {
        add("keep the old finish".to_owned(), "strip", &|_, wish, _| {
            wish.strip = false
        });
    }
    if wish.glaze {
        add("do without the glaze".to_owned(), "glaze", &|_, wish, _| {
            wish.glaze = false
        });
    }
    if !limits.never.is_empty() {
        add(
            "allow the classes that the shop refuses".to_owned(),
            "never",
            &|_, _, limits| limits.never.clear(),
        );
    }
    if let Some(air) = limits.air {
        add(
            format!(
                "work in warmer, drier air than {:.0} °C and {:.0} % humidity",
                air.warmest_c,
                air.driest_rh * 100.0
            ),
            "room",
            &|_, _, limits| limits.air = None,
        );
    }
    if !limits.has_spray_gun {
        add("have a spray gun".to_owned(), "has_spray_gun", &|_, _, limits| {
            limits.has_spray_gun = true
        });
    }
    if zone.use_ != Use::Display {
        add(
            format!("ask less of it than {}", zone.use_.label()),
            "use",
            &|zone, _, _| zone.use_ = Use::Display,
        );
    }
    for look in Look::EVERY.iter().copied().filter(|look| *look != wish.look) {
        add(
            format!("have it {} instead of {}", look.label(), wish.look.label()),
            "look",
            &move |_, wish, _| {
                wish.look = look;
                wish.class = None;
            },
        );
    }
    changes
}
