//! The day sheets: what hands do, hour by hour.

use super::lines::{Page, left, right};
use super::piece::minutes;
use crate::plan::Plan;

/// Sets every day with work.
pub(crate) fn write(page: &mut Page, plan: &Plan) {
    page.heading(
        "DAY SHEETS",
        &format!("{} at the bench in all", minutes(plan.schedule.bench_min)),
    );
    page.hanging("", &plan.schedule.words);
    for late in &plan.schedule.late {
        page.hanging(
            "  late: ",
            &format!("{} misses its day by {:.1} h", late.piece, late.by_h),
        );
    }
    let several = plan.shop.hands.len() > 1;
    for day in &plan.days {
        let free = if day.free_min > 0 {
            format!("{} free", minutes(day.free_min))
        } else {
            String::new()
        };
        page.subheading(&day.date.strftime("%A %-d %B %Y").to_string(), &free);
        for block in &day.blocks {
            let times = format!("{}–{}", block.from.strftime("%-H:%M"), block.to.strftime("%-H:%M"));
            let hand = match (several, plan.shop.hands.get(block.hand)) {
                (true, Some(name)) => format!("{name}: "),
                _ => String::new(),
            };
            let place = if block.zone.is_empty() {
                block.piece.clone()
            } else {
                format!("{}, {}", block.piece, block.zone)
            };
            page.hanging(
                &format!("  {}  ", left(&right(&times, 11), 11)),
                &format!("{hand}{place}: {}", block.words),
            );
        }
    }
}
