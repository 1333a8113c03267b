//! `[shop]` and `[[room]]`: hours, hands, rates, air.

use jiff::tz::TimeZone;
use quantity::{Currency, Humidity, UnitSystem};
use trade::methods::Method;

use super::node::{Table, Value};
use super::readings;
use super::source::Beside;
use super::values::{self, Bare};
use crate::model::{Block, BuyFor, Equipment, Hand, Hours, Prefer, Room, Settings, Spell, Tools, parse_day};

const DAYS: [(&str, usize); 14] = [
    ("mon", 0),
    ("tue", 1),
    ("wed", 2),
    ("thu", 3),
    ("fri", 4),
    ("sat", 5),
    ("sun", 6),
    ("monday", 0),
    ("tuesday", 1),
    ("wednesday", 2),
    ("thursday", 3),
    ("friday", 4),
    ("saturday", 5),
    ("sunday", 6),
];

/// The units and currency that bare numbers are read in; asked before anything else, of every file.
pub(crate) fn bare_of(table: &Table<'_>, settings: &mut Settings) {
    if let Some(value) = table.get("units")
        && let Some(units) = value.word(&[("imperial", UnitSystem::Imperial), ("metric", UnitSystem::Metric)])
    {
        settings.units = units;
    }
    if let Some(value) = table.get("currency") {
        match value.as_text().map(Currency::parse) {
            Some(Ok(currency)) => settings.currency = currency,
            _ => value.refuse(
                "a currency of ISO 4217",
                "three letters, such as \"USD\", \"EUR\" or \"GBP\"",
            ),
        }
    }
}

/// Reads `[shop]` over the defaults in `settings`.
pub(crate) fn read(table: Table<'_>, settings: &mut Settings, beside: &dyn Beside) {
    let bare = Bare {
        units: settings.units,
        currency: settings.currency,
    };
    // Asked here too so that they count as known when the table is closed.
    let _ = (table.get("units"), table.get("currency"));
    if let Some(name) = table
        .get("name")
        .and_then(|value| value.text(80, "a name such as \"Lane End\""))
    {
        settings.name = name;
    }
    read_clock(&table, settings);
    read_hands(&table, settings);
    for (key, slot) in [
        ("wage", &mut settings.wage_per_h),
        ("overhead", &mut settings.overhead_per_h),
    ] {
        if let Some(money) = table.get(key).and_then(|value| values::money(&value, bare)) {
            *slot = money;
        }
    }
    if let Some(value) = table.get("margin") {
        match values::share(&value) {
            Some(margin) if margin <= 0.9 => settings.margin = margin,
            Some(_) => value.refuse("a share of the price from 0 to 0.9", "a number such as 0.2"),
            None => {}
        }
    }
    if let Some(buy_for) = table.get("buy_for").and_then(|value| value.word(&BuyFor::WORDS)) {
        settings.buy_for = buy_for;
    }
    if let Some(value) = table.get("worth_moving")
        && let Some(minutes) = values::minutes(&value)
    {
        if minutes <= Settings::MOST_WORTH_MOVING {
            settings.worth_moving = minutes;
        } else {
            value.refuse(
                "moving a step saves something from 0 min to 7 days",
                "a time such as \"1 h\"",
            );
        }
    }
    if let Some(prefer) = table.get("prefer").and_then(|value| value.word(&Prefer::WORDS)) {
        settings.prefer = prefer;
    }
    if let Some(value) = table.get("tools") {
        read_tools(&value, settings);
    }
    if let Some(value) = table.get("equipment") {
        read_equipment(&value, bare, settings);
    }
    if let Some(room) = table
        .get("room")
        .and_then(|value| value.table("a table such as { temperature = \"58 °F\", humidity = 0.65 }"))
    {
        settings.rooms[0] = read_room(room, bare, Room::default());
    }
    // The clock is known by now: readings without an offset are on it.
    if let Some(value) = table.get("readings") {
        read_readings(&value, settings, 0, beside);
    }
    for spell in table.tables("spell", SPELL) {
        read_spell(spell, bare, &mut settings.rooms[0]);
    }
    for block in table.tables("block", "[[shop.block]] with from and to") {
        read_block(block, settings);
    }
    table.close();
}

fn read_clock(table: &Table<'_>, settings: &mut Settings) {
    if let Some(value) = table.get("zone_id") {
        let id = value.as_text().unwrap_or("").trim();
        if !id.is_empty() && TimeZone::get(id).is_ok() {
            settings.zone_id = id.to_owned();
        } else {
            value.refuse(
                "a time zone of the IANA list",
                "such as \"America/Chicago\", \"Europe/Berlin\" or \"UTC\"",
            );
        }
    }
    if let Some(starts) = table.get("starts").and_then(|value| values::date_time(&value)) {
        settings.starts = Some(starts);
    }
}

fn read_hands(table: &Table<'_>, settings: &mut Settings) {
    if let Some(count) = table
        .get("hands")
        .and_then(|value| value.whole(1..=8, "a number of people such as 1"))
    {
        settings.hands = (1..=count)
            .map(|turn| Hand {
                name: if count == 1 {
                    "you".to_owned()
                } else {
                    format!("hand {turn}")
                },
                hours: None,
            })
            .collect();
    }
    if let Some(hours) = table.get("hours").and_then(|value| read_hours(&value)) {
        settings.hours = hours;
    }
    let people = table.tables("person", "[[shop.person]] with name and hours");
    if people.is_empty() {
        return;
    }
    let mut hands = Vec::new();
    for person in people {
        let name = person
            .need("name", "a name such as \"Sam\"")
            .and_then(|value| value.text(60, "a name"));
        let hours = person.get("hours").and_then(|value| read_hours(&value));
        if let Some(name) = name {
            hands.push(Hand { name, hours });
        }
        person.close();
    }
    if hands.len() > 8 {
        table.reader.refuse(
            table.span.clone(),
            &table.field_of("person"),
            &format!("{} people", hands.len()),
            "at most 8 pairs of hands are planned for",
            "fewer people",
        );
    } else if !hands.is_empty() {
        settings.hands = hands;
    }
}

/// Reads the list of machines; what is not in it, the shop has not.
fn read_tools(value: &Value<'_>, settings: &mut Settings) {
    let mut tools = Tools {
        spray_gun: false,
        sander: false,
        heat_gun: false,
    };
    for item in value.list("a list of spray-gun, sander, heat-gun") {
        match item.word(&[("spray-gun", 0), ("sander", 1), ("heat-gun", 2)]) {
            Some(0) => tools.spray_gun = true,
            Some(1) => tools.sander = true,
            Some(_) => tools.heat_gun = true,
            None => {}
        }
    }
    settings.tools = tools;
}

/// Reads what the tools are like; what is not said is as such tools usually are.
fn read_equipment(value: &Value<'_>, bare: Bare, settings: &mut Settings) {
    let Some(table) = value
        .table("a table such as { by_hand = \"roller\", sprayer = \"hvlp\", cup_loss = \"2 fl oz\", disc = \"6 in\" }")
    else {
        return;
    };
    let method = |key: &'static str, known: &[Method], usual: Method| {
        let words: Vec<(&'static str, Method)> = known.iter().map(|method| (method.id(), *method)).collect();
        table.get(key).and_then(|value| value.word(&words)).unwrap_or(usual)
    };
    let usual = Equipment::default();
    settings.equipment = Equipment {
        by_hand: method("by_hand", &Equipment::BY_HAND, usual.by_hand),
        sprayer: method("sprayer", &Equipment::SPRAYERS, usual.sprayer),
        cup_loss: table.get("cup_loss").and_then(|value| values::cup(&value, bare)),
        disc: table.get("disc").and_then(|value| values::disc(&value, bare)),
    };
    table.close();
}

/// Reads a week's hours; a day that is not named is a day off.
fn read_hours(value: &Value<'_>) -> Option<Hours> {
    let right = "a table of days such as { mon = \"9:00-12:00 13:00-17:00\", sat = \"10:00-16:00\" }";
    let table = value.table(right)?;
    let mut hours = Hours {
        days: Default::default(),
    };
    let mut sound = true;
    let mut seen = [false; 7];
    for (day, day_idx) in DAYS {
        let Some(periods) = table.get(day) else { continue };
        if seen[day_idx] {
            periods.refuse("this day is named twice", "each day once");
            sound = false;
        }
        seen[day_idx] = true;
        let Some(text) = periods.as_text() else {
            periods.refuse("a day's hours are a text", "\"9:00-12:00 13:00-17:00\"");
            sound = false;
            continue;
        };
        match parse_day(text) {
            Ok(day_periods) if day_periods.len() <= 12 => hours.days[day_idx] = day_periods,
            Ok(_) => {
                periods.refuse("at most 12 periods a day", "\"9:00-12:00 13:00-17:00\"");
                sound = false;
            }
            Err(refusal) => {
                periods.refuse(
                    &refusal.0,
                    "\"9:00-12:00 13:00-17:00\", the earlier period first, none overlapping",
                );
                sound = false;
            }
        }
    }
    if sound && hours.days.iter().all(Vec::is_empty) {
        value.refuse("a week needs at least one working period", right);
        sound = false;
    }
    table.close();
    sound.then_some(hours)
}

fn read_block(table: Table<'_>, settings: &mut Settings) {
    let right = "a moment such as \"2027-03-11T18:00\"";
    let from = table.need("from", right).and_then(|value| values::date_time(&value));
    let to = table.need("to", right).and_then(|value| values::date_time(&value));
    let why = table
        .get("why")
        .and_then(|value| value.text(120, "a few words"))
        .unwrap_or_default();
    let whom = table.get("person").and_then(|value| {
        let name = value.as_text().unwrap_or("");
        let hit = settings.hands.iter().position(|hand| hand.name == name);
        if hit.is_none() {
            let names: Vec<&str> = settings.hands.iter().map(|hand| hand.name.as_str()).collect();
            value.refuse("nobody of this name works here", &super::nearest::one_of(name, &names));
        }
        hit
    });
    if let (Some(from), Some(to)) = (from, to) {
        if from < to {
            settings.blocks.push(Block {
                hand: whom,
                from,
                to,
                why,
            });
        } else {
            table.reader.refuse(
                table.span.clone(),
                &table.field,
                &format!("from {from} to {to}"),
                "a block ends after it begins",
                "a later \"to\"",
            );
        }
    }
    table.close();
}

const SPELL: &str = "[[shop.spell]] or [[room.spell]] with from, to, and a temperature or a humidity";

/// Reads a stretch of other air in a room.
fn read_spell(table: Table<'_>, bare: Bare, room: &mut Room) {
    let right = "a moment such as \"2027-03-11T18:00\"";
    let from = table.need("from", right).and_then(|value| values::date_time(&value));
    let to = table.need("to", right).and_then(|value| values::date_time(&value));
    let (cold, wet) = (table.get("temperature"), table.get("humidity"));
    let temperature = cold.as_ref().and_then(|value| values::temperature(value, bare));
    let humidity = wet.as_ref().and_then(values::share).map(Humidity::from_fraction);
    // What could not be read has its refusal already.
    let is_read = cold.is_some() == temperature.is_some() && wet.is_some() == humidity.is_some();
    if let (Some(from), Some(to), true) = (from, to, is_read) {
        let spell = Spell {
            from,
            to,
            temperature,
            humidity,
        };
        let fits = room.spells.len() < Spell::MOST;
        let too_many = || {
            (
                "spell",
                format!("{} in one room are the most", Spell::MOST),
                "fewer of them",
            )
        };
        match spell.check().and_then(|()| fits.then_some(()).ok_or_else(too_many)) {
            Ok(()) => room.spells.push(spell),
            Err((_, limit, right)) => {
                let found = format!("from {from} to {to} {}", spell.air(bare.units));
                table
                    .reader
                    .refuse(table.span.clone(), &table.field, found.trim_end(), &limit, right);
            }
        }
    }
    table.close();
}

/// Reads the air and size of a room over `room`.
pub(crate) fn read_room(table: Table<'_>, bare: Bare, mut room: Room) -> Room {
    if let Some(name) = table
        .get("name")
        .and_then(|value| value.text(60, "a name such as \"garage\""))
    {
        room.name = name;
    }
    if let Some(temperature) = table
        .get("temperature")
        .and_then(|value| values::temperature(&value, bare))
    {
        room.temperature = temperature;
    }
    if let Some(share) = table.get("humidity").and_then(|value| values::share(&value)) {
        room.humidity = Humidity::from_fraction(share);
    }
    if let Some(volume) = table.get("volume").and_then(|value| values::room_volume(&value, bare)) {
        room.volume = volume;
    }
    if let Some(changes) = table
        .get("air_changes")
        .and_then(|value| value.number(0.0..=60.0, "room volumes an hour, such as 1.0"))
    {
        room.air_changes_per_h = changes;
    }
    for spell in table.tables("spell", SPELL) {
        read_spell(spell, bare, &mut room);
    }
    table.close();
    room
}

/// Reads a `[[room]]`: a further room, or the first one by its name.
pub(crate) fn read_further_room(table: Table<'_>, settings: &mut Settings, beside: &dyn Beside) {
    let bare = Bare {
        units: settings.units,
        currency: settings.currency,
    };
    let name = table
        .need("name", "a name such as \"spray corner\"")
        .and_then(|value| value.as_text().map(str::to_owned));
    let readings = table.get("readings");
    let room_idx = name
        .as_ref()
        .and_then(|name| settings.rooms.iter().position(|room| room.name == *name));
    let room_idx = room_idx.unwrap_or_else(|| {
        settings.rooms.push(Room::default());
        settings.rooms.len() - 1
    });
    let base = settings.rooms[room_idx].clone();
    settings.rooms[room_idx] = read_room(table, bare, base);
    if let Some(value) = readings {
        read_readings(&value, settings, room_idx, beside);
    }
}

fn read_readings(value: &Value<'_>, settings: &mut Settings, room_idx: usize, beside: &dyn Beside) {
    let Some(name) = value.text(200, "the name of a CSV file beside this one, such as \"garage.csv\"") else {
        return;
    };
    let from = &value.reader.source.name;
    match beside.bytes(from, &name) {
        Err(reason) => value.refuse(&reason, "a CSV file with the columns time, temperature_c, humidity"),
        Ok(bytes) => match readings::read(&name, &bytes, &settings.zone_id) {
            Ok(series) => {
                settings.rooms[room_idx].readings = series;
                settings.rooms[room_idx].readings_file = Some(name);
            }
            Err(refusals) => value.reader.refusals.borrow_mut().extend(refusals),
        },
    }
}
