//! The take-off itself: named surfaces with their areas, and how sure each is.
//!
//! Areas come from the form's geometry. Their standard errors come from the dimensions' own: the take-off is differentiated
//! numerically by each dimension, so it also knows which single further measurement would help most.

use quantity::{Area, Length};
use serde::Serialize;

use crate::names::UnknownSurface;
use crate::solid::{Model, Part, area_vector, exposed_flat};
use crate::{DefaultZone, Detail, Developed, Form, HowKnown};

/// How a surface lies while the piece stands: what may sag, run or gather dust.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    /// Most of it faces up: a coat flows out, dust settles.
    Level,
    /// Most of it stands: a heavy coat sags.
    Upright,
    /// Most of it faces the floor.
    Underneath,
    /// No direction leads.
    Mixed,
}

/// One named surface of a piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Surface {
    /// Kebab-case id, unique within the piece: `top`, `drawer-front-2`.
    pub id: String,
    /// The id as it is read.
    pub name: String,
    /// The zone it belongs to unless the user says otherwise.
    pub zone: DefaultZone,
    /// Whether such a piece is ordinarily finished there; insides, backs and undersides only on request.
    pub usual: bool,
    /// The developed area: what a coat has to cover.
    pub area: Area,
    /// Standard error of the area.
    pub area_se: Area,
    /// The area of the geometry, before the developed-area factor.
    pub outline: Area,
    /// All its edges, each once.
    pub edge: Length,
    /// How it is worked.
    pub detail: Detail,
    /// The factor from outline to area, with its source.
    pub developed: Developed,
    /// How it lies.
    pub orientation: Orientation,
}

/// What one dimension does to the areas.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Effect {
    name: &'static str,
    known: HowKnown,
    se_m: f64,
    /// Change of each surface's area with this dimension, m² a metre, in the order of the surfaces.
    slope_m: Vec<f64>,
}

/// The single further measurement that makes a take-off surest.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextMeasurement {
    /// The dimension to measure, in the form's own words: “leg thickness”.
    pub dimension: &'static str,
    /// How it is known now.
    pub known: HowKnown,
    /// The area's standard error now.
    pub se_now: Area,
    /// What it would be with that dimension read from a tape.
    pub se_then: Area,
}

/// Everything read from a form.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeOff {
    /// The surfaces in the order in which the form builds them.
    pub surfaces: Vec<Surface>,
    pub(crate) effects: Vec<Effect>,
}

/// One zone's part of a take-off.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ZoneTotal {
    /// The zone.
    pub zone: DefaultZone,
    /// Sum of its usual surfaces.
    pub area: Area,
    /// Standard error of the sum; dimensions that several surfaces share are counted together.
    pub area_se: Area,
    /// Sum of edges.
    pub edge: Length,
    /// The ids of its usual surfaces.
    pub surfaces: Vec<String>,
}

/// Reads every surface of a form.
///
/// ```
/// use quantity::Length;
/// use takeoff::{Form, FormKind, take_off};
/// let bench = Form::from_outline(
///     FormKind::Case,
///     Length::from_inches(42.0),
///     Length::from_inches(16.5),
///     Length::from_inches(19.0),
/// )
/// .expect("an ordinary size");
/// let top = take_off(&bench).find("lid").expect("every case has a top")[0].area;
/// assert!(top.m2() > 0.44 && top.m2() < 0.60);
/// ```
#[must_use]
pub fn take_off(form: &Form) -> TakeOff {
    let model = form.model();
    let outline = outlines_m2(&model);
    let edges = edges_m(&model);
    let lie = lies(&model);
    let effects = effects(form, &model);
    let mut surfaces: Vec<Surface> = model
        .surfaces
        .iter()
        .enumerate()
        .map(|(i, named)| Surface {
            id: named.id.clone(),
            name: named.id.replace('-', " "),
            zone: named.zone,
            usual: named.usual,
            area: Area::from_m2(outline[i] * named.developed.factor),
            area_se: Area::ZERO,
            outline: Area::from_m2(outline[i]),
            edge: Length::from_m(edges[i]),
            detail: named.detail,
            developed: named.developed,
            orientation: lie[i],
        })
        .collect();
    for (i, surface) in surfaces.iter_mut().enumerate() {
        surface.area_se = Area::from_m2(variance_m4(&[i], &effects, std::slice::from_ref(surface), i).sqrt());
    }
    TakeOff { surfaces, effects }
}

impl TakeOff {
    /// The area that is ordinarily finished: outside, without back and underside unless the form says so.
    #[must_use]
    pub fn area(&self) -> Area {
        self.surfaces.iter().filter(|s| s.usual).map(|s| s.area).sum()
    }

    /// Standard error of [`TakeOff::area`].
    #[must_use]
    pub fn area_se(&self) -> Area {
        self.se_of(&self.usual())
    }

    /// The zones that have usual surfaces, in the order of [`DefaultZone::ALL`].
    #[must_use]
    pub fn zones(&self) -> Vec<ZoneTotal> {
        DefaultZone::ALL
            .into_iter()
            .filter_map(|zone| {
                let of: Vec<usize> = self
                    .usual()
                    .into_iter()
                    .filter(|&i| self.surfaces[i].zone == zone)
                    .collect();
                (!of.is_empty()).then(|| ZoneTotal {
                    zone,
                    area: of.iter().map(|&i| self.surfaces[i].area).sum(),
                    area_se: self.se_of(&of),
                    edge: of.iter().map(|&i| self.surfaces[i].edge).sum(),
                    surfaces: of.iter().map(|&i| self.surfaces[i].id.clone()).collect(),
                })
            })
            .collect()
    }

    /// The surfaces that a word names: a surface's id, a zone, a group (`sides`, `fronts`, `all`) or an everyday alias
    /// (`lid`, `drawers`, `feet`); singular or plural, spaces or hyphens.
    ///
    /// # Errors
    /// When nothing of this piece has that name; the error lists what there is, and the nearest first.
    pub fn find(&self, word: &str) -> Result<Vec<&Surface>, UnknownSurface> {
        crate::names::find(self, word)
    }

    /// The surfaces that several words name together, each once, in the piece's order.
    ///
    /// # Errors
    /// As [`TakeOff::find`], for the first word that names nothing.
    pub fn find_all<'a>(&self, words: impl IntoIterator<Item = &'a str>) -> Result<Vec<&Surface>, UnknownSurface> {
        let mut ids = std::collections::BTreeSet::new();
        for word in words {
            ids.extend(self.find(word)?.into_iter().map(|s| s.id.as_str()));
        }
        Ok(self.surfaces.iter().filter(|s| ids.contains(s.id.as_str())).collect())
    }

    /// Standard error of the sum of some surfaces' areas; dimensions that they share are counted together. Ids that are
    /// not of this piece count nothing.
    #[must_use]
    pub fn area_se_of<'a>(&self, ids: impl IntoIterator<Item = &'a str>) -> Area {
        let places: Vec<usize> = ids
            .into_iter()
            .filter_map(|id| self.surfaces.iter().position(|s| s.id == id))
            .collect();
        self.se_of(&places)
    }

    /// Which dimension, read from a tape, would make the total surest; `None` when no tape would help.
    #[must_use]
    pub fn next_measurement(&self) -> Option<NextMeasurement> {
        let usual = self.usual();
        let now = variance_m4(&usual, &self.effects, &self.surfaces, 0);
        let tape = crate::Dimension::taped(Length::ZERO).standard_error.m();
        let best = self
            .effects
            .iter()
            .map(|effect| {
                let slope: f64 = usual.iter().map(|&i| effect.slope_m[i]).sum();
                let won = (slope * effect.se_m).powi(2) - (slope * tape.min(effect.se_m)).powi(2);
                (effect, won)
            })
            .max_by(|a, b| a.1.total_cmp(&b.1))?;
        (best.1 > 1e-12).then(|| NextMeasurement {
            dimension: best.0.name,
            known: best.0.known,
            se_now: Area::from_m2(now.sqrt()),
            se_then: Area::from_m2((now - best.1).max(0.0).sqrt()),
        })
    }

    fn usual(&self) -> Vec<usize> {
        (0..self.surfaces.len()).filter(|&i| self.surfaces[i].usual).collect()
    }

    fn se_of(&self, places: &[usize]) -> Area {
        Area::from_m2(variance_m4(places, &self.effects, &self.surfaces, 0).sqrt())
    }
}

/// Variance in m⁴ of the summed area of the surfaces at `places`: for each dimension the summed slope times its error, and
/// the errors of the developed-area factors, which are taken as one error for each kind of detail. `first` is the place
/// of the first of `surfaces`.
fn variance_m4(places: &[usize], effects: &[Effect], surfaces: &[Surface], first: usize) -> f64 {
    let from_dimensions: f64 = effects
        .iter()
        .map(|effect| (places.iter().map(|&i| effect.slope_m[i]).sum::<f64>() * effect.se_m).powi(2))
        .sum();
    let from_detail: f64 = Detail::ALL
        .into_iter()
        .map(|detail| {
            places
                .iter()
                .map(|&i| &surfaces[i - first])
                .filter(|s| s.detail == detail)
                .map(|s| s.outline.m2() * s.developed.standard_error)
                .sum::<f64>()
                .powi(2)
        })
        .sum();
    from_dimensions + from_detail
}

/// Central differences of every surface by every dimension, over a step of half a millimetre.
fn effects(form: &Form, model: &Model) -> Vec<Effect> {
    const STEP_M: f64 = 0.000_25;
    let dimensions = form.dimensions();
    dimensions
        .into_iter()
        .enumerate()
        .map(|(place, (name, dimension))| {
            let areas = |by: f64| outlines_m2(&form.with_dimension_moved(place, by).model());
            let (less, more) = (areas(-STEP_M), areas(STEP_M));
            let slope_m = (0..model.surfaces.len())
                .map(|i| match (less.get(i), more.get(i)) {
                    (Some(a), Some(b)) => (b - a) / (2.0 * STEP_M) * model.surfaces[i].developed.factor,
                    _ => 0.0,
                })
                .collect();
            Effect {
                name,
                known: dimension.known,
                se_m: dimension.standard_error.m().max(0.0),
                slope_m,
            }
        })
        .collect()
}

/// The area of each surface's geometry.
pub(crate) fn outlines_m2(model: &Model) -> Vec<f64> {
    let mut areas: Vec<f64> = model
        .surfaces
        .iter()
        .map(|named| named.measured_m2.unwrap_or(0.0))
        .collect();
    for open in exposed_flat(model) {
        areas[open.surface] += area_vector(&open.corners).size();
    }
    for part in &model.parts {
        match part {
            Part::Block(_) => {}
            Part::Turning(turning) => areas[turning.surface] += turning.area_m2(),
            Part::Slab(slab) => {
                areas[slab.surface] += slab.face_m2() + slab.rim_m() * slab.thickness;
                areas[slab.underside] += slab.face_m2();
            }
        }
    }
    areas
}

/// The length of each surface's edges: those of its blocks, each once, and the rims of round parts.
fn edges_m(model: &Model) -> Vec<f64> {
    let mut lengths = vec![0.0; model.surfaces.len()];
    for part in &model.parts {
        match part {
            Part::Block(block) => {
                let mut seen = std::collections::BTreeSet::new();
                for face in block.faces.iter().filter(|face| face.counted) {
                    let n = face.corners.len();
                    for k in 0..n {
                        let (a, b) = (face.corners[k], face.corners[(k + 1) % n]);
                        let key = |p: crate::solid::Point| [p.x, p.y, p.z].map(|v| ((v * 1e6).round() + 0.0).to_bits());
                        let pair = if key(a) <= key(b) {
                            (key(a), key(b))
                        } else {
                            (key(b), key(a))
                        };
                        if seen.insert((face.surface, pair)) {
                            lengths[face.surface] += (b - a).size();
                        }
                    }
                }
            }
            Part::Turning(turning) => {
                let ends = [turning.profile.first(), turning.profile.last()];
                let rims: f64 = ends.iter().flatten().map(|(_, r)| std::f64::consts::TAU * r).sum();
                lengths[turning.surface] += rims;
            }
            Part::Slab(slab) => {
                lengths[slab.surface] += 2.0 * slab.rim_m();
                lengths[slab.underside] += slab.rim_m();
            }
        }
    }
    lengths
}

/// How each surface lies: where seven tenths of it face.
fn lies(model: &Model) -> Vec<Orientation> {
    let mut shares = vec![[0.0_f64; 3]; model.surfaces.len()];
    for open in crate::solid::exposed(model) {
        let vector = area_vector(&open.corners);
        let size = vector.size();
        if size <= 0.0 {
            continue;
        }
        let up = vector.z / size;
        let place = match up {
            up if up > 0.7 => 0,
            up if up < -0.7 => 2,
            _ => 1,
        };
        shares[open.surface][place] += size;
    }
    shares
        .into_iter()
        .map(|[up, upright, down]| {
            let most = 0.7 * (up + upright + down);
            if up > most {
                Orientation::Level
            } else if upright > most {
                Orientation::Upright
            } else if down > most {
                Orientation::Underneath
            } else {
                Orientation::Mixed
            }
        })
        .collect()
}
