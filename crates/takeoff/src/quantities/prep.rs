//! Cleaner, stripper, grain filler by area; filler by the size of the hollows.

use quantity::{Area, Length, Range, Volume};
use trade::prep_rows::PrepRow;

/// The volume that passes of a preparation class take over an area; `None` where the class does not go by area.
///
/// `passes` is how often it is put on: see [`strip_passes`] for strippers; once for the rest, twice for a very dirty piece.
#[must_use]
pub fn prep_volume(area: Area, row: &PrepRow, passes: Range<u8>) -> Option<Range<Volume>> {
    let spread = row.spread_m2_per_l?;
    let litres = |m2_per_l: f64, passes: u8| Volume::from_litres(area.m2().max(0.0) * f64::from(passes) / m2_per_l);
    Some(Range::new(
        litres(spread.high, passes.low),
        litres(spread.typical, passes.typical),
        litres(spread.low, passes.high),
    ))
}

/// How often a stripper has to be put on for this many old coats: one takes about three coats of paint or clear finish with
/// it, and one more is to be reckoned with (common practice).
#[must_use]
pub const fn strip_passes(old_coats: u8) -> Range<u8> {
    let likely = old_coats.div_ceil(3);
    let likely = if likely == 0 { 1 } else { likely };
    Range::new(
        if likely > 1 { likely - 1 } else { 1 },
        likely,
        likely.saturating_add(1),
    )
}

/// A hollow to fill: a gouge, a dent that will not steam out, an old screw hole, a missing chip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hollow {
    /// How many alike.
    pub count: u16,
    /// Along its longer side.
    pub length: Length,
    /// Across.
    pub width: Length,
    /// At its deepest.
    pub depth: Length,
}

impl Hollow {
    const fn box_of(count: u16, length_mm: f64, width_mm: f64, depth: Length) -> Self {
        Self {
            count,
            length: Length::from_mm(length_mm),
            width: Length::from_mm(width_mm),
            depth,
        }
    }

    /// Gouges of usual size (common practice, as all of these), 60 by 8 mm.
    #[must_use]
    pub const fn gouges(count: u16, depth: Length) -> Self {
        Self::box_of(count, 60.0, 8.0, depth)
    }

    /// Dents of usual size, 20 by 15 mm.
    #[must_use]
    pub const fn dents(count: u16, depth: Length) -> Self {
        Self::box_of(count, 20.0, 15.0, depth)
    }

    /// Chips of usual size, 25 by 10 mm.
    #[must_use]
    pub const fn chips(count: u16, depth: Length) -> Self {
        Self::box_of(count, 25.0, 10.0, depth)
    }

    /// Old screw holes, 5 by 5 mm.
    #[must_use]
    pub const fn holes(count: u16, depth: Length) -> Self {
        Self::box_of(count, 5.0, 5.0, depth)
    }

    /// Cracks of usual size, 200 by 2 mm.
    #[must_use]
    pub const fn cracks(count: u16, depth: Length) -> Self {
        Self::box_of(count, 200.0, 2.0, depth)
    }

    /// Patches of missing veneer or burns of usual size, 40 by 30 mm.
    #[must_use]
    pub const fn patches(count: u16, depth: Length) -> Self {
        Self::box_of(count, 40.0, 30.0, depth)
    }
}

/// What filling takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    /// Filler as bought.
    pub volume: Range<Volume>,
    /// Layers for the deepest hollow, each to harden before the next.
    pub layers: u8,
}

/// What is put on above the surface, to be levelled off (common practice).
const OVERFILL: f64 = 0.10;
/// What a hollow holds against the box around it: scooped, likely, square-sided (common practice).
const FULLNESS: [f64; 3] = [0.4, 0.6, 1.0];
/// What is mixed or scooped out and never used (common practice).
const LEFT_ON_THE_BOARD: [f64; 3] = [1.1, 1.3, 1.6];

/// Filler for these hollows: their volume, the overfill, what the class shrinks, and what stays on the board; and how many
/// layers the class's thickest layer makes of the deepest.
///
/// Sizes that are no numbers or below nothing count nothing.
#[must_use]
pub fn filler(hollows: &[Hollow], row: &PrepRow) -> Filling {
    let sound = |length: Length| {
        if length.is_finite() {
            length.max(Length::ZERO)
        } else {
            Length::ZERO
        }
    };
    let boxes: Volume = hollows
        .iter()
        .map(|h| sound(h.length) * sound(h.width) * sound(h.depth) * f64::from(h.count))
        .sum();
    let shrunk = 1.0 - row.shrink_pct.unwrap_or(0.0).clamp(0.0, 90.0) / 100.0;
    let each = |k: usize| boxes * (FULLNESS[k] * (1.0 + OVERFILL) / shrunk * LEFT_ON_THE_BOARD[k]);
    let deepest = hollows
        .iter()
        .filter(|h| h.count > 0)
        .map(|h| sound(h.depth).mm())
        .fold(0.0, f64::max);
    let layers = match row.max_layer_mm {
        _ if deepest <= 0.0 => 0,
        Some(most) if most > 0.0 => (1..=u8::MAX)
            .find(|&n| f64::from(n) * most >= deepest - 1e-9)
            .unwrap_or(u8::MAX),
        _ => 1,
    };
    Filling {
        volume: Range::new(each(0), each(1), each(2)),
        layers,
    }
}
