//! The classes of finishing material: what a can holds, whoever made it.

use crate::vocabulary;

vocabulary! {
    /// A generic class of coating, stain, oil or wax.
    ///
    /// [`FinishClass::WaxedShellac`] and [`FinishClass::Unknown`] may be *found* on a piece but never chosen for one; see
    /// [`FinishClass::CHOOSABLE`].
    FinishClass is "finish class" {
        LacquerSandingSealer = "lacquer-sanding-sealer", "lacquer sanding sealer", ["sanding-sealer", "lacquer-sealer"];
        WaterborneSandingSealer = "waterborne-sanding-sealer", "waterborne sanding sealer", ["water-based-sanding-sealer", "waterborne-sealer"];
        DewaxedShellac = "dewaxed-shellac", "dewaxed shellac", ["shellac", "blond-shellac", "shellac-sealer", "spirit-varnish", "french-polish"];
        ShellacPrimer = "shellac-primer", "pigmented shellac primer", ["shellac-based-primer", "pigmented-shellac", "white-shellac-primer"];
        WaterborneBondingPrimer = "waterborne-bonding-primer", "waterborne bonding primer", ["bonding-primer", "adhesion-primer", "grip-primer", "primer"];
        WaterborneStainBlockingPrimer = "waterborne-stain-blocking-primer", "waterborne stain-blocking primer", ["stain-blocking-primer", "stain-blocker", "water-based-stain-blocker"];
        OilPrimer = "oil-primer", "oil stain-blocking primer", ["oil-based-primer", "alkyd-primer"];
        WaterborneAcrylicEnamel = "waterborne-acrylic-enamel", "waterborne acrylic enamel", ["acrylic-enamel", "acrylic", "acrylic-paint", "latex", "latex-paint", "latex-enamel", "furniture-paint", "paint"];
        ChalkTypePaint = "chalk-type-paint", "chalk-type paint", ["chalky-paint", "chalk-type", "chalk-finish-paint", "mineral-paint"];
        MilkPaint = "milk-paint", "milk paint", ["casein-paint", "casein"];
        AlkydEnamel = "alkyd-enamel", "alkyd enamel", ["alkyd", "oil-paint", "oil-enamel", "oil-based-paint", "enamel"];
        UrethaneAlkydEnamel = "urethane-alkyd-enamel", "urethane alkyd enamel", ["urethane-enamel", "urethane-alkyd"];
        WaterborneAlkydEnamel = "waterborne-alkyd-enamel", "waterborne alkyd enamel", ["waterborne-alkyd", "water-based-alkyd", "hybrid-enamel"];
        TwoPartWaterbornePolyurethane = "two-part-waterborne-polyurethane", "two-part waterborne polyurethane", ["2k-polyurethane", "2k-waterborne", "two-part-polyurethane", "two-component-polyurethane", "2k"];
        WaterbornePolyurethane = "waterborne-polyurethane", "waterborne polyurethane", ["water-based-polyurethane", "water-based-poly", "waterborne-poly", "water-poly", "waterborne-clear"];
        WaterborneFlatClear = "waterborne-flat-clear", "waterborne flat clear", ["flat-clear", "matte-clear", "water-based-flat-clear"];
        OilBasedPolyurethane = "oil-based-polyurethane", "oil-based polyurethane", ["poly", "polyurethane", "oil-poly", "oil-based-poly", "varnish", "oil-varnish", "oil-polyurethane", "urethane"];
        GelVarnish = "gel-varnish", "gel varnish", ["gel-poly", "gel-polyurethane", "gel-topcoat", "wiping-gel"];
        DryingOil = "drying-oil", "drying oil", ["tung-oil", "linseed-oil", "boiled-linseed-oil", "raw-linseed-oil", "oil"];
        OilVarnishBlend = "oil-varnish-blend", "oil and varnish blend", ["wiping-oil", "danish-oil", "oil-finish", "wiping-varnish"];
        HardwaxOil = "hardwax-oil", "hardwax oil", ["hard-wax-oil", "wax-oil"];
        PasteWax = "paste-wax", "paste wax", ["wax", "furniture-wax", "beeswax", "wax-polish"];
        NitrocelluloseLacquer = "nitrocellulose-lacquer", "nitrocellulose lacquer", ["lacquer", "nitro-lacquer", "nitrocellulose", "nc-lacquer", "spray-lacquer"];
        PrecatalysedLacquer = "precatalysed-lacquer", "pre-catalysed lacquer", ["precat-lacquer", "precat", "pre-catalysed-lacquer", "pre-cat-lacquer", "precatalyzed-lacquer", "pre-catalyzed-lacquer"];
        ConversionVarnish = "conversion-varnish", "conversion varnish", ["acid-cured-varnish", "catalysed-varnish", "catalyzed-varnish", "post-catalysed-lacquer", "post-catalyzed-lacquer"];
        AerosolMetallicEnamel = "aerosol-metallic-enamel", "spray-can metallic enamel", ["aerosol-enamel", "spray-can", "spray-paint", "metallic-spray", "metallic-enamel", "aerosol"];
        RubOnMetallicWax = "rub-on-metallic-wax", "rub-on metallic wax", ["metallic-wax", "gilding-wax", "rubbing-wax"];
        DyeStain = "dye-stain", "dye stain", ["dye", "aniline-dye", "alcohol-dye", "water-dye"];
        OilPigmentStain = "oil-pigment-stain", "oil pigment stain", ["oil-stain", "oil-based-stain", "wiping-stain", "stain", "pigment-stain"];
        WaterborneStain = "waterborne-stain", "waterborne stain", ["water-based-stain", "water-stain"];
        GelStain = "gel-stain", "gel stain", ["gel"];
        WaxedShellac = "waxed-shellac", "shellac with its wax", ["orange-shellac", "button-lac", "old-shellac", "shellac-with-wax"];
        Unknown = "unknown", "unknown old finish", ["unknown-finish", "old-finish", "unknown-old-finish", "not-known", "dont-know", "don't-know", "i-don't-know", "?"];
    }
}

impl FinishClass {
    /// The 31 classes that can be chosen for a piece; all but those that are only found.
    pub const CHOOSABLE: &'static [FinishClass] = Self::EVERY.split_at(31).0;

    /// Whether it is shellac as a clear film, with its wax or without.
    pub const fn is_shellac(self) -> bool {
        matches!(self, FinishClass::DewaxedShellac | FinishClass::WaxedShellac)
    }

    /// Whether the class may be chosen for a piece, and not only found on one.
    pub fn is_choosable(self) -> bool {
        !matches!(self, FinishClass::WaxedShellac | FinishClass::Unknown)
    }
}
