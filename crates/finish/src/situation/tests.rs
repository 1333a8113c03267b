//! What a rule looks at is in the situation: nothing can be forgotten.
//!
//! The states that schedules of random zones come through are changed in one thing at a time: each trait of the surface, of the
//! step, of the zone, of the wish and of the shop. Where a rule then answers otherwise, the situation of its finding must be
//! another, or a consent would go on covering what nobody consented to. The structs are taken apart field by field, so that a new
//! field does not compile until it is changed here too.

use super::*;
use crate::effect::{BLOCKED, apply};
use crate::limits::{CoatsToHide, Limits, RoomAir};
use crate::object::{at_end, object};
use crate::plan::plan;
use crate::rule::Hits;
use crate::surface::{Clock, um};
use crate::wish::{Look, Sheen, Wish, Without};
use crate::zone::{Condition, Contaminant, Defect, DefectKind, FoundLayer, LeadTest, Made, Soundness, Zone};
use std::collections::BTreeMap;
use trade::methods::{Detail, Method};
use trade::{FinishClass, Grit, Material, Operation, Species, Substrate};

#[path = "../../tests/it/random_zones.rs"]
#[allow(dead_code, reason = "shared with the tests over random zones, which use all of it")]
mod random_zones;

const ZONES: usize = 120;

/// Everything a rule can look at.
#[derive(Clone)]
struct Case {
    zone: Zone,
    wish: Wish,
    limits: Limits,
    surface: Surface,
    act: Option<Act>,
}

impl Case {
    fn bench(&self) -> Bench<'_> {
        Bench::new(&self.zone, &self.wish, &self.limits)
    }
}

fn answers(case: &Case, bench: &Bench<'_>) -> Hits {
    match &case.act {
        Some(act) => object(&case.surface, act, bench),
        None => at_end(&case.surface, bench),
    }
}

/// A change with its name.
type Change = (String, Box<dyn Fn(&mut Case)>);

fn change(name: impl Into<String>, change: impl Fn(&mut Case) + 'static) -> Change {
    (name.into(), Box::new(change))
}

/// One change for each field and each value of it that a rule may tell apart.
macro_rules! each {
    ($into:ident, $part:ident.$field:ident : $($value:expr),+ $(,)?) => {
        $( $into.push(change(
            concat!(stringify!($part.$field), " = ", stringify!($value)),
            |case: &mut Case| case.$part.$field = $value,
        )); )+
    };
}

fn surface_changes(surface: &Surface, bench: &Bench<'_>) -> Vec<Change> {
    let mut all = Vec::new();
    let Surface {
        layers: _,
        len: _,
        wax: _,
        silicone: _,
        grease: _,
        nicotine: _,
        residue: _,
        softened: _,
        flaking: _,
        half_stripped: _,
        patchy: _,
        loose: _,
        open_defects: _,
        wax_filled: _,
        proud: _,
        glue_smeared: _,
        scratch_um: _,
        film_scratch_um: _,
        keyed: _,
        dusty: _,
        raised: _,
        raised_before: _,
        blocked: _,
        dyed: _,
        knot_coats: _,
        conditioned: _,
        pores_filled: _,
        bleached: _,
        stained: _,
        glazed: _,
        distressed: _,
        hardware_off: _,
        refitted: _,
        masked: _,
        cut_through: _,
        loss_um: _,
        top_age_min: _,
        drying: _,
        setting: _,
        wiped_age_min: _,
        bare_age_min: _,
    } = surface;
    each!(all, surface.wax: true, false);
    each!(all, surface.silicone: 0, 1, 2);
    each!(all, surface.grease: true, false);
    each!(all, surface.nicotine: 0, 1, 2);
    each!(all, surface.residue: Residue::None, Residue::Stripper, Residue::Alkali, Residue::Acid, Residue::Cleaner);
    each!(all, surface.softened: 0, 1, 3);
    each!(all, surface.flaking: true, false);
    each!(all, surface.half_stripped: true, false);
    each!(all, surface.patchy: true, false);
    each!(all, surface.loose: true, false);
    each!(all, surface.open_defects: true, false);
    each!(all, surface.wax_filled: true, false);
    each!(all, surface.proud: true, false);
    each!(all, surface.glue_smeared: true, false);
    each!(all, surface.keyed: true, false);
    each!(all, surface.dusty: true, false);
    each!(all, surface.raised: true, false);
    each!(all, surface.raised_before: true, false);
    each!(all, surface.blocked: 0, 1, BLOCKED);
    each!(all, surface.dyed: true, false);
    each!(all, surface.knot_coats: 0, 1, 2);
    each!(all, surface.conditioned: true, false);
    each!(all, surface.pores_filled: true, false);
    each!(all, surface.bleached: true, false);
    each!(all, surface.stained: true, false);
    each!(all, surface.glazed: true, false);
    each!(all, surface.distressed: true, false);
    each!(all, surface.hardware_off: true, false);
    each!(all, surface.refitted: true, false);
    each!(all, surface.masked: true, false);
    each!(all, surface.cut_through: true, false);
    each!(all, surface.loss_um: 0, 120, 260, 600);
    each!(all, surface.drying: Clock::default(), Clock::start(60));
    each!(all, surface.setting: Clock::default(), Clock::start(60));
    each!(all, surface.wiped_age_min: 0, 29, 31, 9_000);
    each!(all, surface.bare_age_min: 0, 14 * 24 * 60 + 1);
    for grit in [
        Grit::P60,
        Grit::P80,
        Grit::P100,
        Grit::P120,
        Grit::P150,
        Grit::P180,
        Grit::P220,
        Grit::P320,
    ] {
        all.push(change(format!("scratch {grit}"), move |case| {
            case.surface.scratch_um = um(grit)
        }));
        all.push(change(format!("film scratch {grit}"), move |case| {
            case.surface.film_scratch_um = um(grit)
        }));
    }
    each!(all, surface.scratch_um: 0, crate::surface::ROUGH_UM);
    each!(all, surface.film_scratch_um: 0);
    ages(surface, bench, &mut all);
    layers(surface, &mut all);
    all
}

fn ages(surface: &Surface, bench: &Bench<'_>, all: &mut Vec<Change>) {
    let mut ages = vec![0, 24 * 60 - 1, 24 * 60, u32::MAX / 4];
    if let Some(top) = surface.top() {
        let figures = bench.figures(top.class);
        let limits = [
            Some(figures.recoat_min),
            figures.window_min,
            Some(figures.light_min),
            Some(figures.cure_min),
        ];
        for limit in limits.into_iter().flatten() {
            ages.extend([limit.saturating_sub(1), limit, limit + 1]);
        }
    }
    for age in ages {
        all.push(change(format!("top age {age} min"), move |case| {
            case.surface.top_age_min = age
        }));
    }
}

fn layers(surface: &Surface, all: &mut Vec<Change>) {
    for at in 0..surface.layers().len() {
        for class in FinishClass::EVERY {
            all.push(change(format!("layer {at} is {class}"), move |case| {
                case.surface.layers[at].class = *class
            }));
        }
        for coats in [1, 2, 3, 4, 9] {
            all.push(change(format!("layer {at} has {coats} coats"), move |case| {
                case.surface.layers[at].coats = coats;
            }));
        }
        // A film is worn to a trace and no further; what builds none never has one.
        let films: &[u16] = if surface.layers()[at].dry_um > 0 {
            &[1, 10, 30, 60, 120, 300]
        } else {
            &[]
        };
        for dry_um in films.iter().copied() {
            all.push(change(format!("layer {at} is {dry_um} µm"), move |case| {
                case.surface.layers[at].dry_um = dry_um;
            }));
        }
        all.push(change(format!("layer {at} found or not"), move |case| {
            let layer = &mut case.surface.layers[at];
            layer.found = !layer.found;
        }));
        all.push(change(format!("layer {at} hides or not"), move |case| {
            let layer = &mut case.surface.layers[at];
            layer.opaque = !layer.opaque;
        }));
    }
    all.push(change("outermost layer gone", |case| {
        case.surface.len = case.surface.len.saturating_sub(1)
    }));
    for class in [
        FinishClass::ShellacPrimer,
        FinishClass::DewaxedShellac,
        FinishClass::AlkydEnamel,
    ] {
        all.push(change(format!("{class} on top"), move |case| {
            case.surface.add_coat(class, 25, true)
        }));
    }
}

fn act_changes(act: &Act) -> Vec<Change> {
    // What a step takes is no rule's matter.
    let Act {
        op: _,
        material: _,
        grit: _,
        method: _,
        wet: _,
        hands_on_min: _,
        wait_kind: _,
        wait_min: _,
        wait_max: _,
        wait_or_after: _,
    } = act;
    let mut all = Vec::new();
    let mut on_act = |name: String, set: fn(&mut Act)| {
        all.push(change(name, move |case| case.act.as_mut().into_iter().for_each(set)));
    };
    on_act("wet".to_owned(), |act| act.wet = true);
    on_act("dry".to_owned(), |act| act.wet = false);
    on_act("by brush".to_owned(), |act| act.method = Some(Method::Brush));
    on_act("by gun".to_owned(), |act| act.method = Some(Method::Hvlp));
    on_act("by can".to_owned(), |act| act.method = Some(Method::AerosolCan));
    on_act("by pad".to_owned(), |act| act.method = Some(Method::Pad));
    for op in Operation::EVERY {
        all.push(change(format!("to {op}"), move |case| {
            case.act.as_mut().into_iter().for_each(|act| act.op = *op);
        }));
    }
    for material in Material::every() {
        all.push(change(format!("with {material}"), move |case| {
            case.act
                .as_mut()
                .into_iter()
                .for_each(|act| act.material = Some(material));
        }));
    }
    for grit in [Grit::P60, Grit::P100, Grit::P120, Grit::P180, Grit::P220, Grit::P320] {
        all.push(change(format!("by {grit}"), move |case| {
            case.act.as_mut().into_iter().for_each(|act| act.grit = Some(grit));
        }));
    }
    all
}

fn zone_changes(zone: &Zone) -> Vec<Change> {
    let Zone {
        name: _,
        substrate: _,
        // Of what was found a rule sees the surface; that anything was there at all, by the factory's sanding.
        found: _,
        conditions: _,
        contaminants: _,
        defects: _,
        area_m2: _,
        area_se_m2: _,
        shares: _,
        edge_m: _,
        detail: _,
        made: _,
        lead: _,
        use_: _,
        removable: _,
    } = zone;
    let mut all = Vec::new();
    for substrate in Substrate::every() {
        all.push(change(format!("of {substrate}"), move |case| {
            case.zone.substrate = substrate
        }));
    }
    each!(all, zone.substrate: Substrate::Solid(Species::Rosewood), Substrate::Wicker);
    each!(all, zone.edge_m: 0.0, 3.0);
    each!(all, zone.area_m2: 0.1, 3.0);
    each!(all, zone.removable: true, false);
    each!(all, zone.made: Made::since(2000), Made::default());
    for lead in LeadTest::EVERY {
        all.push(change(format!("lead {lead}"), move |case| case.zone.lead = *lead));
    }
    for detail in Detail::EVERY {
        all.push(change(format!("{detail}"), move |case| case.zone.detail = *detail));
    }
    for use_ in Use::EVERY {
        all.push(change(format!("for {use_}"), move |case| case.zone.use_ = *use_));
    }
    for condition in Condition::EVERY {
        all.push(change(format!("{condition}"), move |case| {
            case.zone.conditions.push(*condition)
        }));
    }
    each!(all, zone.conditions: Vec::new());
    for contaminant in Contaminant::EVERY {
        all.push(change(format!("with {contaminant} on it"), move |case| {
            case.zone.contaminants.push(*contaminant);
        }));
    }
    for kind in DefectKind::EVERY {
        for depth_mm in [None, Some(0.5), Some(2.5), Some(4.0), Some(20.0)] {
            all.push(change(format!("one {kind} of {depth_mm:?} mm"), move |case| {
                case.zone.defects = vec![Defect {
                    kind: *kind,
                    count: 1,
                    depth_mm,
                }];
            }));
        }
    }
    each!(all, zone.defects: Vec::new());
    for class in [
        FinishClass::AlkydEnamel,
        FinishClass::OilBasedPolyurethane,
        FinishClass::PasteWax,
        FinishClass::WaxedShellac,
    ] {
        for soundness in Soundness::EVERY {
            all.push(change(format!("found {soundness} {class}"), move |case| {
                case.zone.found = vec![FoundLayer {
                    soundness: *soundness,
                    ..FoundLayer::of(class)
                }];
            }));
        }
    }
    each!(all, zone.found: Vec::new());
    all
}

fn wish_changes(wish: &Wish) -> Vec<Change> {
    let Wish {
        look: _,
        colour: _,
        sheen: _,
        strip: _,
        class: _,
        product: _,
        coats: _,
        without: _,
        distress: _,
        glaze: _,
    } = wish;
    let mut all = Vec::new();
    for look in Look::EVERY {
        all.push(change(format!("look {look}"), move |case| case.wish.look = *look));
    }
    each!(all, wish.colour: None, Some([245, 240, 228]), Some([40, 52, 61]));
    each!(all, wish.sheen: None);
    for sheen in Sheen::EVERY {
        all.push(change(format!("sheen {sheen}"), move |case| {
            case.wish.sheen = Some(*sheen)
        }));
    }
    each!(all, wish.strip: true, false);
    each!(all, wish.class: None);
    for class in FinishClass::CHOOSABLE {
        all.push(change(format!("wish for {class}"), move |case| {
            case.wish.class = Some(*class)
        }));
    }
    each!(all, wish.coats: None, Some(1), Some(2), Some(4));
    each!(all, wish.without: Vec::new(), Without::EVERY.to_vec());
    for without in Without::EVERY {
        all.push(change(format!("without {without}"), move |case| {
            case.wish.without = vec![*without]
        }));
    }
    each!(all, wish.distress: true, false);
    each!(all, wish.glaze: true, false);
    all
}

fn limit_changes(limits: &Limits) -> Vec<Change> {
    let Limits {
        has_spray_gun: _,
        by_hand: _,
        sprayer: _,
        cup_loss_ml: _,
        disc_share: _,
        has_sander: _,
        has_heat: _,
        air: _,
        labour_minor_per_min: _,
        prices: _,
        supply_prices: _,
        products: _,
        coats_to_hide: _,
        coats_to_hide_with: _,
        never: _,
    } = limits;
    let mut all = Vec::new();
    for (warmest_c, driest_rh) in [(8.0, 0.5), (12.0, 0.5), (22.0, 0.5), (22.0, 0.9)] {
        all.push(change(format!("at best {warmest_c} °C, {driest_rh}"), move |case| {
            case.limits.air = Some(RoomAir { warmest_c, driest_rh });
        }));
    }
    each!(all, limits.has_spray_gun: true, false);
    each!(all, limits.has_sander: true, false);
    each!(all, limits.has_heat: true, false);
    each!(all, limits.air: None);
    let hides = |coats| CoatsToHide {
        over_found: coats,
        over_primer: coats,
    };
    each!(all, limits.coats_to_hide: None);
    all.push(change("hidden by 2", move |case| {
        case.limits.coats_to_hide = Some(hides(2))
    }));
    all.push(change("hidden by 5", move |case| {
        case.limits.coats_to_hide = Some(hides(5))
    }));
    all.push(change("each class hides by 4", move |case| {
        case.limits.coats_to_hide_with = FinishClass::EVERY.iter().map(|class| (*class, hides(4))).collect();
    }));
    each!(all, limits.never: Vec::new(), FinishClass::EVERY.to_vec());
    for (name, label) in [
        (
            "labels of one coat",
            (|can| can.coats = Some(1)) as fn(&mut crate::Product),
        ),
        ("labels of four coats", |can| can.coats = Some(4)),
        ("labels of a slow recoat", |can| can.recoat_min_min = Some(3_000)),
        ("labels of a short window", |can| can.recoat_max_min = Some(30)),
        ("labels of a slow cure", |can| can.full_cure_min = Some(90_000)),
        ("labels of a quick cure", |can| can.full_cure_min = Some(60)),
    ] {
        all.push(change(name, move |case| {
            case.limits.products = FinishClass::EVERY.iter().map(|class| can(*class, label)).collect();
        }));
    }
    all
}

/// A can whose label says one thing.
fn can(class: FinishClass, label: fn(&mut crate::Product)) -> crate::Product {
    let mut can = crate::Product {
        name: class.label().to_owned(),
        class: Material::Finish(class),
        spread_m2_per_l: None,
        volume_solids: None,
        thinner_share: None,
        touch_min: None,
        recoat_min_min: None,
        recoat_max_min: None,
        full_cure_min: None,
        coats: None,
        price_minor_per_l: None,
    };
    label(&mut can);
    can
}

/// Every state that the zone's schedules come through, each with the step taken there; and each schedule's end.
fn cases(zone: &Zone, wish: &Wish, limits: &Limits) -> Vec<Case> {
    let bench = Bench::new(zone, wish, limits);
    let mut all = Vec::new();
    for schedule in plan(zone, wish, limits).unwrap_or_default().iter().take(2) {
        let mut surface = Surface::found(&bench);
        let case = |surface: Surface, act| Case {
            zone: zone.clone(),
            wish: wish.clone(),
            limits: limits.clone(),
            surface,
            act,
        };
        for step in &schedule.steps {
            let act = Act::from(step);
            all.push(case(surface, Some(act)));
            surface = apply(&surface, &act, act.hands_on_min, &bench);
        }
        all.push(case(surface, None));
    }
    all
}

fn changes(case: &Case, bench: &Bench<'_>) -> Vec<Change> {
    let mut all = surface_changes(&case.surface, bench);
    if let Some(act) = &case.act {
        all.extend(act_changes(act));
    }
    all.extend(zone_changes(&case.zone));
    all.extend(wish_changes(&case.wish));
    all.extend(limit_changes(&case.limits));
    all
}

#[test]
fn where_a_rule_answers_otherwise_its_situation_is_another() {
    let mut generator = random_zones::Draw::seeded(3);
    let (mut told_apart, mut forgotten): (usize, BTreeMap<String, String>) = (0, BTreeMap::new());
    let mut seen = Hits::default();
    for _ in 0..ZONES {
        let (zone, wish, limits) = random_zones::draw(&mut generator);
        for case in cases(&zone, &wish, &limits) {
            let bench = case.bench();
            let before = answers(&case, &bench);
            for (name, set) in changes(&case, &bench) {
                let mut changed = case.clone();
                set(&mut changed);
                let other = changed.bench();
                let after = answers(&changed, &other);
                for rule in before.without(after).union(after.without(before)).iter() {
                    let then = situation(rule, &case.surface, case.act.as_ref(), &bench);
                    let now = situation(rule, &changed.surface, changed.act.as_ref(), &other);
                    told_apart += 1;
                    seen.add(rule);
                    if then == now {
                        forgotten.entry(format!("{rule}: {name}")).or_insert(then);
                    }
                }
            }
        }
    }
    assert!(
        forgotten.is_empty(),
        "{} are forgotten: {forgotten:#?}",
        forgotten.len()
    );
    assert!(
        told_apart > 100_000,
        "only {told_apart} answers changed: nothing was tested"
    );
    // What no single change of a sound state provokes is asked after by no other state either.
    let unseen: Vec<&str> = RuleId::EVERY
        .iter()
        .filter(|rule| !seen.has(**rule))
        .map(|rule| rule.id())
        .collect();
    assert!(
        unseen.len() <= UNSEEN.len() && unseen.iter().all(|rule| UNSEEN.contains(rule)),
        "no answer changed for {unseen:?}"
    );
}

/// Rules whose answer no single change turns.
const UNSEEN: &[&str] = &[];
