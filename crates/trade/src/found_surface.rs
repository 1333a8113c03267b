//! What a surface is, seen by the next coat.

use crate::vocabulary;

vocabulary! {
    /// A surface as the compatibility table knows it: what the next coat would meet.
    FoundSurface is "surface" {
        BareWood = "bare-wood", "bare wood", ["wood", "raw-wood"];
        BareWoodTanninKnot = "bare-wood-tannin-knot", "bare wood rich in tannin, or with knots", ["knotty-wood", "tannin-wood"];
        BareMetal = "bare-metal", "bare metal", ["metal"];
        LaminateMelamine = "laminate-melamine", "laminate or melamine", ["laminate", "melamine"];
        ShellacDewaxedFilm = "shellac-dewaxed-film", "film of dewaxed shellac", ["shellac"];
        ShellacWaxedFilm = "shellac-waxed-film", "film of shellac with its wax", ["waxed-shellac"];
        NcLacquerFilm = "nc-lacquer-film", "film of nitrocellulose lacquer", ["lacquer"];
        PrecatLacquerFilm = "precat-lacquer-film", "film of pre-catalysed lacquer";
        ConversionVarnishFilm = "conversion-varnish-film", "film of conversion varnish";
        OilVarnishPolyCured = "oil-varnish-poly-cured", "cured oil varnish or oil-based polyurethane", ["varnish"];
        OilVarnishPolyUncured = "oil-varnish-poly-uncured", "oil varnish, polyurethane or enamel still curing";
        OilAlkydEnamelCured = "oil-alkyd-enamel-cured", "cured oil or alkyd enamel", ["oil-paint"];
        WbAcrylicOrPolyCured = "wb-acrylic-or-poly-cured", "cured waterborne acrylic or polyurethane", ["latex-paint"];
        ChalkOrMilkUnsealed = "chalk-or-milk-unsealed", "unsealed chalk-type or milk paint";
        Pu2kCured = "pu-2k-cured", "cured two-part polyurethane";
        DryingOilCured = "drying-oil-cured", "cured drying oil", ["oiled-wood"];
        DryingOilUncured = "drying-oil-uncured", "drying oil still curing";
        OilStainUncured = "oil-stain-uncured", "oil stain still curing";
        DyeStainDry = "dye-stain-dry", "dry dye stain";
        HardwaxOilCured = "hardwax-oil-cured", "cured hardwax oil";
        PasteWaxFilm = "paste-wax-film", "film of paste wax", ["wax"];
        SiliconeContaminated = "silicone-contaminated", "surface contaminated with silicone", ["silicone"];
        OilPrimerFilm = "oil-primer-film", "film of oil primer";
        PrimerFilm = "primer-film", "film of waterborne or shellac primer";
        UnknownOldFinish = "unknown-old-finish", "unknown old finish", ["unknown"];
    }
}
