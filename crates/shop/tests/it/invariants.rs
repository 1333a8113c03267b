//! What must hold of every plan, checked from the outside on what the plan says.

use std::collections::BTreeMap;

use jiff::Timestamp;
use shop::Shop;
use shop::plan::{Plan, PlannedStep};
use trade::Operation;

use crate::examples::{GARAGE, garage, planned, washstand};

fn every_example() -> Vec<(Shop, Plan)> {
    [garage(&GARAGE), washstand()]
        .into_iter()
        .map(|shop| {
            let plan = planned(&shop);
            (shop, plan)
        })
        .collect()
}

fn operation(step: &PlannedStep) -> Operation {
    Operation::parse(&step.operation).unwrap()
}

/// Beginning and end of every block of every step.
fn blocks(plan: &Plan) -> Vec<(&str, usize, Timestamp, Timestamp)> {
    plan.days
        .iter()
        .flat_map(|day| &day.blocks)
        .map(|block| {
            (
                block.step.as_str(),
                block.hand,
                block.from.timestamp(),
                block.to.timestamp(),
            )
        })
        .collect()
}

#[test]
fn no_hand_does_two_things_at_once() {
    for (_, plan) in every_example() {
        let mut all = blocks(&plan);
        all.sort_by_key(|(_, hand, from, _)| (*hand, *from));
        for pair in all.windows(2) {
            assert!(pair[0].1 != pair[1].1 || pair[0].3 <= pair[1].2, "{pair:?}");
        }
    }
}

#[test]
fn work_lies_within_working_hours() {
    for (shop, plan) in every_example() {
        for day in &plan.days {
            for block in &day.blocks {
                let minute = |moment: &jiff::ZonedDateTime| {
                    u16::try_from(i32::from(moment.hour()) * 60 + i32::from(moment.minute())).unwrap()
                };
                let (from, to) = (minute(&block.from), minute(&block.to));
                let to = if to == 0 { 1440 } else { to };
                let periods = shop.settings.hours.on(day.date.weekday());
                assert!(
                    periods
                        .iter()
                        .any(|period| period.from_min <= from && to <= period.to_min),
                    "{block:?}"
                );
            }
        }
    }
}

#[test]
fn every_minute_of_work_stands_on_a_day_sheet() {
    for (_, plan) in every_example() {
        let mut worked: BTreeMap<&str, i64> = BTreeMap::new();
        for (step, _, from, to) in blocks(&plan) {
            *worked.entry(step).or_default() += to.duration_since(from).as_mins();
        }
        for (_, _, step) in plan.steps() {
            assert_eq!(
                worked.get(step.id.as_str()).copied(),
                Some(i64::from(step.hands_on_min.max(1))),
                "{}",
                step.id
            );
        }
        assert_eq!(worked.values().sum::<i64>(), i64::from(plan.schedule.bench_min));
    }
}

#[test]
fn each_step_waits_for_the_one_before_it() {
    for (_, plan) in every_example() {
        for zone in plan.pieces.iter().flat_map(|piece| &piece.zones) {
            for pair in zone.steps.windows(2) {
                let ready = pair[0].wait_ends.as_ref().unwrap_or(&pair[0].ends);
                // The scheduler's clock counts in whole units, so a wait may end a minute earlier than the room's own.
                let early = ready.timestamp().duration_since(pair[1].starts.timestamp()).as_mins();
                assert!(
                    early <= 2,
                    "{} begins {early} min before {} is ready",
                    pair[1].id,
                    pair[0].id
                );
            }
        }
    }
}

#[test]
fn nothing_dusty_is_done_while_anything_is_wet() {
    let mut coats_seen = 0;
    for (_, plan) in every_example() {
        let steps: Vec<&PlannedStep> = plan.steps().map(|(_, _, step)| step).collect();
        let dusty: Vec<&&PlannedStep> = steps.iter().filter(|step| operation(step).is_dusty()).collect();
        for coat in steps.iter().filter(|step| operation(step).is_coating()) {
            let Some(wet_ends) = &coat.wet_ends else { continue };
            coats_seen += 1;
            for (step, _, from, to) in blocks(&plan) {
                if !dusty.iter().any(|dusty| dusty.id == step) {
                    continue;
                }
                let is_clear =
                    to <= coat.starts.timestamp() || from.duration_since(wet_ends.timestamp()).as_mins() >= -2;
                assert!(
                    is_clear,
                    "{step} throws dust at {from} on {}, wet until {wet_ends}",
                    coat.id
                );
            }
        }
    }
    assert!(coats_seen > 10, "wet coats in the examples: {coats_seen}");
}

#[test]
fn the_dust_free_time_of_a_coat_is_its_own_in_the_rooms_air() {
    // 20 °C and 50 %: vapour-pressure deficit 1169 Pa against 1584 Pa in the reference air, so water takes 1.355 times as long.
    let plan = planned(&washstand());
    let mut seen = 0;
    for (_, _, step) in plan.steps() {
        let (Some(wet_ends), Some(class)) = (
            &step.wet_ends,
            step.material
                .as_deref()
                .and_then(|id| trade::FinishClass::parse(id).ok()),
        ) else {
            continue;
        };
        let row = class.row();
        if row.dry_model != trade::finish_rows::DryModel::Waterborne {
            continue;
        }
        let expected = row.touch_h.typical * 60.0 * 1.355;
        let wet_min = wet_ends.timestamp().duration_since(step.ends.timestamp()).as_secs_f64() / 60.0;
        assert!(
            (wet_min - expected).abs() < 0.03 * expected + 2.0,
            "{}: {wet_min} min, by hand {expected}",
            step.id
        );
        seen += 1;
    }
    assert!(seen > 0, "the washstand has waterborne coats");
}

#[test]
fn hardware_comes_off_first_and_goes_back_last_when_it_is_hard() {
    for (_, plan) in every_example() {
        for piece in &plan.pieces {
            let Some(hardware) = piece.zones.iter().find(|zone| zone.name == "hardware") else {
                continue;
            };
            let (off, on) = (&piece.closing[0], piece.closing.last().unwrap());
            assert_eq!(
                (off.operation.as_str(), on.operation.as_str()),
                ("remove-hardware", "refit-hardware")
            );
            for step in piece.zones.iter().flat_map(|zone| &zone.steps) {
                assert!(
                    off.ends.timestamp() <= step.starts.timestamp(),
                    "{} before the hardware is off",
                    step.id
                );
                assert!(
                    step.ends.timestamp() <= on.starts.timestamp(),
                    "{} after the hardware is back",
                    step.id
                );
            }
            let coat = hardware
                .steps
                .iter()
                .rev()
                .find(|step| operation(step).is_coating())
                .unwrap();
            let class = trade::FinishClass::parse(coat.material.as_deref().unwrap()).unwrap();
            let light_use_h = class
                .row()
                .light_use_d
                .map_or(class.row().recoat_min_h.typical * 2.0, |days| days * 24.0);
            let rest_h = on
                .starts
                .timestamp()
                .duration_since(coat.ends.timestamp())
                .as_secs_f64()
                / 3600.0;
            // Warmer than the reference it never is in these rooms, so the wait is at least the table's.
            assert!(
                rest_h >= light_use_h.min(class.row().full_cure_d.typical * 24.0) - 0.05,
                "{}: {rest_h} h of {light_use_h} h",
                piece.name
            );
        }
    }
}

#[test]
fn waits_are_used_for_other_zones() {
    let plan = planned(&washstand());
    let waits: Vec<(&str, Timestamp, Timestamp)> = plan
        .steps()
        .filter_map(|(_, zone, step)| {
            let ends = step.wait_ends.as_ref()?.timestamp();
            Some((zone?.name.as_str(), step.ends.timestamp(), ends))
        })
        .filter(|(_, from, to)| to.duration_since(*from).as_mins() >= 25)
        .collect();
    let used = waits
        .iter()
        .filter(|(zone, from, to)| {
            plan.days
                .iter()
                .flat_map(|day| &day.blocks)
                .any(|block| block.zone != *zone && block.from.timestamp() < *to && block.to.timestamp() > *from)
        })
        .count();
    assert!(waits.len() >= 6, "{} long waits", waits.len());
    assert!(
        used * 2 >= waits.len(),
        "{used} of {} long waits have other work in them",
        waits.len()
    );
}

#[test]
fn every_step_says_why_and_from_where() {
    for (_, plan) in every_example() {
        for (_, _, step) in plan.steps() {
            assert!(!step.because.is_empty(), "{} says no reason", step.id);
            for because in &step.because {
                assert!(
                    !because.rule.is_empty() && !because.text.is_empty() && !because.source.is_empty(),
                    "{}",
                    step.id
                );
            }
        }
    }
}

#[test]
fn every_caution_of_a_step_is_in_the_list() {
    for (_, plan) in every_example() {
        let mut ids: Vec<&str> = plan.cautions.iter().map(|caution| caution.id.as_str()).collect();
        for (piece, _, step) in plan.steps() {
            for id in &step.cautions {
                let caution = plan
                    .cautions
                    .iter()
                    .find(|caution| caution.id == *id)
                    .unwrap_or_else(|| panic!("{id}"));
                assert!(
                    caution.pieces.contains(&piece.name),
                    "{id} of {} does not name {}",
                    step.id,
                    piece.name
                );
            }
        }
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "each caution stands once");
    }
}

#[test]
fn money_adds_up() {
    for (shop, plan) in every_example() {
        for piece in &plan.pieces {
            let money = &piece.money;
            let minor = |sum: shop::plan::Sum| sum.money.minor();
            let parts = minor(money.materials) + minor(money.labour) + minor(money.overhead) + minor(money.purchase);
            assert_eq!(minor(money.total), parts, "{}", piece.name);
            let bench_min: i64 = plan
                .steps()
                .filter(|(other, _, _)| other.id == piece.id)
                .map(|(_, _, step)| i64::from(step.hands_on_min))
                .sum();
            // By hand: wage × minutes / 60, to the nearest cent.
            let labour = (shop.settings.wage_per_h.minor() * bench_min * 2 + 60) / 120;
            assert_eq!(minor(money.labour), labour, "{}", piece.name);
            // Price = total / (1 − margin), to the cent.
            #[allow(clippy::cast_precision_loss, reason = "cents of a piece")]
            let price = minor(money.total) as f64 / (1.0 - shop.settings.margin);
            #[allow(clippy::cast_precision_loss, reason = "cents of a piece")]
            let asked = minor(money.price) as f64;
            assert!((asked - price).abs() <= 1.0, "{}: {asked} against {price}", piece.name);
            assert!(minor(money.price_p10) < minor(money.price) && minor(money.price) < minor(money.price_p90));
            assert!((0.0..=1.0).contains(&money.loss_chance));
        }
    }
}

#[test]
fn the_list_covers_what_the_steps_use() {
    for (_, plan) in every_example() {
        let mut used: BTreeMap<&str, f64> = BTreeMap::new();
        for (_, _, step) in plan.steps() {
            if let (Some(material), Some(quantity_ml)) = (&step.material, step.quantity_ml) {
                *used.entry(material).or_default() += quantity_ml;
            }
            // What thins a coat and washes its brush is bought with the rest.
            for supply in step.supplies.iter().filter(|supply| supply.unit == "ml") {
                if trade::Material::parse(&supply.id).is_ok() {
                    *used.entry(&supply.id).or_default() += supply.likely;
                }
            }
        }
        for (class, used_ml) in used {
            let items: Vec<_> = plan.shopping.iter().filter(|item| item.class == class).collect();
            let need_ml: f64 = items.iter().map(|item| item.need_ml).sum();
            assert!(
                (need_ml - used_ml).abs() < 1.0,
                "{class}: {used_ml} used, {need_ml} listed"
            );
            for item in items {
                assert!(
                    item.low_ml <= item.likely_ml && item.likely_ml <= item.high_ml,
                    "{class}"
                );
                assert_eq!((item.bought_for, item.need_ml), ("likely", item.likely_ml), "{class}");
                let bought_ml: f64 = item.buy.iter().map(|can| can.size_ml * f64::from(can.count)).sum();
                assert!(
                    item.on_shelf_ml + bought_ml >= item.need_ml - 1.0,
                    "{class}: too little bought"
                );
            }
        }
    }
}

#[test]
fn the_json_has_every_key_of_the_contract() {
    let plan = planned(&washstand());
    let json: serde_json::Value = serde_json::from_str(&plan.to_json().unwrap()).unwrap();
    let has = |value: &serde_json::Value, keys: &[&str]| {
        for key in keys {
            assert!(value.get(key).is_some(), "{key} is missing");
        }
    };
    has(
        &json,
        &[
            "pieces", "schedule", "days", "shopping", "supplies", "cautions", "assumed",
        ],
    );
    has(
        &json["supplies"][0],
        &[
            "id",
            "unit",
            "need",
            "low",
            "likely",
            "high",
            "bought_for",
            "on_shelf",
            "buy",
            "is_priced",
        ],
    );
    let piece = &json["pieces"][0];
    has(
        piece,
        &["name", "area_m2", "area_se_m2", "zones", "ready", "cured", "money"],
    );
    has(
        &piece["money"],
        &[
            "currency",
            "materials",
            "labour",
            "overhead",
            "purchase",
            "total",
            "price",
            "price_p10",
            "price_p90",
            "loss_chance",
        ],
    );
    let zone = &piece["zones"][0];
    has(zone, &["name", "area_m2", "schedules", "steps"]);
    has(
        &zone["schedules"][0],
        &[
            "best_at",
            "cost",
            "hands_on_min",
            "elapsed_h",
            "wear",
            "exposure",
            "chosen",
        ],
    );
    let step_keys = [
        "id",
        "operation",
        "material",
        "product",
        "grit",
        "coat",
        "hands_on_min",
        "quantity_ml",
        "quantity",
        "mixes",
        "supplies",
        "wait",
        "starts",
        "ends",
        "because",
        "cautions",
    ];
    for step in zone["steps"].as_array().unwrap() {
        has(step, &step_keys);
        has(&step["because"][0], &["rule", "text", "source"]);
        if !step["wait"].is_null() {
            has(&step["wait"], &["kind", "min_min", "max_min"]);
        }
        assert!(step["starts"].as_str().unwrap().ends_with("+02:00"), "Berlin in May");
    }
    has(
        &json["schedule"],
        &["starts", "ends", "bench_min", "objective", "bound", "proved", "late"],
    );
    has(&json["days"][0], &["date", "blocks"]);
    has(
        &json["days"][0]["blocks"][0],
        &["hand", "step", "piece", "zone", "from", "to"],
    );
    has(&json["shopping"][0], &["class", "need_ml", "on_shelf_ml", "buy"]);
    has(&json["cautions"][0], &["id", "level", "text", "source", "pieces"]);
    let chosen = zone["schedules"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|choice| choice["chosen"] == true)
        .count();
    assert_eq!(chosen, 1);
}
