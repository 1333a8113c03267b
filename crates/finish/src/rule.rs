//! The rules of the check: one member each, its words and source in `data/rules.toml`.
//!
//! A rule id states what is wrong and stays for ever. What a rule looks at stands in `object`; what puts it right, in `remedy`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::finding::{Finding, Severity};
use trade::vocabulary;

vocabulary! {
    /// What can be wrong with a schedule.
    RuleId is "rule of the check" {
        DrySandingBeforeLeadTest = "dry-sanding-before-lead-test", "dry sanding before lead test";
        LeadPaintMachined = "lead-paint-machined", "lead paint machined";
        BannedStripper = "banned-stripper", "banned stripper";
        VeneerSandedCoarse = "veneer-sanded-coarse", "veneer sanded coarse";
        VeneerSandedThrough = "veneer-sanded-through", "veneer sanded through";
        PlatingCutThrough = "plating-cut-through", "plating cut through";
        DistressedIntoLead = "distressed-into-lead", "distressed into lead";
        DetailSandedAway = "detail-sanded-away", "detail sanded away";
        GritSkipped = "grit-skipped", "grit skipped";
        ScratchTooCoarse = "scratch-too-coarse", "scratch too coarse";
        SandedTooFine = "sanded-too-fine", "sanded too fine";
        StainSandedAway = "stain-sanded-away", "stain sanded away";
        SandingOverGrease = "sanding-over-grease", "sanding over grease";
        SandingTooSoon = "sanding-too-soon", "sanding too soon";
        SandingOverResidue = "sanding-over-residue", "sanding over residue";
        SoftenedFinishLeft = "softened-finish-left", "softened finish left";
        ScrapedTooSoon = "scraped-too-soon", "scraped too soon";
        StripperResidue = "stripper-residue", "stripper residue";
        AlkaliResidue = "alkali-residue", "alkali residue";
        AcidResidue = "acid-residue", "acid residue";
        CleanerResidue = "cleaner-residue", "cleaner residue";
        DampUnderCoat = "damp-under-coat", "damp under coat";
        CausticOnVeneer = "caustic-on-veneer", "caustic on veneer";
        CausticDarkens = "caustic-darkens", "caustic darkens";
        CausticOnAluminium = "caustic-on-aluminium", "caustic on aluminium";
        AlkaliOnDelicate = "alkali-on-delicate", "alkali on delicate";
        VeneerFlooded = "veneer-flooded", "veneer flooded";
        AlcoholOnShellac = "alcohol-on-shellac", "alcohol on shellac";
        HeatNearVeneerOrGlass = "heat-near-veneer-or-glass", "heat near veneer or glass";
        ExcludedByWish = "excluded-by-wish", "excluded by wish";
        ToolMissing = "tool-missing", "tool missing";
        AirOutOfRange = "air-out-of-range", "air out of range";
        NotForOutdoors = "not-for-outdoors", "not for outdoors";
        NotForANursery = "not-for-a-nursery", "not for a nursery";
        WaxUnderCoat = "wax-under-coat", "wax under coat";
        SiliconeUnderCoat = "silicone-under-coat", "silicone under coat";
        GreaseUnderCoat = "grease-under-coat", "grease under coat";
        NicotineUnderCoat = "nicotine-under-coat", "nicotine under coat";
        DustUnderCoat = "dust-under-coat", "dust under coat";
        FlakingUnderCoat = "flaking-under-coat", "flaking under coat";
        LoosePartUnderCoat = "loose-part-under-coat", "loose part under coat";
        OpenDefectUnderCoat = "open-defect-under-coat", "open defect under coat";
        FillerNotSet = "filler-not-set", "filler not set";
        FillerNotLevelled = "filler-not-levelled", "filler not levelled";
        FillerTooShallow = "filler-too-shallow", "filler too shallow";
        FillerShows = "filler-shows", "filler shows";
        WaxStickTooEarly = "wax-stick-too-early", "wax stick too early";
        CoatOverWaxStick = "coat-over-wax-stick", "coat over wax stick";
        SteamOnFinish = "steam-on-finish", "steam on finish";
        SteamedAfterSanding = "steamed-after-sanding", "steamed after sanding";
        NeverOver = "never-over", "never over";
        CannotSoakIn = "cannot-soak-in", "cannot soak in";
        NeedsPrimer = "needs-primer", "needs primer";
        NeedsBarrier = "needs-barrier", "needs barrier";
        WaxedShellacUnderFilm = "waxed-shellac-under-film", "waxed shellac under film";
        NotScuffed = "not-scuffed", "not scuffed";
        NoKeyBetweenCoats = "no-key-between-coats", "no key between coats";
        WindowMissed = "window-missed", "window missed";
        LiftingWindow = "lifting-window", "lifting window";
        RecoatTooSoon = "recoat-too-soon", "recoat too soon";
        NotCured = "not-cured", "not cured";
        FilmTooThick = "film-too-thick", "film too thick";
        StearateUnderCoat = "stearate-under-coat", "stearate under coat";
        TryAPatchFirst = "try-a-patch-first", "try a patch first";
        BleedThrough = "bleed-through", "bleed through";
        OneCoatOfStainBlock = "one-coat-of-stain-block", "one coat of stain block";
        KnotsNotSealed = "knots-not-sealed", "knots not sealed";
        EdgesNotSealed = "edges-not-sealed", "edges not sealed";
        OilyWoodNotWiped = "oily-wood-not-wiped", "oily wood not wiped";
        OilyWoodUnsealed = "oily-wood-unsealed", "oily wood unsealed";
        YellowsOverLight = "yellows-over-light", "yellows over light";
        FlashRust = "flash-rust", "flash rust";
        BlotchyStain = "blotchy-stain", "blotchy stain";
        GlueUnderStain = "glue-under-stain", "glue under stain";
        PoresShow = "pores-show", "pores show";
        RaisedGrain = "raised-grain", "raised grain";
        SprayClassBrushed = "spray-class-brushed", "spray class brushed";
        OversprayUnmasked = "overspray-unmasked", "overspray unmasked";
        HardwareInPlace = "hardware-in-place", "hardware in place";
        CutThroughEdges = "cut-through-edges", "cut through edges";
        BarePatches = "bare-patches", "bare patches";
        OldFinishLeft = "old-finish-left", "old finish left";
        HalfStripped = "half-stripped", "half stripped";
        WaxOnBareWood = "wax-on-bare-wood", "wax on bare wood";
        LookNotReached = "look-not-reached", "look not reached";
        TooFewCoats = "too-few-coats", "too few coats";
        ColourNotHidden = "colour-not-hidden", "colour not hidden";
        PorousPaintOpen = "porous-paint-open", "porous paint open";
        WearBelowUse = "wear-below-use", "wear below use";
        SoftForUse = "soft-for-use", "soft for use";
        SheenNotReached = "sheen-not-reached", "sheen not reached";
        WaterMarkShows = "water-mark-shows", "water mark shows";
        HardwareNotRefitted = "hardware-not-refitted", "hardware not refitted";
        RefittedTooSoon = "refitted-too-soon", "refitted too soon";
        LastCoatDulled = "last-coat-dulled", "last coat dulled";
        GlazeMissing = "glaze-missing", "glaze missing";
        GlazeOpen = "glaze-open", "glaze open";
        DistressMissing = "distress-missing", "distress missing";
        IronOnTannin = "iron-on-tannin", "iron on tannin";
        BareTooLong = "bare-too-long", "bare too long";
        NothingToDo = "nothing-to-do", "nothing to do";
    }
}

/// The words of a rule.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its id.
    pub id: RuleId,
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong.
    pub message: String,
    /// Why it matters.
    pub why: String,
    /// What to do.
    #[serde(rename = "do")]
    pub do_: String,
    /// Key of the source.
    pub source: String,
    /// The rule of the compatibility (`C..`) or wood (`W..`) table behind it, where there is one.
    #[serde(default)]
    pub about: Option<String>,
}

#[derive(Deserialize)]
struct Table {
    rule: Vec<Rule>,
}

static RULES: LazyLock<Vec<Rule>> = LazyLock::new(|| {
    let table: Table = toml::from_str(include_str!("../data/rules.toml")).expect("the crate's tests read this table");
    table.rule
});

/// Every rule, in the order of [`RuleId::EVERY`].
#[must_use]
pub fn rules() -> &'static [Rule] {
    &RULES
}

impl RuleId {
    /// The words of the rule.
    #[must_use]
    pub fn rule(self) -> &'static Rule {
        &RULES[self as usize]
    }

    /// The finding of this rule at a step, or at the end of the schedule.
    pub(crate) fn finding(self, step: Option<usize>, detail: &str) -> Finding {
        let rule = self.rule();
        let message = if detail.is_empty() {
            rule.message.clone()
        } else {
            format!("{} {detail}", rule.message)
        };
        Finding {
            rule: self.id().to_owned(),
            severity: rule.severity,
            step,
            message,
            why: rule.why.clone(),
            do_: rule.do_.clone(),
            source: rule.source.clone(),
            situation: String::new(),
        }
    }
}

/// A set of rules, as bits.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Hits(u128);

/// The rules that only note something.
static NOTES: LazyLock<Hits> = LazyLock::new(|| {
    let mut notes = Hits::default();
    for rule in rules().iter().filter(|rule| rule.severity == Severity::Note) {
        notes.add(rule.id);
    }
    notes
});

impl Hits {
    pub(crate) const fn add(&mut self, rule: RuleId) {
        self.0 |= 1 << rule as u32;
    }

    pub(crate) const fn add_if(&mut self, broken: bool, rule: RuleId) {
        if broken {
            self.add(rule);
        }
    }

    pub(crate) const fn has(self, rule: RuleId) -> bool {
        self.0 & (1 << rule as u32) != 0
    }

    pub(crate) const fn union(self, other: Hits) -> Hits {
        Hits(self.0 | other.0)
    }

    pub(crate) const fn without(self, other: Hits) -> Hits {
        Hits(self.0 & !other.0)
    }

    /// Those that are more than notes.
    pub(crate) fn serious(self) -> Hits {
        self.without(*NOTES)
    }

    pub(crate) const fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub(crate) fn iter(self) -> impl Iterator<Item = RuleId> {
        RuleId::EVERY.iter().copied().filter(move |rule| self.has(*rule))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_covers_every_rule_in_order() {
        let ids: Vec<RuleId> = rules().iter().map(|rule| rule.id).collect();
        assert_eq!(ids, RuleId::EVERY);
        assert!(RuleId::EVERY.len() < 128, "a set of rules is 128 bits");
    }

    #[test]
    fn every_source_is_listed_and_every_rule_behind_one_is_known() {
        for rule in rules() {
            assert!(
                trade::sources::get(&rule.source).is_some(),
                "{}: {}",
                rule.id,
                rule.source
            );
            let known = |id: &String| trade::compat::rule(id).is_some() || id.starts_with('W');
            assert!(rule.about.as_ref().is_none_or(known), "{}: {:?}", rule.id, rule.about);
        }
    }

    #[test]
    fn texts_are_whole_sentences() {
        for rule in rules() {
            for text in [&rule.message, &rule.why, &rule.do_] {
                assert!(text.ends_with('.') && !text.contains("  "), "{}: {text}", rule.id);
            }
        }
    }
}
