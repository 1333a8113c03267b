//! How amounts are told to a person: the same words on the bench, on paper and in the terminal.

use quantity::{Length, UnitSystem, Volume};

use super::output::{Mixes, PlannedStep, SupplyToHave, ToHave, UsedUp};

impl PlannedStep {
    /// "about 180 ml (150 ml to 230 ml)"; `None` for a step that takes nothing of its material.
    pub fn takes(&self, units: UnitSystem) -> Option<String> {
        let amount = self.quantity.as_ref().filter(|amount| amount.likely_ml > 0.0)?;
        let (low, high) = (volume(amount.low_ml, units), volume(amount.high_ml, units));
        let likely = volume(amount.likely_ml, units);
        Some(if low == high {
            likely
        } else {
            format!("about {likely} ({low} to {high})")
        })
    }

    /// How to mix it: "2 mixes of 90 ml: 72 ml base, 18 ml hardener; a mix keeps 1 h"; thinner alone: "with 18 ml thinner".
    pub fn mixing(&self, units: UnitSystem) -> Option<String> {
        if let Some(mixes) = &self.mixes {
            return Some(mix_words(mixes, units));
        }
        let thinner_ml = self.quantity.as_ref()?.thinner_ml;
        (thinner_ml > 0.0).then(|| format!("with {} thinner", volume(thinner_ml, units)))
    }

    /// Where its minutes come from when the log has taught them: "table 25 min; 31 min from 4 of these in the log".
    pub fn pace_words(&self) -> Option<String> {
        let pace = self.pace?;
        let minutes = crate::text::minutes_words;
        let from = match pace.logged {
            0 => format!("{} other steps", pace.logged_in_all),
            1 => "1 such step".to_owned(),
            some => format!("{some} such steps"),
        };
        Some(format!(
            "{} to {}; table {}, your own pace from {from} in the log",
            minutes(pace.low_min),
            minutes(pace.high_min),
            minutes(pace.table_min)
        ))
    }

    /// How what it took stands to what was planned, where somebody said it.
    pub fn took_words(&self, units: UnitSystem) -> Option<String> {
        let (took_ml, amount) = (self.took_ml?, self.quantity.as_ref()?);
        let stands = match took_ml {
            less if less < amount.low_ml => "less than the least planned",
            more if more > amount.high_ml => "more than the most planned",
            _ => "within what was planned",
        };
        Some(format!("took {}: {stands}", volume(took_ml, units)))
    }

    /// What else it uses up, whole pieces: "1 abrasive pad P220, 2 rags"; `None` for nothing.
    pub fn uses_up(&self, units: UnitSystem) -> Option<String> {
        let used: Vec<String> = self
            .supplies
            .iter()
            .filter(|used| used.likely > 0.0)
            .map(|used| used_words(used, units))
            .collect();
        (!used.is_empty()).then(|| used.join(", "))
    }
}

impl ToHave {
    /// "likely 180 ml, 150 ml to 230 ml"
    pub fn range_words(&self, units: UnitSystem) -> String {
        let show = |ml: f64| volume(ml, units);
        let (likely, low, high) = (show(self.likely_ml), show(self.low_ml), show(self.high_ml));
        format!("likely {likely}, {low} to {high}")
    }
}

impl SupplyToHave {
    /// So much of it: "3 × abrasive disc P120", "12 m masking tape".
    pub fn amount_words(&self, amount: f64, units: UnitSystem) -> String {
        told(amount, self.unit, &self.words, units)
    }

    /// "likely 3, 2 to 5"
    pub fn range_words(&self, units: UnitSystem) -> String {
        let show = |amount: f64| match self.unit {
            "m" => tape(amount, units),
            "ml" => volume(amount, units),
            _ => format!("{amount:.0}"),
        };
        if self.low == self.high {
            show(self.likely)
        } else {
            let (low, high) = (show(self.low), show(self.high));
            format!("likely {}, {low} to {high}", show(self.likely))
        }
    }
}

/// What the list is bought for, in one sentence.
pub fn bought_for_words(bought_for: &str) -> &'static str {
    if bought_for == "high" {
        "Bought for the most that the work ordinarily takes."
    } else {
        "Bought for what the work is likely to take; the shop's settings can have it bought for the most."
    }
}

fn mix_words(mixes: &Mixes, units: UnitSystem) -> String {
    let show = |ml: f64| volume(ml, units);
    let times = if mixes.count == 1 {
        "one mix".to_owned()
    } else {
        format!("{} mixes", mixes.count)
    };
    let mut parts = Vec::new();
    if let Some(hardener_ml) = mixes.hardener_ml {
        parts.push(format!("{} base", show(mixes.base_ml)));
        parts.push(format!("{} hardener", show(hardener_ml)));
    }
    if mixes.thinner_ml > 0.0 {
        parts.push(format!("{} thinner", show(mixes.thinner_ml)));
    }
    let of_what = if parts.is_empty() {
        String::new()
    } else {
        format!(" ({})", parts.join(", "))
    };
    let ratio = if mixes.hardener_ml.is_none() {
        ", in the label's ratio"
    } else {
        ""
    };
    format!(
        "{times} of {}{of_what}{ratio}: pot life {}",
        show(mixes.each_ml),
        crate::text::minutes_words(u32::try_from(mixes.pot_life_min).unwrap_or(0))
    )
}

fn used_words(used: &UsedUp, units: UnitSystem) -> String {
    let amount = if used.unit == "piece" {
        (used.likely - 1e-6).ceil().max(1.0)
    } else {
        used.likely
    };
    told(amount, used.unit, &used.words, units)
}

fn told(amount: f64, unit: &str, words: &str, units: UnitSystem) -> String {
    match unit {
        "m" => format!("{} {words}", tape(amount, units)),
        "ml" => format!("{} {words}", volume(amount, units)),
        _ => format!("{amount:.0} × {words}"),
    }
}

/// A length of tape, to the next whole foot or half metre: nobody tears it off to the sixteenth.
fn tape(metres: f64, units: UnitSystem) -> String {
    let whole = match units {
        UnitSystem::Imperial => Length::from_feet((Length::from_m(metres).feet() - 1e-6).ceil()),
        UnitSystem::Metric => Length::from_m(((metres - 1e-6) * 2.0).ceil() / 2.0),
    };
    whole.show(units)
}

fn volume(ml: f64, units: UnitSystem) -> String {
    Volume::from_ml(ml).show(units)
}
