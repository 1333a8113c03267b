//! Will it stick? The verdict on each new class over each found surface, and the rules behind.
//!
//! Most verdicts are common practice; where a document was read the row says which. "Try a patch first" is the honest
//! answer wherever products of one class differ.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::sources::Status;
use crate::table::{csv_rows, toml_rows};
use crate::{FinishClass, FoundSurface, Grit, Verdict};

/// The verdict on one new class over one found surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// What is there.
    pub found: FoundSurface,
    /// What is to go on.
    pub new: FinishClass,
    /// The verdict.
    pub verdict: Verdict,
    /// What to do first, in words.
    pub preparation: &'static str,
    /// The grits to scuff with, coarsest and finest; none where no scuffing is called for.
    pub scuff: Option<(Grit, Grit)>,
    /// Why.
    pub reason: String,
    /// The rule that says so, where one of [`rules`] does.
    pub rule: Option<&'static Rule>,
    /// Key of the source.
    pub source: &'static str,
    /// Standing of the verdict.
    pub status: Status,
}

/// How a class is judged, and what it becomes for the coat after it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClassMap {
    /// The class.
    pub class: FinishClass,
    /// The class whose column of the table answers for it; none for [`FinishClass::Unknown`].
    judged_as: String,
    /// The surface it shows when dry.
    pub surface_when_dry: FoundSurface,
    /// The surface it shows when cured.
    pub surface_when_cured: FoundSurface,
}

/// A rule of thumb or of a handbook on what goes over what.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its number, `C01` to `C28`.
    pub id: String,
    /// Its name: kebab-case words that stay.
    pub name: String,
    /// When it applies.
    pub when: String,
    /// What to do then.
    pub then: String,
    /// Why.
    pub why: String,
    /// Key of the source.
    pub source: String,
    /// Standing of the rule.
    pub status: Status,
}

#[derive(Debug, Deserialize)]
struct Cell {
    found: FoundSurface,
    new: String,
    verdict: Verdict,
    source: String,
    status: Status,
}

#[derive(Debug, Deserialize)]
struct VerdictText {
    verdict: Verdict,
    preparation: String,
    /// What to do instead on a surface without a film to scuff.
    #[serde(default)]
    without_film: Option<String>,
    #[serde(default)]
    scuff: Vec<Grit>,
    reason: String,
}

#[derive(Debug, Deserialize)]
struct Exception {
    found: Vec<FoundSurface>,
    new: Vec<String>,
    #[serde(default)]
    rule: Option<String>,
    reason: String,
}

#[derive(Debug, Deserialize)]
struct Texts {
    verdict: Vec<VerdictText>,
    because: Vec<Exception>,
}

#[derive(Debug, Deserialize)]
struct Rules {
    rule: Vec<Rule>,
}

fn cells() -> &'static [Cell] {
    static CELLS: OnceLock<Vec<Cell>> = OnceLock::new();
    CELLS.get_or_init(|| csv_rows("compat_matrix.csv", include_str!("../data/compat_matrix.csv")))
}

fn texts() -> &'static Texts {
    static TEXTS: OnceLock<Texts> = OnceLock::new();
    TEXTS.get_or_init(|| toml_rows("compat_texts.toml", include_str!("../data/compat_texts.toml")))
}

fn class_maps() -> &'static [ClassMap] {
    static MAPS: OnceLock<Vec<ClassMap>> = OnceLock::new();
    MAPS.get_or_init(|| csv_rows("compat_class_map.csv", include_str!("../data/compat_class_map.csv")))
}

/// The rules, in order of their numbers.
pub fn rules() -> &'static [Rule] {
    static RULES: OnceLock<Rules> = OnceLock::new();
    &RULES
        .get_or_init(|| toml_rows("compat_rules.toml", include_str!("../data/compat_rules.toml")))
        .rule
}

/// The rule with this number (`C05`) or name (`waterborne-over-smooth-alkyd`).
pub fn rule(id: &str) -> Option<&'static Rule> {
    rules().iter().find(|rule| rule.id == id || rule.name == id)
}

/// How a class is judged and what it becomes.
pub fn class_map(class: FinishClass) -> &'static ClassMap {
    &class_maps()[class as usize]
}

/// The verdict on `new` over `found`.
///
/// [`FinishClass::Unknown`] as the new class answers [`Verdict::Never`]: what nobody knows cannot be chosen.
pub fn verdict(found: FoundSurface, new: FinishClass) -> &'static Judgement {
    static ALL: OnceLock<Vec<Judgement>> = OnceLock::new();
    let all = ALL.get_or_init(|| {
        FoundSurface::EVERY
            .iter()
            .flat_map(|found| FinishClass::EVERY.iter().map(|new| judge(*found, *new)))
            .collect()
    });
    &all[found as usize * FinishClass::EVERY.len() + new as usize]
}

fn judge(found: FoundSurface, new: FinishClass) -> Judgement {
    let judged_as = class_map(new).judged_as.as_str();
    let Some(cell) = cells().iter().find(|cell| cell.found == found && cell.new == judged_as) else {
        return Judgement {
            found,
            new,
            verdict: Verdict::Never,
            preparation: "name the class first",
            scuff: None,
            reason: "a finish that nobody has identified cannot be chosen".to_owned(),
            rule: None,
            source: "common-practice",
            status: Status::CommonPractice,
        };
    };
    let text = texts()
        .verdict
        .iter()
        .find(|text| text.verdict == cell.verdict)
        .expect("a test covers every verdict with a text");
    let because = texts()
        .because
        .iter()
        .find(|entry| entry.found.contains(&found) && entry.new.iter().any(|class| class == judged_as));
    Judgement {
        found,
        new,
        verdict: cell.verdict,
        preparation: preparation(text, found),
        scuff: text.scuff.first().copied().zip(text.scuff.last().copied()),
        reason: because.map_or_else(|| text.reason.clone(), |entry| entry.reason.clone()),
        rule: because.and_then(|entry| entry.rule.as_deref()).and_then(rule),
        source: &cell.source,
        status: cell.status,
    }
}

/// The preparation of a verdict: a stain or bare wood has no film to scuff, and must not be cut through.
fn preparation(text: &'static VerdictText, found: FoundSurface) -> &'static str {
    let has_no_film = matches!(
        found,
        FoundSurface::BareWood
            | FoundSurface::BareWoodTanninKnot
            | FoundSurface::OilStainUncured
            | FoundSurface::DyeStainDry
            | FoundSurface::DryingOilUncured
    );
    match &text.without_film {
        Some(other) if has_no_film => other,
        _ => &text.preparation,
    }
}

/// How many found surfaces and new classes the table itself holds, before classes are judged as one another: 25 by 21.
pub fn table_size() -> (usize, usize) {
    let judged = FinishClass::CHOOSABLE
        .iter()
        .map(|class| class_map(*class).judged_as.as_str());
    (
        FoundSurface::EVERY.len(),
        judged.collect::<std::collections::BTreeSet<_>>().len(),
    )
}

/// Number of verdicts the table holds.
pub fn table_len() -> usize {
    cells().len()
}
