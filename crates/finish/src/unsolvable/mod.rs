//! When nothing meets the wish: which wish stands against which finding, and the smallest change that frees it.
//!
//! The one idea: give up one thing at a time and plan again. What frees the way is what stood in it. Where no one thing is enough,
//! everything is given up and then taken back piece by piece, the dearest first: what cannot be taken back is the change.

mod changes;

use crate::act::Act;
use crate::because::all_hits;
use crate::bench::Bench;
use crate::finding::Finding;
use crate::limits::Limits;
use crate::rule::Hits;
use crate::schedule::{NoSchedule, Release};
use crate::search::{Boldness, Path, reach, search};
use crate::unsolvable::changes::{Case, Change, changes};
use crate::wish::Wish;
use crate::zone::Zone;

pub(crate) fn explain(zone: &Zone, wish: &Wish, limits: &Limits) -> NoSchedule {
    let case = Case {
        zone: zone.clone(),
        wish: wish.clone(),
        limits: limits.clone(),
    };
    let changes = changes(&case);
    let mut releases = Vec::new();
    let mut findings = Vec::new();
    for change in &changes {
        let Some(path) = way_with(&case, &[change]) else {
            continue;
        };
        if findings.is_empty() {
            // What the freed schedule breaks of the wish as it stood is what stood in its way.
            findings = objections(&path.acts, &case);
        }
        releases.push(change.release.clone());
    }
    if releases.is_empty()
        && let Some((needed, path)) = several(&case, &changes)
    {
        findings = objections(&path.acts, &case);
        releases.push(together(&needed));
    }
    if findings.is_empty() {
        let bench = Bench::new(zone, wish, limits);
        findings = in_words(search(&bench, Boldness::WithTestPatch).barred.serious());
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

/// Some way to the wish after these changes.
fn way_with(case: &Case, changes: &[&Change]) -> Option<Path> {
    let mut changed = case.clone();
    for change in changes {
        (change.edit)(&mut changed);
    }
    let bench = Bench::new(&changed.zone, &changed.wish, &changed.limits);
    Boldness::FROM_SURE
        .into_iter()
        .find_map(|boldness| reach(&bench, boldness))
}

/// Changes that free the way only together, none of which can be spared; the look is left as it is where it can be.
fn several<'c>(case: &Case, changes: &'c [Change]) -> Option<(Vec<&'c Change>, Path)> {
    let (of_look, others): (Vec<&Change>, Vec<&Change>) =
        changes.iter().partition(|change| change.release.key == "look");
    let looks = std::iter::once(None).chain(of_look.into_iter().map(Some));
    let mut needed: Vec<&Change> = looks
        .map(|look| others.iter().copied().chain(look).collect::<Vec<_>>())
        .find(|all| way_with(case, all).is_some())?;
    for idx in (0..needed.len()).rev() {
        let mut rest = needed.clone();
        rest.remove(idx);
        if way_with(case, &rest).is_some() {
            needed = rest;
        }
    }
    let path = way_with(case, &needed)?;
    Some((needed, path))
}

fn together(needed: &[&Change]) -> Release {
    let join = |of: fn(&Release) -> &str, between: &str| {
        let parts: Vec<&str> = needed.iter().map(|change| of(&change.release)).collect();
        parts.join(between)
    };
    Release {
        change: join(|release| &release.change, ", and "),
        key: join(|release| &release.key, "+"),
    }
}

/// What the rules say of a run of acts under the wish as it stands, worst first.
fn objections(acts: &[Act], case: &Case) -> Vec<Finding> {
    let bench = Bench::new(&case.zone, &case.wish, &case.limits);
    in_words(all_hits(acts.iter(), &bench).serious())
}

fn in_words(hits: Hits) -> Vec<Finding> {
    let mut findings: Vec<Finding> = hits.iter().map(|rule| rule.finding(None, "")).collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
}
