//! Writing the shop and its pieces out as plan files: what the browser holds and what a file says are the same thing.
//!
//! A quantity is written in the shop's units where that reads back as the same quantity, and exactly in SI otherwise.

use std::fmt::Write as _;

use quantity::{Length, Minutes, Money, UnitSystem, Volume};

use crate::model::{
    Details, Equipment, FoundLayer, Hours, HowMeasured, LeadTested, LegShape, Legs, Means, Overruled, OwnStep, Piece,
    Room, Seller, Settings, ShelfProduct, ShelfSupply, Shop, TopShape, Wish, Zone, show_day, slug, within_90,
};

/// The whole shop as one plan file.
pub fn write_shop(shop: &Shop) -> String {
    let mut text = String::new();
    write_settings(&mut text, &shop.settings);
    for seller in &shop.settings.sellers {
        write_seller(&mut text, seller, &shop.settings);
    }
    for product in &shop.shelf {
        write_product(&mut text, product, &shop.settings);
    }
    for supply in &shop.supplies {
        write_supply(&mut text, supply, &shop.settings);
    }
    for piece in &shop.pieces {
        text.push('\n');
        text.push_str(&write_piece(piece, &shop.settings));
    }
    text
}

/// One `[[piece]]` with its zones.
pub fn write_piece(piece: &Piece, settings: &Settings) -> String {
    let units = settings.units;
    let mut text = "[[piece]]\n".to_owned();
    line(&mut text, "name", &quoted(&piece.name));
    if piece.id != slug(&piece.name) {
        line(&mut text, "id", &quoted(&piece.id));
    }
    line(&mut text, "form", &quoted(piece.form.kind.word()));
    for (key, size, how) in piece.form.outline() {
        if size.m() > 0.0 {
            line(&mut text, key, &measure(size, how, units));
        }
    }
    if !piece.form.dimensions.is_empty() {
        let entries = piece.form.dimensions.iter().map(|(name, said)| {
            let value = measure(said.length, said.measured, units);
            format!("{} = {value}", name.replace(' ', "-"))
        });
        let entries: Vec<String> = entries.collect();
        line(&mut text, "dimensions", &format!("{{ {} }}", entries.join(", ")));
    }
    write_details(&mut text, &piece.form.details, units);
    if piece.count != 1 {
        line(&mut text, "count", &piece.count.to_string());
    }
    line(&mut text, "made", &quoted(&piece.made.show()));
    line(
        &mut text,
        "stage",
        &quoted(word_of(&crate::model::PieceStage::WORDS, &piece.stage)),
    );
    line(
        &mut text,
        "for",
        &quoted(word_of(&crate::model::ForWhom::WORDS, &piece.for_whom)),
    );
    line(&mut text, "use", &quoted(piece.used_for.id()));
    if let Some(kind) = piece.kind {
        line(&mut text, "kind", &quoted(kind.id()));
    }
    if let Some(placement) = piece.placement {
        line(&mut text, "placement", &quoted(placement.id()));
    }
    if let Some(due) = piece.due {
        line(&mut text, "due", &quoted(&due.to_string()));
    }
    if let Some(paid) = piece.paid {
        line(&mut text, "paid", &money(paid, settings));
    }
    if let Some(sells_for) = piece.sells_for {
        line(&mut text, "sells_for", &money(sells_for, settings));
    }
    if let Some(room) = &piece.room {
        line(&mut text, "room", &quoted(room));
    }
    if let Some(prefer) = piece.prefer {
        line(
            &mut text,
            "prefer",
            &quoted(word_of(&crate::model::Prefer::WORDS, &prefer)),
        );
    }
    if !piece.notes.is_empty() {
        line(&mut text, "notes", &quoted(&piece.notes));
    }
    for zone in &piece.zones {
        write_zone(&mut text, zone);
    }
    text
}

fn write_settings(text: &mut String, settings: &Settings) {
    text.push_str("[shop]\n");
    line(text, "name", &quoted(&settings.name));
    line(
        text,
        "units",
        &quoted(if settings.units == UnitSystem::Metric {
            "metric"
        } else {
            "imperial"
        }),
    );
    line(text, "currency", &quoted(settings.currency.code()));
    line(text, "zone_id", &quoted(&settings.zone_id));
    if let Some(starts) = settings.starts {
        line(text, "starts", &quoted(&starts.to_string()));
    }
    line(text, "hours", &hours(&settings.hours));
    line(text, "buy_for", &quoted(settings.buy_for.word()));
    if settings.worth_moving != Settings::USUAL_WORTH_MOVING {
        line(
            text,
            "worth_moving",
            &quoted(&format!("{} min", settings.worth_moving.get())),
        );
    }
    line(text, "wage", &money(settings.wage_per_h, settings));
    line(text, "overhead", &money(settings.overhead_per_h, settings));
    line(text, "margin", &number(settings.margin));
    line(
        text,
        "prefer",
        &quoted(word_of(&crate::model::Prefer::WORDS, &settings.prefer)),
    );
    let tools = settings.tools;
    let machines = [
        ("spray-gun", tools.spray_gun),
        ("sander", tools.sander),
        ("heat-gun", tools.heat_gun),
    ];
    line(
        text,
        "tools",
        &list(machines.iter().filter(|(_, has)| *has).map(|(word, _)| quoted(word))),
    );
    if settings.equipment != Equipment::default() {
        line(text, "equipment", &equipment(settings.equipment, settings.units));
    }
    for hand in &settings.hands {
        text.push_str("\n  [[shop.person]]\n");
        line(text, "  name", &quoted(&hand.name));
        if let Some(own) = &hand.hours {
            line(text, "  hours", &hours(own));
        }
    }
    for block in &settings.blocks {
        text.push_str("\n  [[shop.block]]\n");
        if let Some(hand) = block.hand.and_then(|hand_idx| settings.hands.get(hand_idx)) {
            line(text, "  person", &quoted(&hand.name));
        }
        line(text, "  from", &quoted(&block.from.to_string()));
        line(text, "  to", &quoted(&block.to.to_string()));
        if !block.why.is_empty() {
            line(text, "  why", &quoted(&block.why));
        }
    }
    if let Some(room) = settings.rooms.first() {
        write_spells(text, "shop", room);
    }
    // The first room goes into [shop], where its name is known before any [[room]] is read.
    for (room_idx, room) in settings.rooms.iter().enumerate() {
        let air = format!(
            "temperature = \"{} °C\", humidity = {}, volume = \"{} m3\", air_changes = {}",
            number(room.temperature.c()),
            number(room.humidity.fraction()),
            number(room.volume.m3()),
            number(room.air_changes_per_h)
        );
        if room_idx == 0 {
            let at = text.find("prefer = ").unwrap_or(text.len());
            let mut first = format!("room = {{ name = {}, {air} }}\n", quoted(&room.name));
            if let Some(file) = &room.readings_file {
                let _ = writeln!(first, "readings = {}", quoted(file));
            }
            text.insert_str(at, &first);
        } else {
            text.push_str("\n[[room]]\n");
            line(text, "name", &quoted(&room.name));
            for entry in air.split(", ") {
                text.push_str(entry);
                text.push('\n');
            }
            if let Some(file) = &room.readings_file {
                line(text, "readings", &quoted(file));
            }
            write_spells(text, "room", room);
        }
    }
}

fn write_spells(text: &mut String, table: &str, room: &Room) {
    for spell in &room.spells {
        let _ = write!(text, "\n  [[{table}.spell]]\n");
        line(text, "  from", &quoted(&spell.from.to_string()));
        line(text, "  to", &quoted(&spell.to.to_string()));
        if let Some(temperature) = spell.temperature {
            line(
                text,
                "  temperature",
                &quoted(&format!("{} °C", number(temperature.c()))),
            );
        }
        if let Some(humidity) = spell.humidity {
            line(text, "  humidity", &number(humidity.fraction()));
        }
    }
}

fn equipment(equipment: Equipment, units: UnitSystem) -> String {
    let mut entries = vec![
        format!("by_hand = {}", quoted(equipment.by_hand.id())),
        format!("sprayer = {}", quoted(equipment.sprayer.id())),
    ];
    if let Some(loss) = equipment.cup_loss {
        entries.push(format!("cup_loss = {}", quoted(&volume(loss, units))));
    }
    if let Some(disc) = equipment.disc {
        entries.push(format!("disc = {}", quoted(&length(disc, units))));
    }
    format!("{{ {} }}", entries.join(", "))
}

fn write_seller(text: &mut String, seller: &Seller, settings: &Settings) {
    text.push_str("\n[[seller]]\n");
    line(text, "name", &quoted(&seller.name));
    if seller.trip != Money::ZERO {
        line(text, "trip", &money(seller.trip, settings));
    }
    text.push_str("cans = [\n");
    for can in &seller.cans {
        let _ = writeln!(
            text,
            "  {{ class = {}, size = {}, price = {} }},",
            quoted(can.class.id()),
            quoted(&volume(can.size, settings.units)),
            money(can.price, settings)
        );
    }
    text.push_str("]\n");
}

fn write_product(text: &mut String, product: &ShelfProduct, settings: &Settings) {
    text.push_str("\n[[shelf]]\n");
    line(text, "name", &quoted(&product.name));
    line(text, "class", &quoted(product.class.id()));
    line(text, "size", &quoted(&volume(product.size, settings.units)));
    line(text, "left", &number(product.left));
    line(text, "price", &money(product.price, settings));
    let mut label = Vec::new();
    let times = [
        ("recoat_min", product.label.recoat_min),
        ("recoat_max", product.label.recoat_max),
        ("dry", product.label.dry),
        ("cure", product.label.cure),
    ];
    for (key, time) in times {
        if let Some(time) = time {
            label.push(format!("{key} = {}", quoted(&minutes(time))));
        }
    }
    if let Some(spread) = product.label.spread {
        label.push(format!("spread = \"{} m2/l\"", number(spread.m2_per_litre())));
    }
    for (key, share) in [
        ("solids", product.label.solids),
        ("hiding", product.label.hiding),
        ("thinner", product.label.thinner),
    ] {
        if let Some(share) = share {
            label.push(format!("{key} = {}", number(share)));
        }
    }
    if let Some(spread) = product.label.hiding_at {
        label.push(format!("hiding_at = \"{} m2/l\"", number(spread.m2_per_litre())));
    }
    if let Some((base, hardener)) = product.label.mix {
        label.push(format!("mix = \"{base}:{hardener}\""));
    }
    if let Some(pot_life) = product.label.pot_life {
        label.push(format!("pot_life = {}", quoted(&minutes(pot_life))));
    }
    if let Some(coats) = product.label.coats {
        label.push(format!("coats = {coats}"));
    }
    if !label.is_empty() {
        line(text, "label", &format!("{{ {} }}", label.join(", ")));
    }
    for (key, day) in [("opened", product.opened), ("goes_off", product.goes_off)] {
        if let Some(day) = day {
            line(text, key, &quoted(&day.to_string()));
        }
    }
    if let Some(colour) = &product.colour {
        line(text, "colour", &quoted(colour));
    }
}

fn write_supply(text: &mut String, supply: &ShelfSupply, settings: &Settings) {
    let amount = |amount: f64| match supply.what.unit() {
        trade::Unit::Piece => format!("{amount:.0}"),
        trade::Unit::Metre => quoted(&format!("{} m", number(amount))),
        trade::Unit::Millilitre => quoted(&format!("{} ml", number(amount))),
    };
    text.push_str("\n[[supply]]\n");
    line(text, "name", &quoted(&supply.name));
    line(text, "what", &quoted(&supply.what.id()));
    line(text, "pack", &amount(supply.pack));
    let left = if supply.left > 0.0 {
        amount(supply.left)
    } else {
        "0".to_owned()
    };
    line(text, "left", &left);
    line(text, "price", &money(supply.price, settings));
}

fn write_details(text: &mut String, details: &Details, units: UnitSystem) {
    if let Some((rows, columns)) = details.drawers {
        line(text, "drawers", &format!("{{ rows = {rows}, columns = {columns} }}"));
    }
    let counts = [
        ("doors", details.doors),
        ("shelves", details.shelves),
        ("pulls", details.pulls),
        ("leaves", details.leaves),
        ("slats", details.slats),
        ("spindles", details.spindles),
        ("stretchers", details.stretchers),
    ];
    for (key, count) in counts {
        if let Some(count) = count {
            line(text, key, &count.to_string());
        }
    }
    let flags = [
        ("lid", details.lid),
        ("back", details.back),
        ("inside", details.inside),
        ("arms", details.arms),
    ];
    for (key, flag) in flags {
        if let Some(flag) = flag {
            line(text, key, &flag.to_string());
        }
    }
    let lengths = [
        ("overhang", details.overhang),
        ("plinth", details.plinth),
        ("moulding", details.moulding),
        ("apron", details.apron),
        ("seat", details.seat),
        ("thickness", details.thickness),
        ("member", details.member),
    ];
    for (key, size) in lengths {
        if let Some(size) = size {
            line(text, key, &length_or_none(size, units));
        }
    }
    if let Some(shape) = details.shape {
        line(text, "shape", &quoted(word_of(&TopShape::WORDS, &shape)));
    }
    if let Some(legs) = details.legs {
        line(text, "legs", &write_legs(legs, units));
    }
    if !details.profile.is_empty() {
        let points: Vec<String> = details
            .profile
            .iter()
            .map(|(height, radius)| {
                format!(
                    "[{}, {}]",
                    length_or_none(*height, units),
                    length_or_none(*radius, units)
                )
            })
            .collect();
        line(text, "profile", &format!("[{}]", points.join(", ")));
    }
    if let Some(mesh) = &details.mesh {
        let unit = [("mm", 0.001), ("cm", 0.01), ("m", 1.0), ("in", 0.0254), ("ft", 0.3048)]
            .into_iter()
            .min_by(|a, b| (a.1 - mesh.unit_m).abs().total_cmp(&(b.1 - mesh.unit_m).abs()))
            .map_or("m", |(word, _)| word);
        line(
            text,
            "mesh",
            &format!(
                "{{ file = {}, unit = \"{unit}\"{}{} }}",
                quoted(&mesh.file),
                if mesh.y_up { ", up = \"y\"" } else { "" },
                mesh.scan.as_deref().map(scan).unwrap_or_default()
            ),
        );
    }
}

/// What was read of a scan, so that its file is not needed again.
fn scan(scan: &takeoff::Scan) -> String {
    let parts = scan.parts.iter().map(|part| {
        format!(
            "{{ name = {}, area_m2 = {} }}",
            quoted(&part.id),
            number(part.area.m2())
        )
    });
    format!(
        ", size_m = {}, holes_m2 = {}, parts = {}, likeness = {}",
        list(scan.scanned.iter().map(|side| number(side.m()))),
        number(scan.missing.m2()),
        list(parts),
        quoted(&scan.likeness())
    )
}

fn write_legs(legs: Legs, units: UnitSystem) -> String {
    let mut entries = Vec::new();
    if let Some(shape) = legs.shape {
        entries.push(format!("shape = {}", quoted(word_of(&LegShape::WORDS, &shape))));
    }
    if let Some(size) = legs.length {
        entries.push(format!("length = {}", quoted(&length(size, units))));
    }
    if let Some(size) = legs.thickness {
        entries.push(format!("thickness = {}", quoted(&length(size, units))));
    }
    if let Some(count) = legs.count {
        entries.push(format!("count = {count}"));
    }
    if entries.is_empty() {
        "{}".to_owned()
    } else {
        format!("{{ {} }}", entries.join(", "))
    }
}

fn write_zone(text: &mut String, zone: &Zone) {
    text.push_str("\n  [[piece.zone]]\n");
    line(text, "  name", &quoted(&zone.name));
    if !zone.of.is_empty() {
        line(text, "  of", &list(zone.of.iter().map(|surface| quoted(surface))));
    }
    line(text, "  substrate", &quoted(&zone.substrate.to_string()));
    if !zone.found.is_empty() {
        let layers = zone.found.iter().map(|layer| {
            let colour = layer
                .colour
                .as_ref()
                .map(|colour| format!(", colour = {}", quoted(colour)))
                .unwrap_or_default();
            format!(
                "{{ class = {}, coats = {}{colour}{} }}",
                quoted(layer.class.id()),
                layer.coats,
                write_more_of_layer(layer)
            )
        });
        line(text, "  found", &list(layers));
    }
    if !zone.state.is_empty() {
        let words = zone.state.iter().map(|state| quoted(state.id()));
        line(text, "  state", &list(words));
    }
    if !zone.contaminants.is_empty() {
        line(
            text,
            "  contaminants",
            &list(zone.contaminants.iter().map(|contaminant| quoted(contaminant.id()))),
        );
    }
    if !zone.defects.is_empty() {
        let defects = zone.defects.iter().map(|defect| {
            let depth = defect
                .depth
                .map(|depth| format!(", depth = {}", quoted(&length(depth, UnitSystem::Metric))))
                .unwrap_or_default();
            format!(
                "{{ kind = {}, count = {}{depth} }}",
                quoted(defect.kind.id()),
                defect.count
            )
        });
        line(text, "  defects", &list(defects));
    }
    if zone.lead != LeadTested::default() {
        line(text, "  tested", &write_tested(zone.lead));
    }
    line(text, "  wish", &write_wish(&zone.wish));
    if let Some(area) = zone.area {
        line(text, "  area", &quoted(&format!("{} m2", number(area.m2()))));
    }
    if let Some(comes_off) = zone.comes_off {
        line(text, "  comes_off", &comes_off.to_string());
    }
    if let Some(chosen) = &zone.chosen {
        line(text, "  choose", &quoted(chosen));
    }
    if let Some(steps) = &zone.own {
        line(text, "  steps", &one_each_line(steps.iter().map(write_step)));
    }
    if let Some(steps) = &zone.draft {
        line(text, "  draft", &one_each_line(steps.iter().map(write_step)));
    }
    if !zone.overruled.is_empty() {
        line(
            text,
            "  overruled",
            &one_each_line(zone.overruled.iter().map(write_consent)),
        );
    }
}

fn write_tested(lead: LeadTested) -> String {
    let mut entries = vec![format!("lead = {}", quoted(lead.said.id()))];
    if let Some(kind) = lead.by {
        entries.push(format!("by = {}", quoted(kind.id())));
    }
    if let Some(amount) = lead.amount {
        entries.push(format!("amount = {}", quoted(&amount.show())));
    }
    format!("{{ {} }}", entries.join(", "))
}

/// Age, soundness and the tests of a layer, where they were said.
fn write_more_of_layer(layer: &FoundLayer) -> String {
    let mut more = String::new();
    if let Some(age) = layer.age {
        let _ = write!(more, ", age = {}", quoted(&minutes(age)));
    }
    if let Some(soundness) = layer.soundness {
        let _ = write!(more, ", soundness = {}", quoted(soundness.id()));
    }
    if let Some(guess) = &layer.guess {
        let _ = write!(more, ", guess = {{ era = {}", quoted(guess.era.id()));
        for answer in &guess.answers {
            let _ = write!(
                more,
                ", {} = {}",
                answer.observation().id(),
                quoted(answer.outcome().id())
            );
        }
        more.push_str(" }");
    }
    more
}

fn write_step(step: &OwnStep) -> String {
    let mut entries = vec![format!("operation = {}", quoted(step.operation.id()))];
    if let Some(material) = step.material {
        entries.push(format!("material = {}", quoted(material.id())));
    }
    if let Some(grit) = step.grit {
        entries.push(format!("grit = {}", quoted(grit.id())));
    }
    if step.wet {
        entries.push("wet = true".to_owned());
    }
    if let Some(method) = step.method {
        entries.push(format!("method = {}", quoted(method.id())));
    }
    if let Some(wait_min) = step.wait_min {
        entries.push(format!("wait = \"{wait_min} min\""));
    }
    format!("{{ {} }}", entries.join(", "))
}

/// A consent as it stands in a plan file.
pub(crate) fn write_consent(consent: &Overruled) -> String {
    format!(
        "{{ rule = {}, situation = {}, reason = {}, by = {}, on = {} }}",
        quoted(&consent.rule),
        quoted(&consent.situation),
        quoted(&consent.reason),
        quoted(&consent.by),
        quoted(&consent.on.to_string())
    )
}

fn one_each_line(items: impl Iterator<Item = String>) -> String {
    let mut text = "[\n".to_owned();
    for item in items {
        let _ = writeln!(text, "    {item},");
    }
    text.push_str("  ]");
    text
}

fn write_wish(wish: &Wish) -> String {
    let mut entries = vec![format!("look = {}", quoted(wish.look.id()))];
    if let Some(sheen) = wish.sheen {
        entries.push(format!("sheen = {}", quoted(sheen.id())));
    }
    if let Some(colour) = &wish.colour {
        entries.push(format!("colour = {}", quoted(colour)));
    }
    if let Some(strip) = wish.strip {
        entries.push(format!("strip = {strip}"));
    }
    if let Some(class) = wish.class {
        entries.push(format!("class = {}", quoted(class.id())));
    }
    if let Some(product) = &wish.product {
        entries.push(format!("product = {}", quoted(product)));
    }
    if let Some(coats) = wish.coats {
        entries.push(format!("coats = {coats}"));
    }
    if !wish.without.is_empty() {
        let words = wish.without.iter().map(|without| quoted(without.id()));
        entries.push(format!("without = {}", list(words)));
    }
    for (key, flag) in [("distress", wish.distress), ("glaze", wish.glaze)] {
        if flag {
            entries.push(format!("{key} = true"));
        }
    }
    format!("{{ {} }}", entries.join(", "))
}

fn line(text: &mut String, key: &str, value: &str) {
    let _ = writeln!(text, "{key} = {value}");
}

fn list(items: impl Iterator<Item = String>) -> String {
    format!("[{}]", items.collect::<Vec<_>>().join(", "))
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

fn word_of<T: PartialEq>(words: &[(&'static str, T)], wanted: &T) -> &'static str {
    words
        .iter()
        .find(|(_, value)| value == wanted)
        .map_or("", |(word, _)| word)
}

fn hours(hours: &Hours) -> String {
    let days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let entries: Vec<String> = days
        .iter()
        .zip(&hours.days)
        .filter(|(_, periods)| !periods.is_empty())
        .map(|(day, periods)| format!("{day} = \"{}\"", show_day(periods)))
        .collect();
    format!("{{ {} }}", entries.join(", "))
}

/// A number with as many figures as it needs and no noise of binary fractions.
fn number(number: f64) -> String {
    let text = format!("{number:.9}");
    let text = text.trim_end_matches('0');
    if let Some(whole) = text.strip_suffix('.') {
        format!("{whole}.0")
    } else {
        text.to_owned()
    }
}

fn money(sum: Money, settings: &Settings) -> String {
    quoted(&sum.show(settings.currency))
}

fn length(length: Length, units: UnitSystem) -> String {
    let shown = length.show(units);
    let is_same = Length::parse(&shown).is_ok_and(|read| (read.m() - length.m()).abs() < 1e-9);
    if is_same {
        shown
    } else {
        format!("{} mm", number(length.m() * 1000.0))
    }
}

/// A length and how it was measured.
fn measure(size: Length, how: HowMeasured, units: UnitSystem) -> String {
    if how.is_plain() {
        return length_or_none(size, units);
    }
    let within = how
        .standard_error
        .map(|error| format!(", give_or_take = \"{} mm\"", number(within_90(error).mm())))
        .unwrap_or_default();
    format!(
        "{{ length = {}, by = {}{within} }}",
        quoted(&length(size, units)),
        quoted(word_of(&Means::WORDS, &how.means))
    )
}

fn length_or_none(size: Length, units: UnitSystem) -> String {
    if size.m() > 0.0 {
        quoted(&length(size, units))
    } else {
        "0".to_owned()
    }
}

fn volume(volume: Volume, units: UnitSystem) -> String {
    let shown = volume.show(units);
    let is_same = Volume::parse(&shown).is_ok_and(|read| (read.ml() - volume.ml()).abs() < 1e-6);
    if is_same {
        shown
    } else {
        format!("{} ml", number(volume.ml()))
    }
}

fn minutes(minutes: Minutes) -> String {
    format!("{} min", minutes.get())
}
