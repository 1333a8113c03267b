//! The classes of preparation material: cleaners, strippers, fillers and their like.

use crate::vocabulary;

vocabulary! {
    /// A generic class of material that prepares a surface and does not stay as its finish.
    PrepClass is "preparation class" {
        AlkalineCleaner = "alkaline-cleaner", "alkaline degreasing cleaner", ["tsp", "degreaser", "trisodium-phosphate", "sugar-soap"];
        NeutralCleaner = "neutral-cleaner", "neutral cleaner", ["soap", "dish-soap", "mild-soap", "soap-and-water", "neutral-degreaser"];
        Alcohol = "alcohol", "denatured alcohol", ["denatured-alcohol", "methylated-spirit", "methylated-spirits", "ethanol", "meths"];
        MineralSpirits = "mineral-spirits", "mineral spirits", ["white-spirit", "paint-thinner", "dewaxer"];
        Naphtha = "naphtha", "naphtha", ["vm&p-naphtha", "vmp-naphtha"];
        GelStripper = "gel-stripper", "gel stripper", ["stripper", "citrus-stripper", "paint-stripper", "paint-remover"];
        BenzylAlcoholStripper = "benzyl-alcohol-stripper", "benzyl-alcohol stripper", ["benzyl-stripper"];
        CausticStripper = "caustic-stripper", "caustic stripper", ["lye", "caustic", "caustic-paste"];
        MethyleneChlorideStripper = "methylene-chloride-stripper", "methylene-chloride stripper", ["methylene-chloride", "dichloromethane", "dcm-stripper"];
        Heat = "heat", "heat", ["heat-gun", "hot-air", "infra-red", "infrared", "infrared-heater"];
        OxalicBleach = "oxalic-bleach", "oxalic-acid bleach", ["oxalic-acid", "wood-bleach"];
        WaterBasedFiller = "water-based-filler", "water-based wood filler", ["wood-filler", "filler", "wood-putty"];
        PolyesterFiller = "polyester-filler", "two-part polyester filler", ["two-part-filler", "polyester"];
        EpoxyFiller = "epoxy-filler", "two-part epoxy filler", ["epoxy", "epoxy-consolidant"];
        WaxStick = "wax-stick", "soft wax stick", ["fill-stick", "wax-filler-stick", "wax-crayon"];
        BurnInStick = "burn-in-stick", "burn-in stick", ["shellac-stick", "hard-melt-stick", "lacquer-stick", "burn-in"];
        OilGrainFiller = "oil-grain-filler", "oil paste grain filler", ["grain-filler", "pore-filler", "paste-grain-filler"];
        WaterborneGrainFiller = "waterborne-grain-filler", "waterborne grain filler", ["water-based-grain-filler"];
        WoodConditioner = "wood-conditioner", "pre-stain conditioner", ["conditioner", "washcoat", "pre-stain-conditioner"];
        TackCloth = "tack-cloth", "tack cloth", ["tack-rag", "microfibre-cloth", "microfiber-cloth", "damp-cloth"];
    }
}

impl PrepClass {
    /// Whether the class takes an old finish off by chemistry.
    pub fn is_stripper(self) -> bool {
        matches!(
            self,
            PrepClass::GelStripper
                | PrepClass::BenzylAlcoholStripper
                | PrepClass::CausticStripper
                | PrepClass::MethyleneChlorideStripper
        )
    }

    /// Whether the class fills a hollow and hardens there. Grain fillers, which level pores, do not count.
    pub fn is_filler(self) -> bool {
        matches!(
            self,
            PrepClass::WaterBasedFiller
                | PrepClass::PolyesterFiller
                | PrepClass::EpoxyFiller
                | PrepClass::WaxStick
                | PrepClass::BurnInStick
        )
    }
}
