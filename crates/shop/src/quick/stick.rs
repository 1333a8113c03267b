//! Will it stick? What is there, what goes on: verdict, preparation, why.

use serde::Serialize;
use trade::{FinishClass, FoundSurface, Verdict, compat};

/// The answer to *will it stick?*
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stick {
    /// What is there.
    pub found: FoundSurface,
    /// What is to go on.
    pub new: FinishClass,
    /// The verdict, by its id.
    pub verdict: Verdict,
    /// The verdict in words.
    pub words: String,
    /// Whether it can be done at all once the preparation is.
    pub is_possible: bool,
    /// What to do first.
    pub preparation: String,
    /// Coarsest and finest grit to scuff with.
    pub scuff: Option<(String, String)>,
    /// Why.
    pub why: String,
    /// The rule's number, if one says so.
    pub rule: Option<String>,
    /// Key of the source.
    pub source: String,
}

/// Whether `new` holds over `found`, and after what.
pub fn will_it_stick(found: FoundSurface, new: FinishClass) -> Stick {
    let judgement = compat::verdict(found, new);
    Stick {
        found,
        new,
        verdict: judgement.verdict,
        words: judgement.verdict.label().to_owned(),
        is_possible: judgement.verdict.is_possible(),
        preparation: judgement.preparation.to_owned(),
        scuff: judgement
            .scuff
            .map(|(coarse, fine)| (coarse.id().to_owned(), fine.id().to_owned())),
        why: judgement.reason.clone(),
        rule: judgement.rule.map(|rule| rule.id.clone()),
        source: judgement.source.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_sticks_to_wax_before_it_is_off() {
        let answer = will_it_stick(FoundSurface::PasteWaxFilm, FinishClass::WaterbornePolyurethane);
        assert_eq!(answer.verdict, Verdict::RemoveContaminantFirst);
    }

    #[test]
    fn enamel_sticks_to_a_scuffed_old_varnish_or_over_primer() {
        let answer = will_it_stick(FoundSurface::OilVarnishPolyCured, FinishClass::WaterborneAcrylicEnamel);
        assert!(answer.is_possible, "{answer:?}");
        assert!(!answer.why.is_empty() && !answer.source.is_empty());
    }
}
