//! A coat's thickness, wet and dry, and the area that a volume covers.
//!
//! Wet and dry film are both thicknesses and must never be taken for each other, so they are two types; a volume of
//! product makes a wet film only, and the way from one to the other goes through the volume solids.

use crate::newtype::{additive, scalar};

const MIL_M: f64 = 25.4e-6;
const FT2_PER_GAL_IN_M2_PER_LITRE: f64 = 0.3048 * 0.3048 / 3.785_411_784;

scalar! {
    /// The thickness of a coat as it is put on, stored in metres.
    WetFilm {
        /// Metres.
        from_m, m = 1.0;
        /// Micrometres.
        from_um, um = 1e-6;
        /// Mils, thousandths of an inch.
        from_mils, mils = MIL_M;
    }
}

scalar! {
    /// The thickness of a coat when everything that leaves has left, stored in metres.
    DryFilm {
        /// Metres.
        from_m, m = 1.0;
        /// Micrometres.
        from_um, um = 1e-6;
        /// Mils, thousandths of an inch.
        from_mils, mils = MIL_M;
    }
}

scalar! {
    /// The area that a litre covers in one coat, stored in m²/L.
    Spread {
        /// Square metres a litre.
        from_m2_per_litre, m2_per_litre = 1.0;
        /// Square feet a US gallon.
        from_ft2_per_gallon, ft2_per_gallon = FT2_PER_GAL_IN_M2_PER_LITRE;
    }
}

additive!(WetFilm, DryFilm);

impl WetFilm {
    /// What stays of this coat: dry = wet × volume solids, with solids as a fraction 0..=1 of the product as put on
    /// (after thinning).
    ///
    /// ```
    /// use quantity::WetFilm;
    /// assert!((WetFilm::from_mils(9.2).dried(0.65).mils() - 5.98).abs() < 0.005);
    /// ```
    #[must_use]
    pub const fn dried(self, volume_solids: f64) -> DryFilm {
        DryFilm(self.0 * volume_solids)
    }

    /// The spreading rate that leaves this film: 1000 / µm in m²/L.
    #[must_use]
    pub const fn spread(self) -> Spread {
        Spread(1e-3 / self.0)
    }
}

impl DryFilm {
    /// The wet coat that dries to this: wet = dry / volume solids (fraction, above 0).
    #[must_use]
    pub const fn wetted(self, volume_solids: f64) -> WetFilm {
        WetFilm(self.0 / volume_solids)
    }
}

impl Spread {
    /// The wet film that this spreading rate leaves: 1000 / (m²/L) in µm.
    ///
    /// ```
    /// use quantity::Spread;
    /// assert!((Spread::from_m2_per_litre(10.0).wet_film().um() - 100.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub const fn wet_film(self) -> WetFilm {
        WetFilm(1e-3 / self.0)
    }

    /// This rate with a share lost on the way (0..1): less area from each litre.
    #[must_use]
    pub const fn after_loss(self, lost_fraction: f64) -> Self {
        Self(self.0 * (1.0 - lost_fraction))
    }
}
