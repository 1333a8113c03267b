//! The operations of the bench.

use crate::vocabulary;

vocabulary! {
    /// What a pair of hands does to a zone in one step.
    Operation is "operation" {
        Clean = "clean", "clean", ["wash", "degrease"];
        Rinse = "rinse", "rinse";
        Dewax = "dewax", "dewax", ["remove-wax"];
        StripChemical = "strip-chemical", "strip with stripper", ["strip", "chemical-strip"];
        StripSand = "strip-sand", "strip by sanding", ["sand-off"];
        StripHeat = "strip-heat", "strip with heat", ["heat-strip"];
        Scrape = "scrape", "scrape";
        Neutralise = "neutralise", "neutralise", ["neutralize"];
        Bleach = "bleach", "bleach";
        Glue = "glue", "glue", ["reglue", "glue-up"];
        Fill = "fill", "fill", ["patch"];
        Level = "level", "level the filler", ["level-filler"];
        Sand = "sand", "sand";
        Scuff = "scuff", "scuff", ["abrade", "scuff-sand", "denib", "de-nib"];
        DustOff = "dust-off", "dust off", ["tack", "tack-off", "dust", "vacuum"];
        Mask = "mask", "mask", ["tape"];
        SpotPrime = "spot-prime", "spot-prime", ["spot-seal"];
        Prime = "prime", "prime";
        Seal = "seal", "seal";
        Stain = "stain", "stain", ["dye"];
        Paint = "paint", "paint", ["brush-paint"];
        Spray = "spray", "spray";
        ClearCoat = "clear-coat", "clear-coat", ["clear", "topcoat", "top-coat", "varnish"];
        Oil = "oil", "oil";
        Wax = "wax", "wax";
        Glaze = "glaze", "glaze";
        Distress = "distress", "distress", ["age"];
        RemoveHardware = "remove-hardware", "remove the hardware", ["take-off-hardware"];
        RefitHardware = "refit-hardware", "refit the hardware", ["reattach-hardware", "refit"];
    }
}

impl Operation {
    /// Whether the operation throws dust that would spoil a wet coat in the same room.
    pub const fn is_dusty(self) -> bool {
        matches!(
            self,
            Operation::StripSand | Operation::Level | Operation::Sand | Operation::Scuff | Operation::Distress
        )
    }

    /// Whether the operation leaves a coat that stays wet for a while: such a coat must be kept from dust until tack-free.
    pub const fn is_coating(self) -> bool {
        matches!(
            self,
            Operation::SpotPrime
                | Operation::Prime
                | Operation::Seal
                | Operation::Stain
                | Operation::Paint
                | Operation::Spray
                | Operation::ClearCoat
                | Operation::Oil
                | Operation::Wax
                | Operation::Glaze
        )
    }

    /// Whether the operation takes an old finish off.
    pub const fn is_stripping(self) -> bool {
        matches!(
            self,
            Operation::StripChemical | Operation::StripSand | Operation::StripHeat | Operation::Scrape
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dusty_five_are_those_of_the_plan_format() {
        let dusty: Vec<&str> = Operation::EVERY
            .iter()
            .filter(|op| op.is_dusty())
            .map(|op| op.id())
            .collect();
        assert_eq!(dusty, ["strip-sand", "level", "sand", "scuff", "distress"]);
    }

    #[test]
    fn nothing_is_both_dusty_and_a_coating() {
        assert!(Operation::EVERY.iter().all(|op| !(op.is_dusty() && op.is_coating())));
    }
}
