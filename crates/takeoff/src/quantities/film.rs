//! Spreading rate, wet and dry film: the relations that every data sheet rests on.

use quantity::{DryFilm, Mass, Spread, Volume, WetFilm};

/// Density of dry shellac flakes (see source `shellac-solids`).
const SHELLAC_KG_PER_L: f64 = 1.10;

/// The area that a litre covers when nothing is lost: solids over dry film.
///
/// `volume_solids`: share of the product that stays, 0 to 1; `dry`: the dry film of one coat, above nothing. Outside these
/// the result is endless or nothing, never a panic.
///
/// # Source
/// `coverage-note`: rate in m²/L = 1000 × solids / µm; in ft²/gal = 1604 × solids / mil.
///
/// ```
/// use quantity::DryFilm;
/// use takeoff::quantities::theoretical_spread;
/// assert!((theoretical_spread(0.65, DryFilm::from_um(125.0)).m2_per_litre() - 5.2).abs() < 1e-9);
/// ```
#[must_use]
pub fn theoretical_spread(volume_solids: f64, dry: DryFilm) -> Spread {
    dry.wetted(volume_solids).spread()
}

/// Solids of a product thinned with `thinner_share` of its own volume: solids / (1 + share).
///
/// ```
/// assert!((takeoff::quantities::thinned_solids(0.25, 1.0) - 0.125).abs() < 1e-12);
/// ```
#[must_use]
pub fn thinned_solids(volume_solids: f64, thinner_share: f64) -> f64 {
    volume_solids / (1.0 + thinner_share.max(0.0))
}

/// The wet coat of a thinned product that dries to `dry`.
#[must_use]
pub fn thinned_wet_film(dry: DryFilm, volume_solids: f64, thinner_share: f64) -> WetFilm {
    dry.wetted(thinned_solids(volume_solids, thinner_share))
}

/// Volume solids of shellac dissolved in alcohol: the flakes' own volume over the sum of both volumes.
///
/// A cut of two pounds is two pounds of flakes in a US gallon of alcohol.
///
/// ```
/// use quantity::{Mass, Volume};
/// let two_pound = takeoff::quantities::shellac_cut_solids(Mass::from_pounds(2.0), Volume::from_us_gallons(1.0));
/// assert!((two_pound - 0.179).abs() < 0.003);
/// ```
#[must_use]
pub fn shellac_cut_solids(flakes: Mass, alcohol: Volume) -> f64 {
    let solid = Volume::from_litres(flakes.kg() / SHELLAC_KG_PER_L);
    solid / (solid + alcohol)
}
