//! Lead: the gate that old paint has to pass, and how much of it the planned work would set free.
//!
//! The one idea: a finish that may be older than 1978 is taken for lead paint until a test says otherwise, and until then
//! nothing is done that turns it into dust or fume. The gate tells, it never clears: a test clears the spots it touched.

use trade::{FinishClass, Operation, law};

use crate::caution::{Caution, Level, Told, law_sentence};
use crate::facts::{Job, LeadTest, PieceFacts, Placement, StepFacts, ZoneFacts};
use crate::lead_test::{LeadAmount, TestKind};

/// Where a zone stands at the gate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gate {
    /// Nothing to test: too young, or nothing on it that could hold lead.
    Open,
    /// May hold lead, not tested.
    Untested,
    /// Tested, none found.
    NoneFound,
    /// Tested, lead found; by which kind of test and how much, where that was noted.
    Present(Option<TestKind>, Option<LeadAmount>),
}

/// Where a zone of a piece stands at the gate.
///
/// A tested zone stands where the test put it, whatever its age. Bare zones, and zones whose only layers are wax or oil, have
/// nothing to test; varnish and shellac do, since driers and pigments in them held lead too.
pub fn gate(piece: &PieceFacts, zone: &ZoneFacts) -> Gate {
    match zone.lead {
        LeadTest::NoneFound(_) => Gate::NoneFound,
        LeadTest::Present { by, amount } => Gate::Present(by, amount),
        LeadTest::NotTested if piece.made.may_carry_lead() && has_old_film(zone) => Gate::Untested,
        LeadTest::NotTested => Gate::Open,
    }
}

fn has_old_film(zone: &ZoneFacts) -> bool {
    zone.found.iter().any(|layer| {
        let row = layer.class.row();
        layer.coats > 0 && (row.forms_film || layer.class == FinishClass::Unknown)
    })
}

/// Lead on an area, grams: `area × loading`, at 10 000 cm² to the m².
///
/// # Examples
/// ```
/// // 2 m² at 1.0 mg/cm²: 20 g.
/// assert!((hazard::lead::mass_by_area_g(2.0, 1.0) - 20.0).abs() < 1e-9);
/// ```
pub fn mass_by_area_g(area_m2: f64, mg_per_cm2: f64) -> f64 {
    area_m2 * 1e4 * mg_per_cm2 / 1000.0
}

/// Lead in a dry film, grams: `area × thickness × density × share`, the density of old oil paint taken as 1.8 g/cm³ (common
/// practice; heavily leaded paint is denser).
///
/// # Examples
/// ```
/// // 2 m², 150 µm, 0.5 % by weight: 2.7 g.
/// assert!((hazard::lead::mass_by_weight_g(2.0, 150.0, 0.5) - 2.7).abs() < 1e-9);
/// ```
pub fn mass_by_weight_g(area_m2: f64, dry_film_um: f64, percent_by_weight: f64) -> f64 {
    const OLD_PAINT_G_PER_CM3: f64 = 1.8;
    let volume_cm3 = area_m2 * 1e4 * dry_film_um * 1e-4;
    volume_cm3 * OLD_PAINT_G_PER_CM3 * percent_by_weight / 100.0
}

/// Lead dust on the floor, µg a square foot, if a share of a mass settles on it evenly.
///
/// # Examples
/// ```
/// // A thousandth of 20 g on 20 m² (215 ft²): 93 µg/ft².
/// assert!((hazard::lead::floor_ug_per_ft2(20.0, 0.001, 20.0) - 92.9).abs() < 0.1);
/// ```
pub fn floor_ug_per_ft2(mass_g: f64, share: f64, floor_m2: f64) -> f64 {
    mass_g * 1e6 * share / (floor_m2 / 0.092_903_04)
}

/// Lead that taking the found layers off an area would set free, grams, and how it was reckoned.
///
/// Without a measured amount it is reckoned at the threshold of lead paint in housing, 1.0 mg/cm² (read in the rule): what is there may
/// be less, or many times more.
pub fn set_free_g(zone: &ZoneFacts, area_m2: f64) -> (f64, String) {
    let amount = match zone.lead {
        LeadTest::NoneFound(_) => return (0.0, "a test found none".to_owned()),
        LeadTest::Present { amount, .. } => amount,
        LeadTest::NotTested => None,
    };
    let mass_g = match amount {
        Some(LeadAmount::MgPerCm2(loading)) => mass_by_area_g(area_m2, loading),
        Some(LeadAmount::PercentByWeight(percent)) => mass_by_weight_g(area_m2, found_film_um(zone), percent),
        None => mass_by_area_g(area_m2, LeadAmount::THRESHOLD_MG_PER_CM2),
    };
    let how = match amount {
        Some(amount @ LeadAmount::MgPerCm2(_)) => format!("by the measured {}", amount.words()),
        Some(amount @ LeadAmount::PercentByWeight(_)) => format!(
            "by the measured {} and the usual film of the found layers, {:.0} µm",
            amount.words(),
            found_film_um(zone)
        ),
        None => {
            "at the threshold of lead paint, 1.0 mg/cm², as no amount was measured; it may be less, or many times more"
                .to_owned()
        }
    };
    (mass_g, how)
}

/// Dry thickness of the found layers, micrometres, at the typical film of each class.
pub fn found_film_um(zone: &ZoneFacts) -> f64 {
    zone.found
        .iter()
        .map(|layer| f64::from(layer.coats) * layer.class.row().dry_film_um.map_or(0.0, |film| film.typical))
        .sum()
}

/// Whether a step turns the old finish into dust or fume.
fn makes_dust_or_fume(step: &StepFacts) -> bool {
    let dry = !step.wet && (step.operation.is_dusty() || step.operation == Operation::Scrape);
    dry || step.operation == Operation::StripHeat
}

/// Whether a step disturbs the old finish at all.
fn disturbs(step: &StepFacts) -> bool {
    step.operation.is_stripping() || step.operation.is_dusty()
}

/// The cautions on lead.
pub(crate) fn tell(job: &Job, all: &mut Vec<Told>) {
    for (zone_idx, zone) in job.zones.iter().enumerate() {
        let steps = while_old_finish_is_on(job, zone_idx);
        match gate(&job.piece, zone) {
            Gate::Open => {}
            Gate::NoneFound => tell_none_found(zone, &steps, job, all),
            Gate::Untested => tell_untested(zone, &steps, job, all),
            Gate::Present(by, amount) => tell_present(zone, &found_words(by, amount), &steps, job, all),
        }
    }
    tell_set_free(job, all);
}

/// The steps of a zone during which its old finish is still there: up to and with the last one that strips it all.
fn while_old_finish_is_on(job: &Job, zone_idx: usize) -> Vec<usize> {
    let mine = job.steps_where(|step| step.zone == zone_idx);
    let stripped_by = mine.iter().rposition(|idx| job.steps[*idx].operation.is_stripping());
    match stripped_by {
        Some(last) => mine[..=last].to_vec(),
        None => mine,
    }
}

fn tell_none_found(zone: &ZoneFacts, steps: &[usize], job: &Job, all: &mut Vec<Told>) {
    let disturbing: Vec<usize> = steps.iter().copied().filter(|idx| disturbs(&job.steps[*idx])).collect();
    if disturbing.is_empty() || !job.piece.made.may_carry_lead() {
        return;
    }
    let LeadTest::NoneFound(kind) = zone.lead else { return };
    let limits = match kind {
        Some(kind) => format!("Tested by {}, none found; {}.", kind.label(), kind.row().cannot),
        None => "A test found none; which kind it was is not noted, and each has its blind spots: a swab reads only what it \
                 touched, a chip speaks for its spot."
            .to_owned(),
    };
    let coats: u32 = zone.found.iter().map(|layer| u32::from(layer.coats)).sum();
    let is_dusty = disturbing.iter().any(|idx| makes_dust_or_fume(&job.steps[*idx]));
    // A swab says nothing of the coats below the one it touched: before they become dust, that is more than a note.
    let level = if kind == Some(TestKind::Swab) && coats > 1 && is_dusty {
        Level::Warn
    } else {
        Level::Note
    };
    all.push(Told::steps(
        Caution {
            id: "lead-test-limits",
            level,
            text: format!("{}: {limits}", zone.name),
            ask: "the laboratory or inspector who tested",
            source: "common-practice",
        },
        disturbing,
    ));
}

fn tell_untested(zone: &ZoneFacts, steps: &[usize], job: &Job, all: &mut Vec<Told>) {
    let dusty: Vec<usize> = steps
        .iter()
        .copied()
        .filter(|idx| makes_dust_or_fume(&job.steps[*idx]))
        .collect();
    let disturbing: Vec<usize> = steps.iter().copied().filter(|idx| disturbs(&job.steps[*idx])).collect();
    let reason = "its finish may be from before 1978, so take it for lead paint until a test says otherwise";
    if dusty.is_empty() {
        all.push(Told::steps(
            Caution {
                id: "lead-untested",
                level: Level::Warn,
                text: format!(
                    "{}: {reason}. Test it before work starts: {}. Until then keep everything wet, keep children and pregnant \
                     people away, and eat and smoke elsewhere.",
                    zone.name,
                    tests_in_short()
                ),
                ask: "a laboratory, or a certified lead inspector",
                source: "law-table",
            },
            disturbing.clone(),
        ));
    } else {
        all.push(Told::steps(
            Caution {
                id: "lead-untested",
                level: Level::Stop,
                text: format!(
                    "{}: {reason}. No dry sanding, dry scraping or heat before a test. Test it ({}), or take the finish off with \
                     wet chemistry instead.",
                    zone.name,
                    tests_in_short()
                ),
                ask: "a laboratory, or a certified lead inspector",
                source: "law-table",
            },
            dusty,
        ));
    }
    tell_built_in(job, &disturbing, all);
}

/// What was found, by what, how that stands to what counts as lead paint, and what the test leaves open.
fn found_words(by: Option<TestKind>, amount: Option<LeadAmount>) -> String {
    let kind = by.map_or("which kind of test is not noted", TestKind::label);
    let open = by.map_or_else(String::new, |by| format!("; {}", by.row().found));
    let Some(amount) = amount else {
        return format!("a test found lead ({kind}; no amount is noted){open}");
    };
    let times = amount.of_threshold();
    let threshold = if times >= 1.0 {
        format!("{} times what counts as lead paint in housing", two_figures(times))
    } else {
        "less than what counts as lead paint in housing, and its dust is lead dust all the same".to_owned()
    };
    format!("a test found {} of lead ({kind}), {threshold}{open}", amount.words())
}

/// A number to two figures, or whole where it is larger.
fn two_figures(number: f64) -> String {
    if number < 9.95 {
        format!("{number:.1}")
    } else {
        format!("{number:.0}")
    }
}

fn tell_present(zone: &ZoneFacts, found: &str, steps: &[usize], job: &Job, all: &mut Vec<Told>) {
    let dusty: Vec<usize> = steps
        .iter()
        .copied()
        .filter(|idx| makes_dust_or_fume(&job.steps[*idx]))
        .collect();
    let disturbing: Vec<usize> = steps.iter().copied().filter(|idx| disturbs(&job.steps[*idx])).collect();
    if !dusty.is_empty() {
        all.push(Told::steps(
            Caution {
                id: "lead-made-to-dust",
                level: Level::Stop,
                text: format!(
                    "{}: {found}. This work turns it into dust or fume. Strip it wet with chemistry, send it to a firm \
                     that strips lead paint, or leave it and seal it in.",
                    zone.name
                ),
                ask: "a firm certified for lead work",
                source: "us-cfr-40-745-85",
            },
            dusty,
        ));
    }
    all.push(Told::steps(
        Caution {
            id: "lead-present",
            level: Level::Warn,
            text: format!(
                "{}: {found}. {}. Work wet on sheeting, away from home; wear disposable clothing, gloves and a fitted mask with \
                 fine-particle filters; clean with a fine-filter vacuum and wet wipes; wash before you eat; bag the waste and ask your \
                 waste authority about it.",
                zone.name,
                law_sentence("lead-paint-threshold")
            ),
            ask: "your state's lead programme and your waste authority",
            source: "us-cfr-40-745",
        },
        disturbing.clone(),
    ));
    tell_built_in(job, &disturbing, all);
}

/// How much lead the planned removal would set free in all, and what a trace of it does to a floor.
fn tell_set_free(job: &Job, all: &mut Vec<Told>) {
    let mut parts = Vec::new();
    let (mut total_g, mut steps) = (0.0, Vec::new());
    for (zone_idx, zone) in job.zones.iter().enumerate() {
        if !matches!(gate(&job.piece, zone), Gate::Untested | Gate::Present(..)) {
            continue;
        }
        let stripping = job.steps_where(|step| step.zone == zone_idx && step.operation.is_stripping());
        let area_m2 = stripping
            .iter()
            .map(|idx| job.steps[*idx].area_m2)
            .fold(0.0, f64::max)
            .min(zone.area_m2);
        if area_m2 <= 0.0 {
            continue;
        }
        let (mass_g, how) = set_free_g(zone, area_m2);
        parts.push(format!("{}, {area_m2:.1} m²: {mass_g:.1} g {how}", zone.name));
        total_g += mass_g;
        steps.extend(stripping);
    }
    if parts.is_empty() {
        return;
    }
    let floor = floor_ug_per_ft2(total_g, 0.001, job.room.floor_m2);
    let text = format!(
        "The planned removal sets lead free ({}). A thousandth of it left on this floor would be about {floor:.0} µg on each square foot. {}.",
        parts.join("; "),
        law_sentence("lead-dust-levels")
    );
    let ask = "a laboratory, for a wipe of the floor after the work";
    all.push(Told::steps(
        Caution {
            id: "lead-set-free",
            level: Level::Note,
            text,
            ask,
            source: "us-cfr-40-745",
        },
        steps,
    ));
}

fn tell_built_in(job: &Job, disturbing: &[usize], all: &mut Vec<Told>) {
    if job.piece.placement == Placement::BuiltIn && !disturbing.is_empty() {
        all.push(Told::steps(
            Caution {
                id: "lead-built-in",
                level: Level::Stop,
                text: format!(
                    "The piece is part of the house. Paid work on old paint in homes and places for children is reserved to certified \
                     firms: {}.",
                    shown_law("renovation-rule")
                ),
                ask: "a firm certified under the renovation rule",
                source: "us-cfr-40-745",
            },
            disturbing.to_vec(),
        ));
    }
}

fn shown_law(name: &str) -> String {
    law::by_name(name).map_or_else(String::new, law::LawRow::shown)
}

fn tests_in_short() -> String {
    let labels: Vec<&str> = TestKind::EVERY.iter().map(|kind| kind.label()).collect();
    labels.join(", ")
}
