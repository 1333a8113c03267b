//! One piece: its zones with build-up, other good schedules and steps; its dates and its price.

use std::collections::BTreeSet;

use jiff::ZonedDateTime;
use quantity::Area;

use super::lines::{Page, left, right};
use crate::plan::{BuildUp, GuessRisk, Layer, Plan, PlannedPiece, PlannedStep, PlannedZone, Progress};

/// Sets one piece.
pub(crate) fn write(page: &mut Page, plan: &Plan, piece: &PlannedPiece) {
    let name = if piece.count > 1 {
        format!("{} × {}", piece.count, piece.name)
    } else {
        piece.name.clone()
    };
    let due = piece
        .due
        .as_ref()
        .map(|due| format!("due by the end of {}", last_day(due)))
        .unwrap_or_default();
    page.heading(&name.to_uppercase(), &due);
    let units = plan.shop.unit_system;
    page.hanging(
        "",
        &format!(
            "{} to finish, give or take {}. Ready {}, fully cured {}.",
            Area::from_m2(piece.area_m2).show(units),
            Area::from_m2(piece.area_within_m2()).show(units),
            day_and_time(&piece.ready),
            day(&piece.cured),
        ),
    );
    for zone in &piece.zones {
        write_zone(page, plan, zone);
    }
    if !piece.closing.is_empty() {
        page.subheading("the piece as a whole", "");
        let mut told = BTreeSet::new();
        for step in &piece.closing {
            write_step(page, plan, step, &mut told);
        }
    }
    write_money(page, piece);
}

fn write_zone(page: &mut Page, plan: &Plan, zone: &PlannedZone) {
    let units = plan.shop.unit_system;
    page.subheading(
        &zone.name,
        &format!("{}, {}", zone.substrate, Area::from_m2(zone.area_m2).show(units)),
    );
    write_build_up(page, &zone.build_up, &zone.substrate);
    for choice in &zone.schedules {
        let mark = if choice.chosen { "▸" } else { " " };
        let best = if choice.best_at.is_empty() {
            "a compromise".to_owned()
        } else {
            choice.best_at.join(", ")
        };
        let elapsed = hours(choice.elapsed_h);
        page.hanging(
            &format!("  {mark} "),
            &format!(
                "{best}: {} at the bench, {elapsed} to dry, {}, wear {:.0} of 5, exposure {:.0}",
                minutes(choice.hands_on_min),
                choice.cost.show(),
                choice.wear,
                choice.exposure
            ),
        );
    }
    page.gap();
    if zone.own {
        page.hanging("  ", "The steps are your own: they were written by hand, and checked.");
    }
    for went_on in &zone.overruled {
        page.hanging("  ! ", &format!("{} [{}]", went_on.text, went_on.source));
    }
    for risk in &zone.risks {
        write_risk(page, risk);
    }
    let holds = zone.risks.iter().all(|risk| risk.holds_whatever_it_is);
    if let Some(safe) = zone.safe.as_ref().filter(|_| !holds) {
        page.hanging(
            "      – ",
            &format!("Another schedule holds whatever it is: {}.", safe.words),
        );
    }
    let mut told = BTreeSet::new();
    for step in &zone.steps {
        write_step(page, plan, step, &mut told);
    }
}

/// What a wrong guess would do.
fn write_risk(page: &mut Page, risk: &GuessRisk) {
    page.hanging(
        "  ? ",
        &format!(
            "Planned as {}, by test: {:.0} % sure.",
            risk.planned_as_words,
            risk.chance * 100.0
        ),
    );
    for other in &risk.others {
        let happens: Vec<&str> = other.happens.iter().map(|happens| happens.message.as_str()).collect();
        let happens = if happens.is_empty() {
            "nothing goes wrong.".to_owned()
        } else {
            happens.join(" ")
        };
        let redo = other
            .redo
            .map(|redo| format!(" Doing it over costs about {}.", redo.show()))
            .unwrap_or_default();
        let test = other
            .test
            .as_ref()
            .map_or(" No test of the list parts the two.".to_owned(), |test| {
                format!(" What would tell: {}.", test.words)
            });
        page.hanging(
            "      – ",
            &format!(
                "{:.0} %: if it is {} after all: {happens}{redo}{test}",
                other.chance * 100.0,
                other.words
            ),
        );
    }
}

/// The build-up as layers lie, outermost on top, with a line for today's surface.
fn write_build_up(page: &mut Page, build_up: &BuildUp, substrate: &str) {
    for layer in build_up.planned.iter().rev() {
        page.line(&format!("    ░░░░  {}", layer_words(layer, true)));
    }
    page.line("    ────  today's surface");
    for (layer_idx, layer) in build_up.found.iter().enumerate().rev() {
        let fate = if layer_idx < build_up.kept {
            "stays"
        } else {
            "comes off"
        };
        page.line(&format!("    ▒▒▒▒  {}, {fate}", layer_words(layer, false)));
    }
    page.line(&format!("    ▓▓▓▓  {substrate}"));
    page.gap();
}

fn layer_words(layer: &Layer, with_film: bool) -> String {
    let coats = if layer.coats == 1 {
        "1 coat".to_owned()
    } else {
        format!("{} coats", layer.coats)
    };
    if with_film && layer.dry_film_um >= 0.5 {
        format!("{}, {coats}, {:.0} µm dry", layer.words, layer.dry_film_um)
    } else {
        format!("{}, {coats}", layer.words)
    }
}

/// Sets a step. A reason that the zone has told already is not told again, unless the step would stand without any.
fn write_step<'p>(page: &mut Page, plan: &Plan, step: &'p PlannedStep, told: &mut BTreeSet<&'p str>) {
    let done = match step.progress {
        Progress::Planned => "",
        Progress::Begun => " (begun)",
        Progress::Done => " (done)",
    };
    let lead = format!("  {}  ", left(&when(&step.starts), 17));
    page.hanging(&lead, &format!("{}{done}", step.words));
    let mut facts = vec![format!("{} of work", minutes(step.hands_on_min))];
    let units = plan.shop.unit_system;
    facts.extend(step.takes(units));
    if let Some(product) = &step.product {
        facts.push(format!("from \"{product}\""));
    }
    facts.extend(step.mixing(units));
    facts.extend(step.uses_up(units).map(|used| format!("uses up {used}")));
    if let Some(wait) = &step.wait {
        let word = match wait.kind.as_str() {
            "dwell" => "leave on",
            "set" => "let set",
            "recoat" => "then the next coat after",
            "cure" => "let cure",
            _ => "let dry",
        };
        let most = wait
            .max_min
            .map(|max_min| format!(" and within {}", minutes(max_min)))
            .unwrap_or_default();
        let until = step
            .wait_ends
            .as_ref()
            .map(|until| format!(" (here until {})", when(until).trim()))
            .unwrap_or_default();
        facts.push(format!("{word} {}{most}{until}", minutes(wait.min_min)));
    }
    page.hanging("                       ", &facts.join("; "));
    let news: Vec<_> = step
        .because
        .iter()
        .filter(|because| told.insert(because.text.as_str()))
        .collect();
    let reasons = if news.is_empty() {
        step.because.iter().take(1).collect()
    } else {
        news
    };
    for because in reasons {
        page.hanging(
            "                       – ",
            &format!("{} [{}]", because.text, because.source),
        );
    }
    for caution in &plan.cautions {
        if step.cautions.contains(&caution.id) && caution.level < crate::plan::Level::Note {
            page.hanging("                       ! ", &format!("see caution {}", caution.id));
        }
    }
}

fn write_money(page: &mut Page, piece: &PlannedPiece) {
    page.subheading("money", "");
    let money = &piece.money;
    let rows = [
        ("materials", money.materials),
        ("bench hours", money.labour),
        ("rent, power, tools", money.overhead),
        ("what it cost us", money.purchase),
        ("cost", money.total),
    ];
    for (name, sum) in rows {
        if name == "cost" {
            page.line(&format!("  {}", "─".repeat(32)));
        }
        if sum.money.minor() != 0 || name == "cost" {
            page.line(&format!("  {}{}", left(name, 20), right(&sum.show(), 12)));
        }
    }
    page.line(&format!("  {}{}", left("price", 20), right(&money.price.show(), 12)));
    page.hanging(
        "  ",
        &format!(
            "Nine times in ten a price between {} and {} would have been right; at {} the chance of losing money is {:.0} %.",
            money.price_p10.show(),
            money.price_p90.show(),
            money.price.show(),
            money.loss_chance * 100.0
        ),
    );
    if let Some(most) = money.most_to_pay {
        page.hanging(
            "  ",
            &format!("At that price the most to have paid for it is {}.", most.show()),
        );
    }
}

/// `Mon 8 Mar  9:00`.
pub(crate) fn when(moment: &ZonedDateTime) -> String {
    format!(
        "{} {}",
        moment.strftime("%a %e %b"),
        right(&moment.strftime("%-H:%M").to_string(), 5)
    )
}

/// `Monday 8 March`.
pub(crate) fn day(moment: &ZonedDateTime) -> String {
    moment.strftime("%A %-d %B").to_string()
}

fn day_and_time(moment: &ZonedDateTime) -> String {
    moment.strftime("%A %-d %B at %-H:%M").to_string()
}

/// The day that ends at this midnight.
fn last_day(midnight: &ZonedDateTime) -> String {
    let before = midnight
        .checked_sub(jiff::SignedDuration::from_mins(1))
        .unwrap_or_else(|_| midnight.clone());
    day(&before)
}

/// Minutes as a person says them.
pub(crate) fn minutes(minutes: u32) -> String {
    let (hours, rest) = (minutes / 60, minutes % 60);
    match (hours, rest) {
        (0, rest) => format!("{rest} min"),
        (hours, _) if hours >= 48 => {
            let days = f64::from(minutes) / 1440.0;
            if (days - days.round()).abs() < 0.05 {
                format!("{days:.0} days")
            } else {
                format!("{days:.1} days")
            }
        }
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}

fn hours(hours: f64) -> String {
    if hours >= 48.0 {
        format!("{:.1} days", hours / 24.0)
    } else {
        format!("{hours:.1} h")
    }
}
