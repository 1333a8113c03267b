//! From the surfaces of a form to the measured area of each zone.
//!
//! A zone takes the surfaces that it names; one that names none takes those which its own name means; and a zone whose name
//! means nothing takes whatever no other zone has taken.

use std::collections::BTreeSet;

use quantity::Area;
use takeoff::quantities::Share;
use takeoff::{Surface, TakeOff, take_off};
use trade::methods::Detail;

use super::failure::PlanRefusal;
use super::form::form_of;
use super::steps::MeasuredZone;
use crate::model::{FormKind, Piece, Zone};

/// Error of an area that the user measured, as a share of it.
const GIVEN_AREA_SE: f64 = 0.03;

/// A piece as measured.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Measured {
    /// One for each zone of the piece, in order.
    pub(crate) zones: Vec<MeasuredZone>,
    /// All zones and all pieces alike together, m².
    pub(crate) area_m2: f64,
    /// Standard error of that, m².
    pub(crate) area_se_m2: f64,
    /// What was taken for granted.
    pub(crate) assumed: Vec<String>,
}

/// The zones that a form proposes, by name; one zone where the form cannot be measured.
pub(crate) fn default_zones(piece: &Piece) -> Vec<String> {
    match form_of(&piece.form) {
        Ok(form) => {
            let zones = take_off(&form).zones();
            let names = zones
                .iter()
                .filter(|zone| zone.zone != takeoff::DefaultZone::Hardware)
                .map(|zone| zone.zone.id().to_owned());
            names.collect()
        }
        Err(_) => vec!["body".to_owned()],
    }
}

/// The surfaces of each zone of a piece, by id, in the order of the zones: what the drawing colours.
///
/// # Errors
/// What of the form or of a zone's surfaces cannot be used.
pub fn surfaces_of(piece: &Piece) -> Result<Vec<Vec<String>>, Vec<PlanRefusal>> {
    let form = form_of(&piece.form).map_err(|refused| {
        vec![PlanRefusal {
            piece: piece.name.clone(),
            zone: None,
            field: format!("piece \"{}\", form", piece.name),
            found: refused.found,
            limit: refused.limit,
            right: refused.right,
            in_file: None,
        }]
    })?;
    let measured = take_off(&form);
    let mut refusals = Vec::new();
    let mut taken = BTreeSet::new();
    let mut by_zone: Vec<Option<Vec<String>>> = Vec::new();
    for zone in &piece.zones {
        match named_surfaces(&measured, zone) {
            Ok(surfaces) => {
                if let Some(ids) = &surfaces {
                    taken.extend(ids.iter().cloned());
                }
                by_zone.push(surfaces);
            }
            Err(unknown) => {
                refusals.push(unknown_surface(piece, zone, &unknown));
                by_zone.push(Some(Vec::new()));
            }
        }
    }
    let rest: Vec<String> = measured
        .surfaces
        .iter()
        .filter(|surface| surface.usual && !taken.contains(&surface.id))
        .map(|surface| surface.id.clone())
        .collect();
    // The zone that names nothing known takes the rest; "body" takes, beside its own, what no zone has named.
    let mut rest = Some(rest);
    let mut zones = Vec::new();
    for (zone, surfaces) in piece.zones.iter().zip(by_zone) {
        let ids = match surfaces {
            Some(mut ids) => {
                if zone.of.is_empty() && zone.name == "body" {
                    let more: Vec<String> = rest.take().unwrap_or_default();
                    ids.extend(more.into_iter().filter(|id| !is_hardware(&measured, id)));
                }
                ids
            }
            None => rest.take().unwrap_or_default(),
        };
        if ids.is_empty() && zone.area.is_none() && refusals.is_empty() {
            refusals.push(nothing_left(piece, zone));
        }
        zones.push(ids);
    }
    if refusals.is_empty() { Ok(zones) } else { Err(refusals) }
}

fn is_hardware(measured: &TakeOff, id: &str) -> bool {
    measured
        .surfaces
        .iter()
        .any(|surface| surface.id == id && surface.zone == takeoff::DefaultZone::Hardware)
}

/// The surfaces that a zone names itself; `None` if it names none and its own name means nothing here.
fn named_surfaces(measured: &TakeOff, zone: &Zone) -> Result<Option<Vec<String>>, takeoff::UnknownSurface> {
    let ids = |surfaces: Vec<&Surface>| {
        surfaces
            .into_iter()
            .map(|surface| surface.id.clone())
            .collect::<Vec<_>>()
    };
    if !zone.of.is_empty() {
        return measured
            .find_all(zone.of.iter().map(String::as_str))
            .map(|surfaces| Some(ids(surfaces)));
    }
    Ok(measured.find(&zone.name).ok().map(ids))
}

fn unknown_surface(piece: &Piece, zone: &Zone, unknown: &takeoff::UnknownSurface) -> PlanRefusal {
    let nearest = unknown
        .nearest
        .as_ref()
        .map(|nearest| format!("nearest: {nearest}; "))
        .unwrap_or_default();
    PlanRefusal {
        piece: piece.name.clone(),
        zone: Some(zone.name.clone()),
        field: format!("piece \"{}\", zone \"{}\", of", piece.name, zone.name),
        found: unknown.word.clone(),
        limit: "this piece has no surface of this name".to_owned(),
        right: format!(
            "{nearest}one of {}",
            unknown.there_is.iter().take(20).cloned().collect::<Vec<_>>().join(", ")
        ),
        in_file: None,
    }
}

fn nothing_left(piece: &Piece, zone: &Zone) -> PlanRefusal {
    PlanRefusal {
        piece: piece.name.clone(),
        zone: Some(zone.name.clone()),
        field: format!("piece \"{}\", zone \"{}\"", piece.name, zone.name),
        found: "no surface".to_owned(),
        limit: "a zone has at least one surface of the form, or an area of its own".to_owned(),
        right: "of = [\"…\"] with surfaces that no other zone has, or area = \"2 ft2\"".to_owned(),
        in_file: None,
    }
}

/// Measures a piece.
///
/// # Errors
/// What of the form or of a zone's surfaces cannot be used.
pub(crate) fn measure(piece: &Piece) -> Result<Measured, Vec<PlanRefusal>> {
    let count = f64::from(piece.count);
    let all_given = piece.zones.iter().all(|zone| zone.area.is_some());
    if piece.form.kind == FormKind::Mesh && all_given {
        let zones: Vec<MeasuredZone> = piece
            .zones
            .iter()
            .filter_map(|zone| zone.area.map(|area| given(area, count)))
            .collect();
        return Ok(total(zones, Vec::new()));
    }
    let surfaces = surfaces_of(piece)?;
    let form = form_of(&piece.form).map_err(|_| Vec::new())?;
    let taken_off = take_off(&form);
    let zones = piece
        .zones
        .iter()
        .zip(&surfaces)
        .map(|(zone, ids)| {
            let measured = of_surfaces(&taken_off, ids, count);
            match zone.area {
                Some(area) => MeasuredZone {
                    area_m2: area.m2() * count,
                    area_se_m2: area.m2() * count * GIVEN_AREA_SE,
                    ..measured
                },
                None => measured,
            }
        })
        .collect();
    let mut measured = total(zones, Vec::new());
    if piece.zones.iter().all(|zone| zone.area.is_none()) {
        let ids: Vec<&str> = surfaces.iter().flatten().map(String::as_str).collect();
        measured.area_se_m2 = taken_off.area_se_of(ids).m2() * count;
    }
    if let Some(next) = taken_off.next_measurement()
        && next.se_now.m2() > 0.1 * measured.area_m2 / count
    {
        measured.assumed.push(format!(
            "{}: the {} was not given and is as such a piece usually has it; measuring it would make the area surest",
            piece.name, next.dimension
        ));
    }
    Ok(measured)
}

fn given(area: Area, count: f64) -> MeasuredZone {
    let area_m2 = area.m2() * count;
    // A square of this area: all that is known of its edges.
    MeasuredZone {
        area_m2,
        area_se_m2: area_m2 * GIVEN_AREA_SE,
        shares: Vec::new(),
        edge_m: 4.0 * area_m2.sqrt(),
        detail: Detail::Flat,
    }
}

fn total(zones: Vec<MeasuredZone>, assumed: Vec<String>) -> Measured {
    let area_m2 = zones.iter().map(|zone| zone.area_m2).sum();
    let variance: f64 = zones.iter().map(|zone| zone.area_se_m2.powi(2)).sum();
    Measured {
        zones,
        area_m2,
        area_se_m2: variance.sqrt(),
        assumed,
    }
}

fn of_surfaces(measured: &TakeOff, ids: &[String], count: f64) -> MeasuredZone {
    let of: Vec<&Surface> = measured
        .surfaces
        .iter()
        .filter(|surface| ids.contains(&surface.id))
        .collect();
    let area: Area = of.iter().map(|surface| surface.area).sum();
    let edge_m: f64 = of.iter().map(|surface| surface.edge.m()).sum();
    // The detail that most of the area has.
    let weight = |detail: takeoff::Detail| {
        of.iter()
            .filter(|surface| surface.detail == detail)
            .map(|surface| surface.area.m2())
            .sum::<f64>()
    };
    let most = takeoff::Detail::ALL
        .into_iter()
        .fold((takeoff::Detail::Flat, 0.0), |best, detail| {
            let weight = weight(detail);
            if weight > best.1 { (detail, weight) } else { best }
        });
    MeasuredZone {
        area_m2: area.m2() * count,
        area_se_m2: measured.area_se_of(ids.iter().map(String::as_str)).m2() * count,
        shares: of.iter().map(|surface| Share::from(*surface)).collect(),
        edge_m: edge_m * count,
        detail: detail(most.0),
    }
}

fn detail(detail: takeoff::Detail) -> Detail {
    match detail {
        takeoff::Detail::Flat => Detail::Flat,
        takeoff::Detail::Interior => Detail::CaseInterior,
        takeoff::Detail::Moulded => Detail::Moulded,
        takeoff::Detail::Carved => Detail::Carved,
        takeoff::Detail::Turned => Detail::Turned,
        takeoff::Detail::Slatted | takeoff::Detail::Woven => Detail::Slatted,
    }
}
