//! Abrasives: the size of the grain, which grit follows which, how long a sheet lasts.
//!
//! Particle sizes are the mean sizes published for P grades; CAMI grades stand beside them for old stock. Sheet life and
//! working rates are common practice.

use std::sync::OnceLock;

use quantity::Range;
use serde::Deserialize;

use crate::Grit;
use crate::sources::Status;
use crate::table::{csv_rows, range, toml_rows, words};
use crate::vocabulary;

/// A P grade and the size of its grain.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GritRow {
    /// The grade.
    pub grit: Grit,
    /// Mean particle size, micrometres.
    pub particle_um: f64,
    /// The rounded size seen in a published table, where one was seen.
    pub read_rounded_um: Option<f64>,
    /// The CAMI grade nearest in size, where one is near.
    pub nearest_cami: Option<u32>,
    /// Whether the grade is sized by sieve or by sedimentation.
    pub sized_by: String,
    /// Key of the source.
    pub source: String,
    /// Standing of the size.
    pub status: Status,
}

/// A CAMI grade and the size of its grain.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CamiRow {
    /// The grade's number.
    pub cami: u32,
    /// Mean particle size, micrometres.
    pub particle_um: f64,
    /// Key of the source.
    pub source: String,
    /// Standing of the size.
    pub status: Status,
}

vocabulary! {
    /// What the sanding is for.
    SandingStep is "sanding step" {
        StripPaint = "strip-paint", "strip paint by machine";
        LevelBare = "level-bare", "level bare wood after stripping";
        BareBeforeStain = "bare-before-stain", "bare wood before stain";
        BareBeforeClear = "bare-before-clear", "bare wood before a clear film";
        BareBeforePrimer = "bare-before-primer", "bare wood before primer";
        RaiseGrain = "raise-grain", "raise the grain and cut it back";
        LevelFiller = "level-filler", "level filler";
        ScuffGloss = "scuff-gloss", "dull an old gloss";
        ScuffMetal = "scuff-metal", "scuff metal";
        BetweenPrimer = "between-primer", "between coats of primer";
        BetweenCoats = "between-coats", "between coats of colour or clear";
        RubOut = "rub-out", "rub out the last coat";
        ScuffLacquer = "scuff-lacquer", "scuff old lacquer";
    }
}

vocabulary! {
    /// What holds the sheet.
    SandingTool is "sanding tool" {
        Orbital = "orbital", "random-orbital sander with extraction";
        OrbitalThenHand = "orbital-then-hand", "random-orbital sander, then by hand with the grain";
        HandBlock = "hand-block", "block by hand";
        Pad = "pad", "foam or non-woven pad by hand";
        WetHand = "wet-hand", "wet by hand, then compound";
    }
}

/// A sanding step: which grits, with what, how fast.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SandingRow {
    /// The step.
    pub step: SandingStep,
    /// What it is for, in words.
    pub label: String,
    /// The grits in order, coarse to fine; the last one is the scratch it leaves.
    #[serde(deserialize_with = "words")]
    pub grits: Vec<Grit>,
    /// What holds the sheet.
    pub tool: SandingTool,
    /// Largest ratio of grain sizes between two grits of the sequence.
    pub max_ratio: Option<f64>,
    /// Area one disc or sheet lasts for.
    #[serde(deserialize_with = "range")]
    pub sheet_life_m2: Range<f64>,
    /// Area done in an hour, flat work, one pass through the sequence.
    #[serde(deserialize_with = "range")]
    pub rate_m2_per_h: Range<f64>,
    /// What to mind; may be empty.
    pub note: String,
    /// Key of the source.
    pub source: String,
    /// Standing of the row.
    pub status: Status,
}

/// Rules on sequences of grits and on where to stop.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GritRules {
    /// Ratio of grain sizes up to which the finer grit takes the coarser one's scratch out in good time.
    pub ideal_ratio: f64,
    /// Ratio beyond which a sequence is wrong: one grade skipped is usual, two are not.
    pub hard_ratio: f64,
    /// Finest grit before a penetrating stain: finer burnishes, and the stain comes out light.
    pub finest_before_stain: Grit,
    /// Finest useful grit before an opaque primer.
    pub finest_before_primer: Grit,
    /// Finest useful grit before a clear film.
    pub finest_before_clear: Grit,
    /// Coarsest grit for a machine on veneer.
    pub coarsest_on_veneer: Grit,
    /// Thickness of veneer, millimetres: thin modern, usual modern, and the least of old saw-cut.
    pub veneer_mm: [f64; 3],
    /// Key of the source.
    pub source: String,
    /// Standing of the rules.
    pub status: Status,
}

/// Every P grade, in the order of [`Grit::EVERY`].
pub fn grits() -> &'static [GritRow] {
    static ROWS: OnceLock<Vec<GritRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("p_grades.csv", include_str!("../data/p_grades.csv")))
}

/// Every CAMI grade of the table, coarse to fine.
pub fn cami() -> &'static [CamiRow] {
    static ROWS: OnceLock<Vec<CamiRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("cami_grades.csv", include_str!("../data/cami_grades.csv")))
}

/// Every sanding step, in the order of [`SandingStep::EVERY`].
pub fn steps() -> &'static [SandingRow] {
    static ROWS: OnceLock<Vec<SandingRow>> = OnceLock::new();
    ROWS.get_or_init(|| csv_rows("sanding_steps.csv", include_str!("../data/sanding_steps.csv")))
}

/// The rules on sequences.
pub fn rules() -> &'static GritRules {
    static RULES: OnceLock<GritRules> = OnceLock::new();
    RULES.get_or_init(|| toml_rows("grit_rules.toml", include_str!("../data/grit_rules.toml")))
}

impl SandingStep {
    /// The row of the step.
    pub fn row(self) -> &'static SandingRow {
        &steps()[self as usize]
    }
}
