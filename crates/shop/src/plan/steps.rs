//! From a zone and its wish to the work on it: the good schedules, the one that is planned, and its steps.

use finish::{FinishingSchedule, Limits, NoSchedule, RoomAir, Step};
use quantity::Money;
use takeoff::quantities::Share;
use trade::finish_rows::{DryModel as TableModel, Group};
use trade::methods::Detail;
use trade::{FinishClass, Material, Operation};

use super::air::whole_minutes;
use super::choose;
use super::drying;
use super::failure::PlanRefusal;
use super::output::{Because, BuildUp, Layer, SafeSchedule, ScheduleChoice, Sum};
use super::own;
use super::risk;
use super::work::{WaitKind, WorkStep, WorkWait, WorkZone};
use crate::model::{Made, Overruled, Piece, Settings, ShelfProduct, Shop, Zone};

/// A zone as measured.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MeasuredZone {
    /// Developed area of all pieces alike together, m².
    pub(crate) area_m2: f64,
    /// Standard error of that area, m².
    pub(crate) area_se_m2: f64,
    /// The area by detail, all pieces alike together; only the proportions count.
    pub(crate) shares: Vec<Share>,
    /// Length of its edges, m.
    pub(crate) edge_m: f64,
    /// How detailed it is.
    pub(crate) detail: Detail,
}

/// The work on one zone, with what the finish crate said of its steps for the cautions.
pub(crate) struct PlannedWork {
    pub(crate) zone: WorkZone,
    /// The zone as the finish crate saw it.
    pub(crate) finish_zone: finish::Zone,
    /// The steps as the finish crate gave them, one for each step of the work.
    pub(crate) finish_steps: Vec<Step>,
    /// The warnings that the user goes on in spite of.
    pub(crate) consents: Vec<Consent>,
    /// What the check says of the chosen schedule.
    pub(crate) notes: Vec<finish::Finding>,
    /// Minutes that taking this zone off the piece takes, where it comes off.
    pub(crate) remove_min: u32,
    /// Minutes that putting it back takes.
    pub(crate) refit_min: u32,
    /// Set when the schedule that the user chose no longer exists.
    pub(crate) lost_choice: Option<String>,
}

/// A warning that the user goes on in spite of, at its step of the work.
#[derive(Debug, Clone)]
pub(crate) struct Consent {
    /// The step, from 0 within the zone.
    pub(crate) step_idx: usize,
    pub(crate) finding: finish::Finding,
    pub(crate) consent: Overruled,
}

/// The derived schedules of a zone, and the one of them that is taken where the user has none of their own.
pub(crate) struct Derived {
    /// All of them; never empty.
    schedules: Vec<FinishingSchedule>,
    /// The one of them that holds whatever a guessed layer is, where there is one.
    safe_idx: Option<usize>,
    chosen_idx: usize,
    /// Set when the schedule that the user chose no longer exists.
    lost_choice: Option<String>,
}

impl Derived {
    /// The one that is taken.
    pub(crate) fn chosen(&self) -> &FinishingSchedule {
        &self.schedules[self.chosen_idx]
    }

    /// The one that holds whatever a guessed layer is, by its key and its words.
    fn safe(&self) -> Option<SafeSchedule> {
        let schedule = &self.schedules[self.safe_idx?];
        let words = schedule.best_at.iter().map(|best| best.label()).chain([SAFE]);
        Some(SafeSchedule {
            key: choose::key(schedule),
            words: words.collect::<Vec<_>>().join(", "),
        })
    }
}

/// Derives the schedules of a zone.
///
/// # Errors
/// That no schedule meets the wish, with what would free it.
pub(crate) fn derive(
    shop: &Shop,
    piece: &Piece,
    zone: &Zone,
    measured: &MeasuredZone,
    air: RoomAir,
) -> Result<Derived, Box<NoSchedule>> {
    let wish = wish_of(zone);
    let found = zone_as_found(piece, zone, measured);
    let limits = limits_of(shop, zone, air);
    let mut schedules = finish::plan(&found, &wish, &limits)?;
    if schedules.is_empty() {
        return Err(Box::new(NoSchedule {
            zone: zone.name.clone(),
            wish: wish.look.label().to_owned(),
            against: "everything that was tried".to_owned(),
            findings: Vec::new(),
            releases: Vec::new(),
        }));
    }
    let prefer = piece.prefer.unwrap_or(shop.settings.prefer);
    let by_weight = choose::by_weight(&schedules, prefer);
    let planned = risk::Planned {
        zone: &found,
        wish: &wish,
        limits: &limits,
        guesses: &risk::guesses(zone),
    };
    let safe_idx = planned.safe(by_weight, &mut schedules);
    let by_user = zone.chosen.as_deref().map(|chosen| choose::by_name(&schedules, chosen));
    Ok(Derived {
        chosen_idx: by_user.flatten().unwrap_or(by_weight),
        safe_idx,
        lost_choice: zone.chosen.clone().filter(|_| by_user == Some(None)),
        schedules,
    })
}

/// What the schedule is called that holds whatever a guessed layer is.
const SAFE: &str = "safe whatever is on it";

/// Why a zone has no plan.
pub(crate) enum NoZonePlan {
    /// Nothing meets its wish.
    NoSchedule(Box<NoSchedule>),
    /// The user's own schedule cannot be planned.
    Refused(Vec<PlanRefusal>),
}

/// Plans one zone: with the user's own schedule where there is one, else with the derived one that was chosen.
///
/// # Errors
/// That no schedule meets the wish, or what stands in the way of the user's own.
pub(crate) fn plan_zone(
    shop: &Shop,
    piece: &Piece,
    zone: &Zone,
    measured: &MeasuredZone,
    air: RoomAir,
) -> Result<PlannedWork, NoZonePlan> {
    let finish_zone = zone_as_found(piece, zone, measured);
    let derived = derive(shop, piece, zone, measured, air);
    let (wish, limits) = (wish_of(zone), limits_of(shop, zone, air));
    let guesses = risk::guesses(zone);
    let risks = |steps: &[Step]| {
        let planned = risk::Planned {
            zone: &finish_zone,
            wish: &wish,
            limits: &limits,
            guesses: &guesses,
        };
        planned.risks(steps, shop.settings.currency)
    };
    let Some(own) = &zone.own else {
        let derived = derived.map_err(NoZonePlan::NoSchedule)?;
        let choices = choices(Some(&derived), None, &shop.settings);
        let chosen = &derived.schedules[derived.chosen_idx];
        let risks = risks(&chosen.steps);
        let mut work = work_of(shop, piece, zone, measured, finish_zone, chosen, choices);
        work.zone.risks = risks;
        work.zone.safe = derived.safe();
        work.lost_choice = derived.lost_choice;
        return Ok(work);
    };
    let judged = own::judged(zone, &finish_zone, &limits, own);
    let refusals = own::refusals(piece, zone, &judged);
    if !refusals.is_empty() {
        return Err(NoZonePlan::Refused(refusals));
    }
    let choices = choices(derived.as_ref().ok(), Some(&judged.schedule), &shop.settings);
    let risks = risks(&judged.schedule.steps);
    let mut work = work_of(shop, piece, zone, measured, finish_zone, &judged.schedule, choices);
    work.zone.own = true;
    work.zone.risks = risks;
    work.zone.safe = derived.ok().and_then(|derived| derived.safe());
    work.notes.retain(|note| note.severity == finish::Severity::Note);
    work.consents = consents(&judged, &work.zone.steps);
    Ok(work)
}

/// Every schedule of a zone with the planned one marked; the user's own stands first.
fn choices(derived: Option<&Derived>, own: Option<&FinishingSchedule>, settings: &Settings) -> Vec<ScheduleChoice> {
    let own_choice = own.map(|schedule| ScheduleChoice {
        key: OWN_KEY.to_owned(),
        best_at: vec!["your own".to_owned()],
        ..choice(schedule, true, settings)
    });
    let derived = derived.into_iter().flat_map(|derived| {
        let is_chosen = move |idx: usize| own.is_none() && idx == derived.chosen_idx;
        let each = derived.schedules.iter().enumerate();
        each.map(move |(idx, schedule)| {
            let mut choice = choice(schedule, is_chosen(idx), settings);
            if derived.safe_idx == Some(idx) {
                choice.best_at.push(SAFE.to_owned());
            }
            choice
        })
    });
    own_choice.into_iter().chain(derived).collect()
}

/// The key of the user's own schedule among those of a zone.
const OWN_KEY: &str = "own";

/// The warnings that are gone on in spite of, each at its step; one of the end at the last step.
fn consents(own: &own::OwnSchedule, work: &[WorkStep]) -> Vec<Consent> {
    // Steps of the piece as a whole are not among the work: what was found at one of them stands at the next step that is.
    let mut place_of = Vec::new();
    let mut place = 0;
    for step in &own.schedule.steps {
        place_of.push(place);
        place += usize::from(!own::is_of_the_whole(step));
    }
    let last = work.len().saturating_sub(1);
    own.judged
        .iter()
        .filter_map(|judged| Some((judged, judged.consent.as_ref()?)))
        .map(|(judged, consent)| Consent {
            step_idx: judged.finding.step.map_or(last, |step_idx| {
                place_of.get(step_idx).copied().unwrap_or(last).min(last)
            }),
            finding: judged.finding.clone(),
            consent: consent.clone(),
        })
        .collect()
}

/// The work of a schedule.
fn work_of(
    shop: &Shop,
    piece: &Piece,
    zone: &Zone,
    measured: &MeasuredZone,
    finish_zone: finish::Zone,
    chosen: &FinishingSchedule,
    schedules: Vec<ScheduleChoice>,
) -> PlannedWork {
    let mut steps = Vec::new();
    let mut finish_steps = Vec::new();
    let (mut remove_min, mut refit_min) = (0, 0);
    for step in &chosen.steps {
        match step.operation {
            // What comes off comes off once for the whole piece, before anything else, and goes back last.
            Operation::RemoveHardware => remove_min += step.hands_on_min,
            Operation::RefitHardware => refit_min += step.hands_on_min,
            _ => {
                steps.push(work_step(piece, zone, step, steps.len(), &shop.shelf));
                finish_steps.push(step.clone());
            }
        }
    }
    let last_coat = steps.iter().rev().find_map(|step: &WorkStep| step.coats_with());
    PlannedWork {
        zone: WorkZone {
            name: zone.name.clone(),
            area_m2: measured.area_m2,
            substrate: zone.substrate.label(),
            comes_off: comes_off(zone),
            own: false,
            risks: Vec::new(),
            safe: None,
            schedules,
            build_up: build_up(zone, chosen),
            materials: Money::from_minor(chosen.measures.materials_minor),
            handle_min: last_coat.map_or(0, handle_min),
            cure_min: last_coat.map_or(0, |class| drying::waits_of(class).cure_min),
            cure_model: last_coat.map_or(climate::DryModel::Reactive, drying::cure_model_of),
            steps,
        },
        notes: chosen.notes.clone(),
        consents: Vec::new(),
        finish_zone,
        finish_steps,
        remove_min,
        refit_min,
        lost_choice: None,
    }
}

/// Whether a zone is taken off the piece to be worked on: as the user says; otherwise metal that is not the frame of it.
pub(crate) fn comes_off(zone: &Zone) -> bool {
    use trade::Substrate;
    let is_hardware = ["hardware", "pulls", "handles", "knobs", "hinges"]
        .iter()
        .any(|word| zone.name.contains(word));
    let is_metal = matches!(
        zone.substrate,
        Substrate::Brass | Substrate::Steel | Substrate::Iron | Substrate::Aluminium | Substrate::PlatedMetal
    );
    zone.comes_off.unwrap_or(is_hardware && is_metal)
}

/// Minutes in the reference air until a coat may be handled: light use by the table, twice the recoat time where it has none.
fn handle_min(class: FinishClass) -> u32 {
    let waits = drying::waits_of(class);
    let light = class
        .row()
        .light_use_d
        .and_then(|days| u32::try_from(whole_minutes(days * 1440.0)).ok());
    light
        .unwrap_or_else(|| waits.recoat_min.max(waits.touch_min).saturating_mul(2))
        .min(waits.cure_min)
}

/// The zone as the finish crate knows it.
pub(crate) fn zone_as_found(piece: &Piece, zone: &Zone, measured: &MeasuredZone) -> finish::Zone {
    let made = match piece.made {
        Made::Unknown => finish::Made::default(),
        Made::Year(year) => finish::Made {
            from: Some(i32::from(year)),
            to: Some(i32::from(year)),
        },
        Made::Decade(year) => finish::Made {
            from: Some(i32::from(year)),
            to: Some(i32::from(year) + 9),
        },
        Made::Before(year) => finish::Made {
            from: None,
            to: Some(i32::from(year) - 1),
        },
        Made::After(year) => finish::Made {
            from: Some(i32::from(year)),
            to: None,
        },
    };
    let soundness = if zone.state.contains(&finish::Condition::Flaking) {
        finish::Soundness::Flaking
    } else if zone.state.contains(&finish::Condition::Worn) {
        finish::Soundness::Worn
    } else {
        finish::Soundness::Sound
    };
    finish::Zone {
        name: zone.name.clone(),
        substrate: zone.substrate,
        found: zone
            .found
            .iter()
            .map(|layer| finish::FoundLayer {
                coats: Some(layer.coats),
                age_d: layer.age.map(|age| age_d(age.get())),
                soundness: layer.soundness.unwrap_or(soundness),
                ..finish::FoundLayer::of(layer.class)
            })
            .collect(),
        conditions: zone.state.clone(),
        contaminants: zone.contaminants.clone(),
        defects: zone
            .defects
            .iter()
            .map(|defect| finish::Defect {
                kind: defect.kind,
                count: defect.count,
                depth_mm: defect.depth.map(quantity::Length::mm),
            })
            .collect(),
        area_m2: measured.area_m2.max(0.0001),
        area_se_m2: measured.area_se_m2.max(0.0),
        shares: measured.shares.clone(),
        edge_m: measured.edge_m.max(0.0),
        detail: measured.detail,
        made,
        lead: zone.lead.said,
        use_: bears(piece.used_for, comes_off(zone)),
        removable: comes_off(zone),
    }
}

/// Minutes as days.
#[expect(clippy::cast_precision_loss, reason = "an age is far below 2^53 minutes")]
fn age_d(age_min: i64) -> f64 {
    age_min as f64 / 1440.0
}

/// What a zone has to stand: pulls and hinges bear hands, not plates and not sitting.
fn bears(used_for: finish::Use, is_hardware: bool) -> finish::Use {
    use finish::Use;
    match used_for {
        Use::Desk | Use::Seat | Use::Dining | Use::Kitchen if is_hardware => Use::Bedroom,
        other => other,
    }
}

/// The wish as the finish crate knows it.
pub(crate) fn wish_of(zone: &Zone) -> finish::Wish {
    let wish = &zone.wish;
    let mut without = wish.without.clone();
    without.sort();
    without.dedup();
    finish::Wish {
        look: wish.look,
        colour: wish.colour.as_deref().and_then(rgb),
        sheen: wish.sheen,
        strip: wish.strip.unwrap_or(false),
        class: wish.class,
        product: wish.product.clone(),
        coats: wish.coats,
        without,
        distress: wish.distress,
        glaze: wish.glaze,
    }
}

/// The three bytes of `#rrggbb`.
fn rgb(colour: &str) -> Option<[u8; 3]> {
    let figures = colour
        .strip_prefix('#')
        .filter(|figures| figures.len() == 6 && figures.is_ascii())?;
    let byte = |at: usize| u8::from_str_radix(&figures[at..at + 2], 16).ok();
    Some([byte(0)?, byte(2)?, byte(4)?])
}

/// What the shop brings to a zone.
pub(crate) fn limits_of(shop: &Shop, zone: &Zone, air: RoomAir) -> Limits {
    let settings = &shop.settings;
    let hides = super::hide::coats(zone, shop.shelf.iter().filter(|product| serves(product, zone)));
    let per_hour = settings
        .wage_per_h
        .minor()
        .saturating_add(settings.overhead_per_h.minor());
    Limits {
        has_spray_gun: settings.tools.spray_gun,
        by_hand: settings.equipment.by_hand,
        sprayer: settings.equipment.sprayer,
        cup_loss_ml: settings.equipment.cup_loss.map(|loss| loss.ml()),
        disc_share: settings.equipment.disc_share(),
        has_sander: settings.tools.sander,
        has_heat: settings.tools.heat_gun,
        air: Some(air),
        labour_minor_per_min: as_f64(per_hour) / 60.0,
        prices: Vec::new(),
        supply_prices: shop
            .supplies
            .iter()
            .map(|held| (held.what, held.price_minor_each()))
            .collect(),
        products: shop
            .shelf
            .iter()
            .filter(|product| serves(product, zone))
            .map(product)
            .collect(),
        coats_to_hide: hides.usual,
        coats_to_hide_with: hides.with,
        never: FinishClass::CHOOSABLE
            .iter()
            .copied()
            .filter(|class| is_left_out(*class, shop, zone))
            .collect(),
    }
}

/// Whether a class is left out because nobody asked for it: a hardener with isocyanate and an acid cure need air supply and
/// extraction that a small shop rarely has. A wish for the class or a product of it on the shelf brings it back.
fn is_left_out(class: FinishClass, shop: &Shop, zone: &Zone) -> bool {
    let row = class.row();
    let is_asked_for =
        zone.wish.class == Some(class) || shop.shelf.iter().any(|product| product.class.finish() == Some(class));
    (row.isocyanate || row.formaldehyde) && !is_asked_for
}

/// Whether a product may be used on a zone: one with a colour only where that colour is wished, or by name.
fn serves(product: &ShelfProduct, zone: &Zone) -> bool {
    if zone.wish.product.as_deref() == Some(product.name.as_str()) {
        return true;
    }
    let is_coloured = match product.class {
        Material::Finish(class) => matches!(class.row().group, Group::Paint | Group::Stain),
        Material::Prep(_) => false,
    };
    !is_coloured || product.colour.is_none() || product.colour == zone.wish.colour
}

fn product(product: &ShelfProduct) -> finish::Product {
    let label = &product.label;
    let read = |minutes: Option<quantity::Minutes>| minutes.and_then(|minutes| u32::try_from(minutes.get()).ok());
    let litres = product.size.litres();
    let per_litre = if litres > 0.0 {
        Money::nearest(as_f64(product.price.minor()) / litres).ok()
    } else {
        None
    };
    finish::Product {
        name: product.name.clone(),
        class: product.class,
        spread_m2_per_l: label.spread.map(quantity::Spread::m2_per_litre),
        volume_solids: label.solids,
        thinner_share: label.thinner,
        touch_min: read(label.dry),
        recoat_min_min: read(label.recoat_min),
        recoat_max_min: read(label.recoat_max),
        full_cure_min: read(label.cure),
        coats: label.coats,
        price_minor_per_l: per_litre.map(Money::minor),
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "sums of money stay far below 2^53 minor units"
)]
pub(crate) fn as_f64(minor: i64) -> f64 {
    minor as f64
}

fn work_step(piece: &Piece, zone: &Zone, step: &Step, step_idx: usize, shelf: &[ShelfProduct]) -> WorkStep {
    let class = step.finish();
    let is_coloured = class.is_some_and(|class| matches!(class.row().group, Group::Paint | Group::Stain));
    let own = step
        .product
        .as_ref()
        .and_then(|name| shelf.iter().find(|product| product.name == *name));
    WorkStep {
        id: format!(
            "{}.{}.{:02}-{}",
            piece.id,
            crate::model::slug(&zone.name),
            step_idx + 1,
            step.operation.id()
        ),
        operation: step.operation,
        material: step.material,
        product: step.product.clone(),
        colour: if is_coloured {
            // A can of the shelf has its own colour, said or not; what is bought new has the one that is wished.
            own.map_or_else(|| zone.wish.colour.clone(), |own| own.colour.clone())
        } else {
            None
        },
        grit: step.grit,
        coat: step.coat,
        hands_on_min: step.hands_on_min,
        pace: None,
        mixes: super::mix::mixes(step, own),
        quantity: step.quantity.clone(),
        supplies: step.supplies.clone(),
        wait: step.wait.map(work_wait),
        wet_min: step.tack_free_min.unwrap_or(0),
        because: because(step),
        cautions: Vec::new(),
        words: step.words(),
    }
}

/// Why a step is there; one of the user's own that no rule asks for says so.
fn because(step: &Step) -> Vec<Because> {
    if step.because.is_empty() {
        return vec![Because {
            rule: "put-in-by-hand".to_owned(),
            text: "You put this step in; no rule asks for it.".to_owned(),
            source: "common-practice".to_owned(),
        }];
    }
    let reasons = step.because.iter().map(|reason| Because {
        rule: reason.rule.clone(),
        text: reason.text.clone(),
        source: reason.source.clone(),
    });
    reasons.collect()
}

fn work_wait(wait: finish::Wait) -> WorkWait {
    WorkWait {
        kind: match wait.kind {
            finish::WaitKind::Dwell => WaitKind::Dwell,
            finish::WaitKind::Set => WaitKind::Set,
            finish::WaitKind::Dry => WaitKind::Dry,
            finish::WaitKind::Recoat => WaitKind::Recoat,
            finish::WaitKind::Cure => WaitKind::Cure,
        },
        min_min: wait.min_min,
        max_min: wait.max_min,
        or_after_min: wait.or_after_min,
        model: wait.model.map(|model| match model {
            TableModel::Oxidative => climate::DryModel::Oxidative,
            TableModel::Reactive => climate::DryModel::Reactive,
            TableModel::Waterborne => climate::DryModel::Waterborne,
            TableModel::Solvent => climate::DryModel::Solvent,
        }),
    }
}

fn choice(schedule: &FinishingSchedule, is_chosen: bool, settings: &Settings) -> ScheduleChoice {
    ScheduleChoice {
        key: choose::key(schedule),
        best_at: schedule.best_at.iter().map(|best| best.label().to_owned()).collect(),
        cost: Sum::new(Money::from_minor(schedule.measures.cost_minor), settings.currency),
        hands_on_min: schedule.measures.hands_on_min,
        elapsed_h: (f64::from(schedule.measures.elapsed_min) / 6.0).round() / 10.0,
        wear: f64::from(schedule.measures.wear),
        exposure: f64::from(schedule.measures.exposure),
        chosen: is_chosen,
        outline: schedule.steps.iter().map(Step::words).collect(),
    }
}

/// The layers before and after. What a chemical, a blade, a machine or heat takes off is all of the old finish; what a
/// wax remover takes off is the wax on top of it.
fn build_up(zone: &Zone, schedule: &FinishingSchedule) -> BuildUp {
    let found: Vec<Layer> = zone
        .found
        .iter()
        .map(|layer| self::layer(layer.class, layer.coats, layer.colour.clone()))
        .collect();
    let waxes = zone
        .found
        .iter()
        .rev()
        .take_while(|layer| layer.class == FinishClass::PasteWax)
        .count();
    let dewaxed = schedule.steps.iter().any(|step| step.operation == Operation::Dewax);
    let kept = if !schedule.keeps_old_finish {
        0
    } else if dewaxed {
        found.len() - waxes
    } else {
        found.len()
    };
    let mut coats: Vec<(FinishClass, u8)> = Vec::new();
    for step in schedule
        .steps
        .iter()
        .filter(|step| step.operation.is_coating() && step.operation != Operation::SpotPrime)
    {
        let Some(class) = step.finish() else { continue };
        match coats.last_mut() {
            Some(last) if last.0 == class => last.1 = last.1.saturating_add(1),
            _ => coats.push((class, 1)),
        }
    }
    let planned = coats.into_iter().map(|(class, coats)| {
        let is_coloured = matches!(class.row().group, Group::Paint | Group::Stain);
        self::layer(class, coats, if is_coloured { zone.wish.colour.clone() } else { None })
    });
    BuildUp {
        found,
        kept,
        planned: planned.collect(),
    }
}

fn layer(class: FinishClass, coats: u8, colour: Option<String>) -> Layer {
    let film_um = class.row().dry_film_um.map_or(0.0, |film| film.typical);
    Layer {
        class: (class != FinishClass::Unknown).then(|| class.id().to_owned()),
        words: class.label().to_owned(),
        coats,
        dry_film_um: (film_um * f64::from(coats)).round(),
        colour,
    }
}
