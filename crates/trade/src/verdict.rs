//! What the compatibility table can answer.

use crate::vocabulary;

vocabulary! {
    /// Whether a new coat may go over a found surface, and on what condition.
    Verdict is "verdict" {
        Ok = "ok", "will stick";
        OkAfterScuff = "ok-after-scuff", "will stick once scuffed";
        OkOverPrimer = "ok-over-primer", "will stick over a primer";
        OkAfterBarrier = "ok-after-barrier", "will stick over a shellac barrier";
        OkWithinWindowElseScuff = "ok-within-window-else-scuff", "will stick inside the recoat window, scuff after it";
        OkWithinTotalThickness = "ok-within-total-thickness", "will stick while the whole film stays thin";
        GlazeOnly = "glaze-only", "as a glaze only";
        TestPatch = "test-patch", "try a patch first";
        WaitUntilCured = "wait-until-cured", "wait until the coat below has cured";
        RemoveContaminantFirst = "remove-contaminant-first", "take the contaminant off first";
        NotMeaningful = "not-meaningful", "cannot work: nothing for it to soak into";
        Never = "never", "will fail";
    }
}

impl Verdict {
    /// Whether the new coat can go over the surface at all once the stated preparation is done.
    pub const fn is_possible(self) -> bool {
        !matches!(self, Verdict::Never | Verdict::NotMeaningful)
    }
}
