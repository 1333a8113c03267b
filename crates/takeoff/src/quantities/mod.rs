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

pub use abrasive::{AbrasiveNeed, abrasives, grain_ratio};
pub use batch::{Batches, Mixing, batches};
pub use coat::{Absorbency, CoatVolume, Coating, coat_volume, spray_volume};
pub use film::{shellac_cut_solids, theoretical_spread, thinned_solids, thinned_wet_film};
pub use prep::{Filling, Hollow, filler, prep_volume, strip_passes};
pub use sundries::{brush_wash, rags, tape, tape_rolls};

use quantity::Area;

use crate::{Detail, Surface};

/// A share of a zone: an area with its detail.
#[derive(Debug, Clone, Copy, PartialEq)]
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

/// The sum of some shares' areas.
fn total(shares: &[Share]) -> Area {
    shares.iter().map(|share| share.area).sum()
}
