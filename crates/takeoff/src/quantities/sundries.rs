//! Rags, tape and what washes the brush. All of it common practice.

use quantity::{Area, Length, Range, Volume};
use trade::methods::Method;

/// Area that one rag of about 30 by 30 cm wipes before it must be turned away: dirty work, likely, light dusting.
const RAG_M2: [f64; 3] = [0.6, 1.2, 2.5];
/// Area that one tack rag dusts off before it is full: after sanding, likely, between coats.
const TACK_RAG_M2: [f64; 3] = [5.0, 10.0, 20.0];
/// Masked length over the edges' own: overlaps, and what is torn off.
const TAPE_WASTE: [f64; 3] = [1.05, 1.15, 1.30];
/// Length of an ordinary roll.
const ROLL_M: f64 = 50.0;

/// Rags for wiping an area `wipes` times over.
#[must_use]
pub fn rags(area: Area, wipes: u8) -> Range<u32> {
    let wiped = area.m2().max(0.0) * f64::from(wipes);
    if wiped <= 0.0 || !wiped.is_finite() {
        return Range::exactly(0);
    }
    Range::new(
        whole(wiped / RAG_M2[2]),
        whole(wiped / RAG_M2[1]),
        whole(wiped / RAG_M2[0]),
    )
}

/// Tack rags worn out by dusting an area off, shares of one counted.
#[must_use]
pub fn tack_rags(area: Area) -> Range<f64> {
    let area_m2 = area.m2().max(0.0);
    Range::new(
        area_m2 / TACK_RAG_M2[2],
        area_m2 / TACK_RAG_M2[1],
        area_m2 / TACK_RAG_M2[0],
    )
}

/// Tape for masking edges of this length together.
#[must_use]
pub fn tape(edges: Length) -> Range<Length> {
    let edges = edges.max(Length::ZERO);
    Range::new(edges * TAPE_WASTE[0], edges * TAPE_WASTE[1], edges * TAPE_WASTE[2])
}

/// Whole rolls of ordinary length for a length of tape.
#[must_use]
pub fn tape_rolls(length: Length) -> u32 {
    if length.m() > 0.0 && length.is_finite() {
        whole(length.m() / ROLL_M)
    } else {
        0
    }
}

/// What washes the tool after one coat: in two baths, the first of which is kept to settle.
#[must_use]
pub const fn brush_wash(method: Method) -> Range<Volume> {
    let (low, likely, high) = match method {
        Method::AerosolCan => (0.0, 0.0, 0.0),
        Method::Pad => (0.0, 50.0, 100.0),
        Method::Brush | Method::Dip => (60.0, 120.0, 250.0),
        Method::Roller => (150.0, 300.0, 500.0),
        Method::Hvlp | Method::ConventionalAir | Method::Electrostatic => (100.0, 200.0, 400.0),
        Method::AirAssistedAirless | Method::Airless => (500.0, 1000.0, 2000.0),
    };
    Range::new(Volume::from_ml(low), Volume::from_ml(likely), Volume::from_ml(high))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a positive count; a float cast saturates"
)]
fn whole(count: f64) -> u32 {
    (count - 1e-9).ceil().max(1.0) as u32
}
