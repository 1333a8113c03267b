//! The bench: everything about a zone, a wish and a shop that stays the same while a schedule is worked out.
//!
//! Class figures are resolved once (the shelf's product over the class's row) so that the search reads plain numbers.

use std::sync::LazyLock;

use quantity::{Area, Spread};
use serde::Deserialize;
use takeoff::quantities::{Coating, Share};
use trade::finish_rows::{Carrier, DryModel, Group};
use trade::methods::{Detail, Method};
use trade::{FinishClass, Grit, Material, PrepClass, Species, Substrate};

use crate::limits::{Limits, Product};
use crate::wish::{Look, Sheen, Wish, Without};
use crate::zone::{Condition, Contaminant, DefectKind, Use, Zone};

/// How hard a class wears, the sheens it comes in, and a price to rank by. Judgement of the trade: common practice.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WearRow {
    class: FinishClass,
    wear: u8,
    sheens: String,
    outdoors: String,
    spray_only: String,
    price_minor_per_l: f64,
    #[expect(dead_code, reason = "the standing of the row is for the reader of the table")]
    status: trade::Status,
}

#[derive(Debug, Deserialize)]
struct PriceRow {
    class: PrepClass,
    price_minor_per_l: f64,
}

static WEAR: LazyLock<Vec<WearRow>> = LazyLock::new(|| {
    let mut wear: Vec<WearRow> = rows(include_str!("../data/wear.csv"));
    wear.sort_by_key(|row| row.class);
    wear
});
static PREP_PRICES: LazyLock<Vec<PriceRow>> = LazyLock::new(|| rows(include_str!("../data/prep_prices.csv")));

/// Share of the area that spots take.
const SPOT_SHARE: f64 = 0.05;

/// The rows of an embedded table.
pub(crate) fn rows<T: serde::de::DeserializeOwned>(text: &str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .expect("the crate's tests read every embedded table")
}

/// The figures of one class as the search reads them. Times at the reference air.
#[derive(Debug, Clone, Copy)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "plain properties of a class, read one by one"
)]
pub(crate) struct Figures {
    pub(crate) group: Group,
    pub(crate) model: DryModel,
    pub(crate) touch_min: u32,
    pub(crate) recoat_min: u32,
    pub(crate) window_min: Option<u32>,
    pub(crate) light_min: u32,
    pub(crate) cure_min: u32,
    pub(crate) dry_um: u16,
    pub(crate) max_total_um: Option<u16>,
    pub(crate) price_per_ml: f64,
    pub(crate) voc_g_per_ml: f64,
    pub(crate) coats: u8,
    pub(crate) wear: u8,
    pub(crate) waterborne: bool,
    pub(crate) film: bool,
    pub(crate) oxidises: bool,
    pub(crate) evaporates: bool,
    pub(crate) strong: bool,
    pub(crate) burns: bool,
    pub(crate) rags: bool,
    pub(crate) isocyanate: bool,
    pub(crate) formaldehyde: bool,
    pub(crate) spray_only: bool,
    pub(crate) outdoors: bool,
    pub(crate) air_suits: bool,
    pub(crate) sheen_suits: bool,
}

/// Minutes of so many hours, rounded up; 0 for what is not positive.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of the type"
)]
pub(crate) fn minutes(hours: f64) -> u32 {
    // A hair less than the product, so that 0.1 h is 6 minutes and not 7.
    (hours * 60.0 - 1e-6).ceil().clamp(0.0, 5_000_000.0) as u32
}

/// Whole micrometres of a film.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of the type"
)]
pub(crate) fn whole_um(film_um: f64) -> u16 {
    film_um.round().clamp(0.0, 60_000.0) as u16
}

/// What stays the same while one zone is planned or checked.
pub(crate) struct Bench<'a> {
    pub(crate) zone: &'a Zone,
    pub(crate) wish: &'a Wish,
    pub(crate) limits: &'a Limits,
    figures: Vec<Figures>,
    coatings: Vec<Coating>,
    /// The area by detail.
    pub(crate) shares: Vec<Share>,
    /// The part of it that spots take.
    pub(crate) spots: Vec<Share>,
    /// Standard error of the area over the area.
    pub(crate) area_error: f64,
    pub(crate) lead_suspect: bool,
    /// Whether the old clear finish, though no paint, is old enough to hold lead and was not cleared by a test.
    film_suspect: bool,
    pub(crate) light: bool,
    pub(crate) wear_needed: u8,
    pub(crate) fibrous: bool,
    pub(crate) metal: bool,
    pub(crate) thin_face: bool,
    pub(crate) oily_wood: bool,
    pub(crate) tannin: u8,
    pub(crate) resin: u8,
    pub(crate) blotch: u8,
    pub(crate) open_pores: bool,
    pub(crate) water_marked: bool,
    /// Kitchen grease or smoke, which only an alkaline cleaner or naphtha takes off.
    pub(crate) heavy_grime: bool,
}

impl<'a> Bench<'a> {
    pub(crate) fn new(zone: &'a Zone, wish: &'a Wish, limits: &'a Limits) -> Self {
        let figures = FinishClass::EVERY
            .iter()
            .map(|class| resolve(*class, wish, limits))
            .collect();
        let coatings = FinishClass::EVERY
            .iter()
            .map(|class| coating(*class, wish, limits))
            .collect();
        let shares = shares(zone);
        let substrate = zone.substrate;
        let thin_face = matches!(substrate, Substrate::Veneer(_) | Substrate::Plywood);
        Self {
            zone,
            wish,
            limits,
            figures,
            coatings,
            spots: scaled(&shares, SPOT_SHARE),
            shares,
            area_error: (zone.area_se_m2 / zone.area_m2).clamp(0.0, 1.0),
            lead_suspect: zone.is_lead_suspect(),
            film_suspect: zone.is_film_suspect(),
            light: wish.is_light(),
            wear_needed: wear_needed(zone),
            fibrous: substrate.is_fibrous(),
            metal: substrate.is_metal(),
            thin_face,
            oily_wood: matches!(substrate.species(), Some(Species::Teak | Species::Rosewood)),
            tannin: substrate.tannin(),
            resin: substrate.resin(),
            blotch: substrate.blotch(),
            open_pores: substrate.is_wood() && substrate.pores().are_open(),
            heavy_grime: is_heavily_soiled(zone) && !thin_face,
            water_marked: zone.conditions.contains(&Condition::WaterMarked),
        }
    }

    pub(crate) fn figures(&self, class: FinishClass) -> &Figures {
        &self.figures[class as usize]
    }

    /// One brushed coat of the class, with the label's figures over the class's.
    pub(crate) fn coating(&self, class: FinishClass) -> Coating {
        self.coatings[class as usize]
    }

    /// Whether work on this surface would disturb what may hold lead.
    pub(crate) fn lead_is_disturbed(&self, surface: &crate::surface::Surface) -> bool {
        self.lead_suspect || (self.film_suspect && surface.has_found_layers())
    }

    /// Whether the damage still open may wait for a wax stick over the finished film: small places that are seen, and neither get
    /// wet nor hot nor much rubbed.
    pub(crate) fn may_fill_with_wax(&self) -> bool {
        let seen = matches!(self.wish.look, Look::Clear | Look::Stain | Look::Wax);
        let calm = matches!(self.zone.use_, Use::Display | Use::Bedroom | Use::Desk);
        let most_mm = PrepClass::WaxStick.row().max_layer_mm.unwrap_or(0.0);
        let small = self.zone.defects.iter().all(|defect| {
            defect.kind.is_loose()
                || (matches!(
                    defect.kind,
                    DefectKind::Gouge | DefectKind::Dent | DefectKind::Chip | DefectKind::Hole
                ) && defect.depth_mm.unwrap_or(1.0) <= most_mm)
        });
        seen && calm && self.fibrous && small
    }

    /// Whether the class may be planned at all: not one the shop refuses, and its air, place and carrier allowed.
    pub(crate) fn may_use(&self, class: FinishClass) -> bool {
        class.is_choosable() && !self.limits.never.contains(&class)
    }

    /// The product of the shelf that stands for a material: the one the wish names, else the first of the class.
    pub(crate) fn product(&self, material: Material) -> Option<&'a Product> {
        product_of(material, self.wish, self.limits)
    }

    /// Price of a preparation material, minor units a millilitre.
    pub(crate) fn prep_price_per_ml(&self, class: PrepClass) -> f64 {
        listed_price(Material::Prep(class), self.wish, self.limits).unwrap_or_else(|| {
            PREP_PRICES
                .iter()
                .find(|row| row.class == class)
                .map_or(0.0, |row| row.price_minor_per_l)
        }) / 1000.0
    }

    /// The coarsest scratch the next coats cover: P150 under opaque primer, P180 under stain, P220 under a clear film.
    ///
    /// # Source
    /// `common-practice`: the stop rules of the abrasive table.
    pub(crate) fn finest_grit(&self) -> Grit {
        match self.wish.look {
            Look::Paint | Look::Metallic => Grit::P150,
            Look::Stain => Grit::P180,
            Look::Clear | Look::Wax => Grit::P220,
        }
    }

    /// How many coats of the class that gives the look are wanted. `over_primer` for paint on a primed surface.
    pub(crate) fn coats_wanted(&self, class: FinishClass, over_primer: bool) -> u8 {
        let usual = self.figures(class).coats;
        let gives_look = self.wish.class.is_none_or(|wished| wished == class) && gives_look(self.wish.look, class);
        if !gives_look {
            return usual;
        }
        if let Some(coats) = self.wish.coats {
            return coats.max(1);
        }
        usual.max(self.coats_to_hide(class, over_primer).unwrap_or(0))
    }

    /// How many coats of paint hide what is below, where that was worked out.
    pub(crate) fn coats_to_hide(&self, class: FinishClass, over_primer: bool) -> Option<u8> {
        if self.wish.look != Look::Paint {
            return None;
        }
        let own = self.limits.coats_to_hide_with.iter().find(|(with, _)| *with == class);
        own.map(|(_, hide)| *hide)
            .or(self.limits.coats_to_hide)
            .map(|hide| if over_primer { hide.over_primer } else { hide.over_found })
    }

    pub(crate) fn is_without(&self, what: Without) -> bool {
        self.wish.is_without(what)
    }

    /// Factor of detail for a row of five factors; flat is 1.
    pub(crate) fn detail(&self, moulded: f64, turned: f64, slatted: f64, carved: f64, interior: f64) -> f64 {
        match self.zone.detail {
            Detail::Flat => 1.0,
            Detail::Moulded => moulded,
            Detail::Turned => turned,
            Detail::Slatted => slatted,
            Detail::Carved => carved,
            Detail::CaseInterior => interior,
        }
    }
}

/// Whether what is found bears, and needs, more than a neutral cleaner. Shellac and aluminium do not bear it.
fn is_heavily_soiled(zone: &Zone) -> bool {
    let delicate =
        zone.substrate == Substrate::Aluminium || zone.found.last().is_some_and(|layer| layer.class.is_shellac());
    let soiled = zone
        .conditions
        .iter()
        .any(|is| matches!(is, Condition::Greasy | Condition::Smoky))
        || zone
            .contaminants
            .iter()
            .any(|is| matches!(is, Contaminant::Grease | Contaminant::Nicotine));
    soiled && !delicate
}

/// Whether a class, by itself, gives a look.
pub(crate) fn gives_look(look: Look, class: FinishClass) -> bool {
    let group = class.row().group;
    match look {
        Look::Paint => {
            (group == Group::Paint && class != FinishClass::AerosolMetallicEnamel)
                || class == FinishClass::TwoPartWaterbornePolyurethane
        }
        Look::Metallic => matches!(
            class,
            FinishClass::AerosolMetallicEnamel | FinishClass::RubOnMetallicWax
        ),
        Look::Clear | Look::Stain => is_clear_top(class),
        Look::Wax => class == FinishClass::PasteWax,
    }
}

/// Whether a class is a clear finish that may end a schedule: film, oil or shellac, not wax.
pub(crate) fn is_clear_top(class: FinishClass) -> bool {
    matches!(class.row().group, Group::Clear | Group::Oil)
        || matches!(
            class,
            FinishClass::DewaxedShellac | FinishClass::TwoPartWaterbornePolyurethane
        )
}

/// The wear a use asks, 1 to 5; hardware is handled wherever it sits. Common practice.
fn wear_needed(zone: &Zone) -> u8 {
    match zone.use_ {
        Use::Display => 1,
        Use::Bedroom if zone.removable => 3,
        Use::Bedroom => 2,
        Use::Desk | Use::Seat | Use::Nursery => 3,
        Use::Dining | Use::Kitchen | Use::Outdoors => 4,
    }
}

fn product_of<'a>(material: Material, wish: &Wish, limits: &'a Limits) -> Option<&'a Product> {
    let of_class = || limits.products.iter().filter(move |product| product.class == material);
    let named = wish
        .product
        .as_deref()
        .and_then(|name| of_class().find(|product| product.name == name));
    named.or_else(|| of_class().next())
}

#[expect(clippy::cast_precision_loss, reason = "prices are far below 2^52 minor units")]
fn listed_price(material: Material, wish: &Wish, limits: &Limits) -> Option<f64> {
    let product = product_of(material, wish, limits).and_then(|product| product.price_minor_per_l);
    let listed = || {
        limits
            .prices
            .iter()
            .find(|price| price.0 == material)
            .map(|price| price.1)
    };
    product.or_else(listed).map(|minor| minor as f64)
}

fn resolve(class: FinishClass, wish: &Wish, limits: &Limits) -> Figures {
    let row = class.row();
    let more = &WEAR[class as usize];
    let material = Material::Finish(class);
    let product = product_of(material, wish, limits);
    let recoat_h = row.recoat_min_h.typical;
    let air_suits = limits.air.is_none_or(|air| {
        row.temp_c.is_none_or(|(least, _)| air.warmest_c >= least) && air.driest_rh * 100.0 <= row.humidity_max_pct
    });
    let sheen_suits = wish.sheen.is_none_or(|sheen| comes_in(&more.sheens, sheen));
    let cure_h = row.full_cure_d.typical * 24.0;
    Figures {
        group: row.group,
        model: row.dry_model,
        touch_min: product
            .and_then(|p| p.touch_min)
            .unwrap_or_else(|| minutes(row.touch_h.typical)),
        recoat_min: product
            .and_then(|p| p.recoat_min_min)
            .unwrap_or_else(|| minutes(recoat_h)),
        window_min: product
            .and_then(|p| p.recoat_max_min)
            .or_else(|| row.recoat_window_h.map(minutes)),
        light_min: minutes(row.light_use_d.unwrap_or(row.full_cure_d.low) * 24.0),
        cure_min: product.and_then(|p| p.full_cure_min).unwrap_or_else(|| minutes(cure_h)),
        dry_um: row.dry_film_um.map_or(0, |film| whole_um(film.typical)),
        max_total_um: row.max_total_dry_um.map(whole_um),
        price_per_ml: listed_price(material, wish, limits).unwrap_or(more.price_minor_per_l) / 1000.0,
        voc_g_per_ml: row.voc_g_per_l.map_or(0.5, |voc| voc.typical / 1000.0),
        coats: product.and_then(|p| p.coats).unwrap_or(row.coats).max(1),
        wear: more.wear,
        waterborne: row.is_waterborne(),
        film: row.forms_film,
        oxidises: row.dry_model == DryModel::Oxidative,
        evaporates: row.cure.first() == Some(&trade::finish_rows::Cure::Evaporation) && row.cure.len() == 1,
        strong: matches!(row.carrier, Carrier::LacquerSolvents | Carrier::Aerosol),
        burns: row.burns(),
        rags: row.rags_self_heat,
        isocyanate: row.isocyanate,
        formaldehyde: row.formaldehyde,
        spray_only: more.spray_only == "yes",
        outdoors: more.outdoors == "yes",
        air_suits,
        sheen_suits,
    }
}

fn coating(class: FinishClass, wish: &Wish, limits: &Limits) -> Coating {
    let mut coating = Coating::of(class, Method::Brush, 1);
    let Some(product) = product_of(Material::Finish(class), wish, limits) else {
        return coating;
    };
    if let Some(volume_solids) = product.volume_solids {
        coating = coating.with_label_solids(volume_solids);
    }
    if let Some(spread) = product.spread_m2_per_l {
        coating = coating.with_label_spread(Spread::from_m2_per_litre(spread));
    }
    coating.thinned(product.thinner_share.unwrap_or(0.0))
}

/// The zone's area by detail, scaled to the area as measured.
fn shares(zone: &Zone) -> Vec<Share> {
    let told: f64 = zone.shares.iter().map(|share| share.area.m2()).sum();
    if told > 0.0 && told.is_finite() {
        scaled(&zone.shares, zone.area_m2 / told)
    } else {
        vec![Share {
            area: Area::from_m2(zone.area_m2),
            detail: zone.detail.into(),
        }]
    }
}

fn scaled(shares: &[Share], times: f64) -> Vec<Share> {
    let scaled = shares.iter().map(|share| Share {
        area: share.area * times,
        detail: share.detail,
    });
    scaled.collect()
}

fn comes_in(sheens: &str, sheen: Sheen) -> bool {
    sheens == "any" || sheens.split_whitespace().any(|word| word == sheen.id())
}

/// A typical price of a material, minor units a litre: to rank by, and to plan with where no shop's price is known (common practice).
#[must_use]
pub fn typical_price_minor_per_l(material: Material) -> f64 {
    match material {
        Material::Finish(class) => WEAR
            .iter()
            .find(|row| row.class == class)
            .map_or(0.0, |row| row.price_minor_per_l),
        Material::Prep(class) => PREP_PRICES
            .iter()
            .find(|row| row.class == class)
            .map_or(0.0, |row| row.price_minor_per_l),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_of_this_crate_cover_their_classes_in_order() {
        let classes: Vec<FinishClass> = WEAR.iter().map(|row| row.class).collect();
        assert_eq!(classes, FinishClass::EVERY);
        assert!(WEAR.iter().all(|row| (1..=5).contains(&row.wear)));
        assert!(
            PrepClass::EVERY
                .iter()
                .all(|class| PREP_PRICES.iter().any(|row| row.class == *class))
        );
    }

    #[test]
    fn tenth_of_an_hour_is_six_minutes() {
        assert_eq!((minutes(0.1), minutes(2.0), minutes(0.33)), (6, 120, 20));
    }
}
