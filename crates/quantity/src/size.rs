//! Length, area, volume and mass.
//!
//! The inch is 25.4 mm exactly and the US liquid gallon 231 cubic inches exactly (`nist-hb-44`, appendix C; from memory);
//! everything else imperial here follows from these two and from the pound of 0.45359237 kg.

use crate::newtype::{additive, scalar};

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 12.0 * INCH_M;
const US_GALLON_M3: f64 = 231.0 * INCH_M * INCH_M * INCH_M;
const POUND_KG: f64 = 0.453_592_37;

scalar! {
    /// A length, stored in metres.
    Length {
        /// Metres.
        from_m, m = 1.0;
        /// Centimetres.
        from_cm, cm = 0.01;
        /// Millimetres.
        from_mm, mm = 0.001;
        /// Inches of 25.4 mm.
        from_inches, inches = INCH_M;
        /// Feet of 12 inches.
        from_feet, feet = FOOT_M;
    }
}

scalar! {
    /// An area, stored in square metres.
    Area {
        /// Square metres.
        from_m2, m2 = 1.0;
        /// Square centimetres.
        from_cm2, cm2 = 1e-4;
        /// Square feet.
        from_ft2, ft2 = FOOT_M * FOOT_M;
        /// Square inches.
        from_in2, in2 = INCH_M * INCH_M;
    }
}

scalar! {
    /// A volume, of a liquid or of a room, stored in cubic metres.
    Volume {
        /// Cubic metres.
        from_m3, m3 = 1.0;
        /// Litres.
        from_litres, litres = 1e-3;
        /// Millilitres.
        from_ml, ml = 1e-6;
        /// Cubic feet.
        from_ft3, ft3 = FOOT_M * FOOT_M * FOOT_M;
        /// US liquid gallons of 231 cubic inches.
        from_us_gallons, us_gallons = US_GALLON_M3;
        /// US liquid quarts, a quarter of a gallon.
        from_us_quarts, us_quarts = US_GALLON_M3 / 4.0;
        /// US liquid pints, an eighth of a gallon.
        from_us_pints, us_pints = US_GALLON_M3 / 8.0;
        /// US fluid ounces, a sixteenth of a pint.
        from_us_fluid_ounces, us_fluid_ounces = US_GALLON_M3 / 128.0;
    }
}

scalar! {
    /// A mass, stored in kilograms.
    Mass {
        /// Kilograms.
        from_kg, kg = 1.0;
        /// Grams.
        from_g, g = 1e-3;
        /// Pounds avoirdupois.
        from_pounds, pounds = POUND_KG;
        /// Ounces avoirdupois, a sixteenth of a pound.
        from_ounces, ounces = POUND_KG / 16.0;
    }
}

additive!(Length, Area, Volume, Mass);
