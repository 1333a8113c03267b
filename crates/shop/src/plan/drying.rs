//! How a class dries: from the trade's table to waits in the reference air, and from these to waits in a room.

use climate::{DryModel, Room, Window};
use trade::FinishClass;
use trade::finish_rows::DryModel as TableModel;

use super::air::whole_minutes;
/// Waits of a class in the reference air, minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Waits {
    /// Dry to the touch: dust no longer sticks.
    pub(crate) touch_min: u32,
    /// The earliest next coat.
    pub(crate) recoat_min: u32,
    /// The latest next coat without a scuff.
    pub(crate) recoat_max_min: Option<u32>,
    /// Fully hard.
    pub(crate) cure_min: u32,
}

/// What the table says of a class.
pub(crate) fn waits_of(class: FinishClass) -> Waits {
    let row = class.row();
    Waits {
        touch_min: from_hours(row.touch_h.typical),
        recoat_min: from_hours(row.recoat_min_h.typical),
        recoat_max_min: row.recoat_window_h.map(from_hours),
        cure_min: from_hours(row.full_cure_d.typical * 24.0),
    }
}

/// The driver of a class's drying.
pub(crate) fn model_of(class: FinishClass) -> DryModel {
    match class.row().dry_model {
        TableModel::Oxidative => DryModel::Oxidative,
        TableModel::Reactive => DryModel::Reactive,
        TableModel::Waterborne => DryModel::Waterborne,
        TableModel::Solvent => DryModel::Solvent,
    }
}

/// The driver of a class's full cure: chemistry and creep of the film, which warmth alone hastens.
pub(crate) fn cure_model_of(class: FinishClass) -> DryModel {
    match model_of(class) {
        DryModel::Oxidative => DryModel::Oxidative,
        _ => DryModel::Reactive,
    }
}

/// The air in which a class may be put on.
pub(crate) fn window_of(class: FinishClass) -> Window {
    let row = class.row();
    let (least_c, most_c) = row
        .temp_c
        .map_or((None, None), |(least_c, most_c)| (Some(least_c), Some(most_c)));
    Window::of_model(model_of(class)).narrowed(least_c, most_c, Some(row.humidity_max_pct))
}

/// Minutes that a wait of `reference_min` lasts in a room from `start_min` on; a year where it would never end.
pub(crate) fn in_room(room: &Room, model: DryModel, start_min: i64, reference_min: u32) -> u32 {
    const YEAR_MIN: f64 = 525_600.0;
    let minutes = room
        .wait_min(model, start_min, f64::from(reference_min))
        .unwrap_or(YEAR_MIN);
    u32::try_from(whole_minutes(minutes)).unwrap_or(u32::MAX)
}

fn from_hours(hours: f64) -> u32 {
    u32::try_from(whole_minutes(hours * 60.0)).unwrap_or(u32::MAX)
}
