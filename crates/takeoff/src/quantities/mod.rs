//! From areas to what must be on the bench: product, thinner, abrasives, stripper, rags, tape, filler.
//!
//! Every quantity comes low, likely and high: low if all goes well, likely to reckon with, high to have at hand. The
//! functions are pure and take the trade's rows or the label's own figures as arguments; the label on the can wins.
//!
//! ```
//! use quantity::Area;
//! use takeoff::Detail;
//! use takeoff::quantities::{Coating, Share, coat_volume};
//! use trade::{FinishClass, methods::Method};
//!
//! let outside = [Share { area: Area::from_m2(2.84), detail: Detail::Flat }];
//! let enamel = Coating::of(FinishClass::WaterborneAcrylicEnamel, Method::Brush, 2);
//! let pint = coat_volume(&outside, &enamel).product.typical;
//! assert!((pint.us_pints() - 1.0).abs() < 0.01);
//! ```

mod abrasive;
mod batch;
mod coat;
mod film;
mod prep;
mod sundries;

pub use abrasive::{AbrasiveNeed, abrasive, abrasives, grain_ratio};
pub use batch::{Batches, Mixing, batches};
pub use coat::{Absorbency, CoatVolume, Coating, coat_volume, nth_coat, spray_volume};
pub use film::{shellac_cut_solids, theoretical_spread, thinned_solids, thinned_wet_film};
pub use prep::{Filling, Hollow, filler, prep_volume, strip_passes};
pub use sundries::{brush_wash, rags, tack_rags, tape, tape_rolls};

use quantity::{Area, Range};
use serde::{Deserialize, Serialize};

use crate::{Detail, Surface};

/// A share of a zone: an area with its detail.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Developed area.
    pub area: Area,
    /// How it is worked.
    pub detail: Detail,
}

impl From<&Surface> for Share {
    fn from(surface: &Surface) -> Self {
        Self {
            area: surface.area,
            detail: surface.detail,
        }
    }
}

/// Half the width of a 90 % interval, in standard deviations.
const NINETY: f64 = 1.645;

/// A quantity widened by how unsure the area is that it goes with: `relative_se` is the area's standard error over the area.
///
/// What varies in the quantity and what is unsure of the area are independent, so their widths are added as logarithms at
/// right angles. The likely figure stays; nothing becomes less sure than a factor of ten.
///
/// ```
/// use quantity::Range;
/// use takeoff::quantities::with_area_error;
/// // A third more or less of spread, and an area known to a tenth.
/// let wide = with_area_error(Range::new(75.0, 100.0, 133.0), 0.10);
/// assert!((wide.low - 71.8).abs() < 0.1 && (wide.high - 139.0).abs() < 0.1 && wide.typical == 100.0);
/// ```
#[must_use]
pub fn with_area_error(amount: Range<f64>, relative_se: f64) -> Range<f64> {
    if amount.typical <= 0.0 || amount.low <= 0.0 || relative_se.is_nan() || relative_se <= 0.0 {
        return amount;
    }
    let of_area = NINETY * relative_se;
    let wider = |ratio: f64| ratio.ln().hypot(of_area).min(10.0_f64.ln()).exp();
    Range::new(
        amount.typical / wider(amount.typical / amount.low),
        amount.typical,
        amount.typical * wider(amount.high / amount.typical),
    )
}

/// The sum of some shares' areas.
fn total(shares: &[Share]) -> Area {
    shares.iter().map(|share| share.area).sum()
}
