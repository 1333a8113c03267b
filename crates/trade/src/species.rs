//! The species of wood that furniture is made of.

use crate::vocabulary;

vocabulary! {
    /// A species, or a trade group of species, with one row of properties.
    Species is "species of wood" {
        RedAlder = "red-alder", "red alder", ["alder"];
        WhiteAsh = "white-ash", "white ash", ["ash"];
        QuakingAspen = "quaking-aspen", "quaking aspen", ["aspen"];
        Basswood = "basswood", "basswood", ["lime", "linden"];
        Beech = "beech", "beech", ["american-beech", "european-beech"];
        YellowBirch = "yellow-birch", "yellow birch", ["birch"];
        Butternut = "butternut", "butternut", ["white-walnut"];
        BlackCherry = "black-cherry", "black cherry", ["cherry"];
        Chestnut = "chestnut", "chestnut", ["american-chestnut"];
        Elm = "elm", "elm", ["american-elm"];
        Hickory = "hickory", "hickory or pecan", ["pecan"];
        HardMaple = "hard-maple", "hard maple", ["maple", "sugar-maple", "rock-maple"];
        SoftMaple = "soft-maple", "soft maple", ["red-maple"];
        RedOak = "red-oak", "red oak", ["oak", "northern-red-oak"];
        WhiteOak = "white-oak", "white oak", ["european-oak", "english-oak"];
        Sweetgum = "sweetgum", "sweetgum", ["gum", "red-gum"];
        Sycamore = "sycamore", "sycamore";
        BlackWalnut = "black-walnut", "black walnut", ["walnut"];
        YellowPoplar = "yellow-poplar", "yellow-poplar", ["poplar", "tulipwood", "tulip-poplar"];
        Mahogany = "mahogany", "true mahogany", ["true-mahogany", "honduran-mahogany", "genuine-mahogany"];
        AfricanMahogany = "african-mahogany", "African mahogany", ["khaya"];
        Teak = "teak", "teak";
        Meranti = "meranti", "meranti or lauan", ["lauan", "luan", "philippine-mahogany"];
        Rubberwood = "rubberwood", "rubberwood", ["parawood", "hevea"];
        Rosewood = "rosewood", "Indian rosewood", ["indian-rosewood"];
        EasternWhitePine = "eastern-white-pine", "eastern white pine", ["white-pine", "pine"];
        PonderosaPine = "ponderosa-pine", "ponderosa pine", ["knotty-pine"];
        SouthernPine = "southern-pine", "southern pine", ["yellow-pine", "southern-yellow-pine", "loblolly-pine", "pitch-pine"];
        DouglasFir = "douglas-fir", "Douglas-fir", ["fir"];
        Spruce = "spruce", "spruce", ["deal", "whitewood"];
        WesternRedcedar = "western-redcedar", "western redcedar", ["western-red-cedar", "red-cedar", "cedar"];
        EasternRedcedar = "eastern-redcedar", "eastern redcedar", ["eastern-red-cedar", "aromatic-cedar", "juniper"];
        Redwood = "redwood", "redwood", ["sequoia"];
    }
}
