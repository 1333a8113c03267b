//! Plan files: what is read, what is refused, and that writing reads back the same.

use shop::file::{NothingBeside, Source, read, write_shop};
use shop::model::Means;
use shop::{FormKind, Look, Made, Shop, Use, Without};

const WHOLE: &str = include_str!("../../../../examples/four-zones/washstand.toml");

fn read_one(text: &str) -> Result<Shop, String> {
    read(&[Source::new("piece.toml", text)], &NothingBeside)
        .map(|read| read.shop)
        .map_err(|refusals| refusals.to_string())
}

#[test]
fn the_contracts_own_example_is_read_key_by_key() {
    let text = r##"
[shop]
units      = "imperial"
currency   = "USD"
zone_id    = "America/Chicago"
starts     = "2027-03-08T09:00"
hands      = 1
hours      = { mon = "9:00-12:00 13:00-17:00", tue = "9:00-12:00", thu = "9:00-12:00 18:00-21:00", sat = "10:00-16:00" }
wage       = 28.00
overhead   = 4.50
room       = { temperature = "58 °F", humidity = 0.65, volume = "3200 ft3", air_changes = 1.0 }

[[shelf]]
name    = "our flat clear"
class   = "waterborne-flat-clear"
size    = "1 qt"
left = 0.6
price = 24.00
label   = { recoat_min = "2 h", spread = "300 ft2/gal" }

[[piece]]
name    = "hall bench"
form    = "case"
made    = "1950s"
width   = "42 in"
depth = "16 1/2 in"
height = "19 in"
drawers = { rows = 1, columns = 2 }
due     = "2027-03-20"
for     = "client"
paid    = 35.00
use     = "seat"

  [[piece.zone]]
  name      = "lid"
  of        = ["top"]
  substrate = "oak"
  found     = [ { class = "oil-based-polyurethane", coats = 2 }, { class = "paste-wax" } ]
  state     = ["sound"]
  defects   = [ { kind = "gouge", count = 2, depth = "3 mm" } ]
  tested    = { lead = "none" }
  wish      = { look = "clear", sheen = "flat", strip = true, without = ["strong-solvents", "spraying", "sanding"] }
"##;
    let shop = read_one(text).unwrap();
    assert_eq!(shop.settings.zone_id, "America/Chicago");
    assert_eq!(shop.settings.wage_per_h.minor(), 2800);
    assert!((shop.settings.rooms[0].temperature.c() - 14.444).abs() < 0.01);
    assert!((shop.settings.hours.week_h() - 22.0).abs() < 1e-9);
    assert_eq!(shop.shelf[0].label.recoat_min.unwrap().get(), 120);
    let piece = &shop.pieces[0];
    assert_eq!(
        (piece.form.kind, piece.made, piece.used_for),
        (FormKind::Case, Made::Decade(1950), Use::Seat)
    );
    assert!((piece.form.depth.inches() - 16.5).abs() < 1e-9);
    assert_eq!(piece.form.details.drawers, Some((1, 2)));
    assert_eq!(piece.paid.unwrap().minor(), 3500);
    let lid = piece.zone("lid").unwrap();
    assert_eq!(lid.found.len(), 2);
    assert_eq!(lid.wish.look, Look::Clear);
    assert_eq!(
        lid.wish.without,
        [Without::StrongSolvents, Without::Spraying, Without::Sanding]
    );
    assert!((lid.defects[0].depth.unwrap().mm() - 3.0).abs() < 1e-9);
}

#[test]
fn writing_reads_back_the_same_shop() {
    let shop = read_one(WHOLE).unwrap();
    let text = write_shop(&shop);
    let again = read_one(&text).unwrap_or_else(|refusals| panic!("{refusals}\n{text}"));
    assert_eq!(shop, again, "{text}");
    assert_eq!(write_shop(&again), text);
}

#[test]
fn what_the_tools_are_like_is_read_refused_by_line_and_written_back() {
    let text = "[shop]\nequipment = { by_hand = \"roller\", sprayer = \"conventional-air\", cup_loss = \"45 ml\", disc = \"6 in\" }\n[[piece]]\nname = \"box\"\nform = \"case\"\nwidth = \"20 in\"\ndepth = \"20 in\"\nheight = \"20 in\"\n";
    let shop = read_one(text).unwrap();
    let equipment = shop.settings.equipment;
    assert!((equipment.cup_loss.unwrap().ml() - 45.0).abs() < 1e-9);
    assert!((equipment.disc.unwrap().inches() - 6.0).abs() < 1e-9);
    assert_eq!(read_one(&write_shop(&shop)).unwrap().settings.equipment, equipment);
    let refusal = read_one(&text.replace("roller", "hvlp").replace("6 in", "6 ft")).unwrap_err();
    assert!(refusal.contains("piece.toml, line 2"), "{refusal}");
    assert!(
        refusal.contains("roller") && refusal.contains("25 mm to 300 mm"),
        "{refusal}"
    );
}

/// A bench of which each number was measured another way.
const MEASURED: &str = r#"
[[piece]]
name = "bench"
form = "case"
width = { length = "42 in", by = "photograph", give_or_take = "3/4 in" }
depth = "16 1/2 in ± 1/4 in"
height = "about 19 in"
dimensions = { leg-thickness = { length = "2 in", by = "guess" }, top_overhang = "1 in" }
"#;

#[test]
fn how_each_dimension_was_measured_is_read_and_written_back() {
    let shop = read_one(MEASURED).unwrap();
    let form = &shop.pieces[0].form;
    let (width, depth) = (form.measured.width, form.measured.depth);
    assert_eq!((width.means, depth.means), (Means::Photograph, Means::Tape));
    assert!((width.within(form.width).inches() - 0.75).abs() < 1e-9);
    assert!((depth.within(form.depth).inches() - 0.25).abs() < 1e-9);
    // By eye: a standard error of a twentieth.
    assert!((form.measured.height.dimension(form.height).standard_error.inches() - 0.95).abs() < 1e-9);
    assert_eq!(form.dimensions["leg thickness"].measured.means, Means::Guess);
    assert!((form.dimensions["top overhang"].length.inches() - 1.0).abs() < 1e-9);
    let text = write_shop(&shop);
    let again = read_one(&text).unwrap();
    assert_eq!(write_shop(&again), text, "{text}");
    assert_eq!(again.pieces[0].form.measured.height, form.measured.height);
    assert_eq!(again.pieces[0].form.dimensions.len(), 2);
    let stored: shop::model::FormSaid = serde_json::from_str(&serde_json::to_string(form).unwrap()).unwrap();
    assert_eq!(&stored, form);
}

#[test]
fn a_form_of_before_measures_had_errors_is_a_tapes() {
    let old = r#"{ "kind": "case", "width": 1.0, "depth": 0.4, "height": 0.8, "details": {} }"#;
    let form: shop::model::FormSaid = serde_json::from_str(old).unwrap();
    assert!(form.measured.is_plain() && form.dimensions.is_empty());
    assert!(!serde_json::to_string(&form).unwrap().contains("measured"));
}

#[test]
fn a_measure_without_its_error_or_of_a_name_unknown_is_refused_with_its_line() {
    for (from, to, line, words) in [
        (", give_or_take = \"3/4 in\"", "", 5, "states how far it may be off"),
        ("3/4 in", "40 in", 5, "at most half of it"),
        ("± 1/4 in", "± a bit", 6, "depth"),
        ("about 19 in", "about 19 miles", 7, "height"),
        ("leg-thickness", "leg-thikness", 8, "leg-thickness"),
        ("top_overhang", "width", 8, "no dimension of this name"),
        ("photograph", "laser", 5, "tape"),
    ] {
        let refusal = read_one(&MEASURED.replacen(from, to, 1)).unwrap_err();
        assert!(refusal.contains(&format!("line {line}")), "{from}: {refusal}");
        assert!(refusal.contains(words), "{from}: {refusal}");
    }
}

#[test]
fn a_bare_number_is_read_in_the_shops_units_and_said() {
    let text = "[shop]\nunits = \"metric\"\n[[piece]]\nname = \"box\"\nform = \"case\"\nwidth = 80\ndepth = \"450 mm\"\nheight = \"0.78 m\"\n";
    let read = read(&[Source::new("piece.toml", text)], &NothingBeside).unwrap();
    assert!((read.shop.pieces[0].form.width.cm() - 80.0).abs() < 1e-9);
    assert_eq!(read.assumed.len(), 1, "{:?}", read.assumed);
    assert!(read.assumed[0].contains("width") && read.assumed[0].contains("cm"));
}

/// Each line of the file that spoils one value, with what its refusal must name.
#[test]
fn each_wrong_value_is_refused_with_its_line_and_what_would_be_right() {
    let cases: &[(&str, &str, &[&str])] = &[
        (
            "width    = \"80 cm\"",
            "width    = \"wide\"",
            &["wide", "length", "107 cm"],
        ),
        ("width    = \"80 cm\"", "width    = \"900 m\"", &["900 m", "20 m"]),
        ("form     = \"case\"", "form     = \"chest\"", &["chest", "case"]),
        ("made     = \"1985\"", "made     = \"old\"", &["old", "before 1978"]),
        (
            "use      = \"bedroom\"",
            "use      = \"bathroom\"",
            &["bathroom", "bedroom"],
        ),
        (
            "zone_id  = \"Europe/Berlin\"",
            "zone_id  = \"Berlin\"",
            &["Berlin", "IANA"],
        ),
        ("wage     = 32.00", "wage     = -1", &["-1", "28.00"]),
        ("substrate = \"steel\"", "substrate = \"steal\"", &["steal", "steel"]),
        ("coats = 1", "coats = 99", &["99", "30"]),
        ("pulls    = 4", "pulls    = \"four\"", &["four", "whole number"]),
        ("hands    = 1", "hans    = 1", &["hans", "hands"]),
        (
            "tue = \"8:00-12:00 13:00-17:00\"",
            "tue = \"8:00-12:00 11:00-17:00\"",
            &["overlap"],
        ),
        (
            "class = \"alkyd-enamel\"",
            "class = \"alkid-enamel\"",
            &["alkid-enamel", "alkyd-enamel"],
        ),
    ];
    for (right, wrong, parts) in cases {
        assert!(WHOLE.contains(right), "the example no longer holds {right}");
        let text = WHOLE.replacen(right, wrong, 1);
        let line = 1 + text[..text.find(wrong).unwrap()].matches('\n').count();
        let refusals = read(&[Source::new("piece.toml", text)], &NothingBeside).unwrap_err();
        let refusal = refusals
            .0
            .iter()
            .find(|refusal| refusal.line == line)
            .unwrap_or_else(|| panic!("{wrong}: {refusals}"));
        let said = refusal.to_string();
        for part in *parts {
            assert!(said.contains(part), "{wrong}: \"{part}\" is missing in\n{said}");
        }
    }
}

#[test]
fn what_is_no_toml_is_refused_with_its_line() {
    let said = read_one("[shop]\nunits = \"metric\"\n[[piece]\n").unwrap_err();
    assert!(said.contains("line 3") && said.contains("TOML"), "{said}");
}

#[test]
fn two_shops_or_two_pieces_of_a_name_are_refused() {
    let shop = Source::new("a.toml", "[shop]\nunits = \"metric\"\n");
    let second = Source::new("b.toml", WHOLE);
    let third = Source::new("c.toml", &WHOLE[WHOLE.find("[[piece]]").unwrap()..]);
    let said = read(&[shop, second, third], &NothingBeside).unwrap_err().to_string();
    assert!(said.contains("one shop") && said.contains("same name"), "{said}");
}

#[test]
fn readings_are_looked_for_beside_the_file() {
    let said = read_one(&WHOLE.replace("hands    = 1", "readings = \"garage.csv\"")).unwrap_err();
    assert!(said.contains("garage.csv") && said.contains("temperature_c"), "{said}");
}

#[test]
fn every_part_of_a_shop_survives_storage() {
    let shop = read_one(WHOLE).unwrap();
    let json = serde_json::to_string(&shop).unwrap();
    assert_eq!(serde_json::from_str::<Shop>(&json).unwrap(), shop);
}

/// Gives a scan of a box of 400 × 500 × 700 mm, its lid apart from the rest, under any name that ends in .obj.
struct ScanBeside;

impl shop::file::Beside for ScanBeside {
    fn bytes(&self, _from: &str, name: &str) -> Result<Vec<u8>, String> {
        let points = "v 0 0 0\nv 400 0 0\nv 400 500 0\nv 0 500 0\nv 0 0 700\nv 400 0 700\nv 400 500 700\nv 0 500 700\n";
        let faces = "o lid\nf 5 6 7 8\no carcass\nf 4 3 2 1\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";
        if name.ends_with(".obj") {
            Ok(format!("{points}{faces}").into_bytes())
        } else {
            Err(format!("no file {name}"))
        }
    }
}

fn scanned(mesh: &str, more: &str) -> Result<Shop, String> {
    let text = format!("[[piece]]\nname = \"box\"\nform = \"mesh\"\nmesh = {mesh}\n{more}");
    shop::file::read(&[shop::file::Source::new("scan.toml", &text)], &ScanBeside)
        .map(|read| read.shop)
        .map_err(|refusals| refusals.to_string())
}

#[test]
fn a_scan_beside_the_file_gives_each_zone_its_own_area() {
    let zones = "[[piece.zone]]\nname = \"lid\"\nsubstrate = \"oak\"\n\
                 [[piece.zone]]\nname = \"body\"\nof = [\"carcass\"]\nsubstrate = \"pine\"\n";
    let shop = scanned("{ file = \"box.obj\", unit = \"mm\" }", zones).unwrap();
    let form = shop::plan::form_of(&shop.pieces[0].form).unwrap();
    let areas = takeoff::take_off(&form);
    assert!((areas.find("lid").unwrap()[0].area.m2() - 0.2).abs() < 1e-9);
    assert!((areas.find("carcass").unwrap()[0].area.m2() - 1.46).abs() < 1e-9);
    let surfaces = shop::plan::surfaces_of(&shop.pieces[0]).unwrap();
    assert_eq!(surfaces, [vec!["lid".to_owned()], vec!["carcass".to_owned()]]);
}

#[test]
fn a_taped_height_stretches_a_scan() {
    let shop = scanned("{ file = \"box.obj\", unit = \"mm\" }", "height = \"77 cm\"\n").unwrap();
    let form = shop::plan::form_of(&shop.pieces[0].form).unwrap();
    assert!((takeoff::take_off(&form).area().m2() - 1.66 * 1.21).abs() < 1e-9);
}

#[test]
fn a_scan_that_is_not_there_or_in_another_unit_is_refused_with_its_line() {
    let missing = scanned("{ file = \"box.stl\", unit = \"mm\" }", "").unwrap_err();
    assert!(
        missing.contains("scan.toml") && missing.contains("no file box.stl"),
        "{missing}"
    );
    let large = scanned("{ file = \"box.obj\", unit = \"m\" }", "").unwrap_err();
    assert!(large.contains("rather millimetres"), "{large}");
    let unitless = scanned("{ file = \"box.obj\" }", "").unwrap_err();
    assert!(unitless.contains("one of mm, cm, m, in, ft"), "{unitless}");
}

#[test]
fn a_scan_that_was_read_once_is_written_with_its_parts_and_needs_its_file_no_more() {
    let zones = "[[piece.zone]]\nname = \"lid\"\nsubstrate = \"oak\"\n\
                 [[piece.zone]]\nname = \"body\"\nof = [\"carcass\"]\nsubstrate = \"pine\"\n";
    let shop = scanned("{ file = \"box.obj\", unit = \"mm\" }", zones).unwrap();
    let text = write_shop(&shop);
    // Nothing lies beside this file.
    let again = read_one(&text).unwrap();
    assert_eq!(write_shop(&again), text);
    let areas = |shop: &Shop| {
        let form = shop::plan::form_of(&shop.pieces[0].form).unwrap();
        let surfaces = takeoff::take_off(&form).surfaces;
        surfaces
            .iter()
            .map(|surface| (surface.id.clone(), surface.area.m2()))
            .collect::<Vec<_>>()
    };
    for ((id, m2), (again_id, again_m2)) in areas(&shop).into_iter().zip(areas(&again)) {
        assert!(
            id == again_id && (m2 - again_m2).abs() < 1e-8,
            "{id} {m2} {again_id} {again_m2}"
        );
    }
    for (from, to, words) in [
        ("area_m2 = 0.2", "area_m2 = -1.0", "a number from 0 to 500"),
        ("likeness = \"0 ", "likeness = \"7 ", "triangle 1 is not"),
        ("size_m = [0.4", "size_m = [0.4, 0.4", "a size is three numbers"),
    ] {
        assert!(text.contains(from), "{from}: {text}");
        let refusal = read_one(&text.replacen(from, to, 1)).unwrap_err();
        assert!(refusal.contains(words) && refusal.contains("line "), "{refusal}");
    }
}

/// A piece of blue enamel, and two who sell it.
const TWO_SELLERS: &str = r##"
[[seller]]
name = "paint counter"
trip = 6.00
cans = [
  { class = "waterborne-acrylic-enamel", size = "1 qt", price = 30.00 },
  { class = "waterborne-acrylic-enamel", size = "1 pt", price = 31.00 },
]
[[seller]]
name = "yard"
cans = [ { class = "waterborne-acrylic-enamel", size = "1 qt", price = 33.00 } ]
[[piece]]
name = "box"
form = "case"
width = "30 in"
depth = "18 in"
height = "30 in"
  [[piece.zone]]
  name = "body"
  substrate = "oak"
  wish = { look = "paint", colour = "#204060", class = "waterborne-acrylic-enamel" }
"##;

#[test]
fn sellers_and_their_prices_are_read_refused_by_line_and_written_back() {
    let shop = read_one(TWO_SELLERS).unwrap();
    assert_eq!(shop.settings.sellers.len(), 2);
    assert_eq!(shop.settings.sellers[0].trip.minor(), 600);
    assert_eq!(shop.settings.sellers[0].cans[1].price.minor(), 3100);
    let text = write_shop(&shop);
    assert_eq!(
        read_one(&text).unwrap().settings.sellers,
        shop.settings.sellers,
        "{text}"
    );
    for (from, to, line, words) in [
        ("\"1 pt\"", "\"1 ft\"", 7, "from 1 mL to 250 L"),
        ("price = 31.00", "cost = 31.00", 7, "price"),
        (
            "name = \"yard\"",
            "name = \"paint counter\"",
            9,
            "two sellers have the same name",
        ),
        ("trip = 6.00", "trip = \"far\"", 4, "trip"),
    ] {
        let refusal = read_one(&TWO_SELLERS.replacen(from, to, 1)).unwrap_err();
        assert!(
            refusal.contains(&format!("line {line}")) && refusal.contains(words),
            "{from}: {refusal}"
        );
    }
}

#[test]
fn the_list_goes_where_cans_and_way_together_cost_least() {
    let now = "2027-03-08T15:00:00Z".parse().unwrap();
    let planned = |text: &str| shop::plan::plan(&read_one(text).unwrap(), now, shop::plan::Effort::least()).unwrap();
    let enamel = |plan: &shop::plan::Plan| {
        let line = plan
            .shopping
            .iter()
            .find(|line| line.class == "waterborne-acrylic-enamel");
        line.unwrap().clone()
    };
    // A quart is enough: 33 at the yard beats 30 and 6 for the way.
    let dear_way = planned(TWO_SELLERS);
    let line = enamel(&dear_way);
    assert!(line.need_ml > 150.0 && line.need_ml < 946.0, "{}", line.need_ml);
    assert_eq!(line.buy[0].seller.as_deref(), Some("yard"));
    let trip = dear_way.trips.iter().find(|trip| trip.seller == "yard").unwrap();
    assert_eq!((trip.cans.money.minor(), trip.together.money.minor()), (3300, 3300));
    // With a way of 2.00 the counter's quart comes to 32.
    let near = planned(&TWO_SELLERS.replace("trip = 6.00", "trip = 2.00"));
    assert_eq!(enamel(&near).buy[0].seller.as_deref(), Some("paint counter"));
    let trip = near.trips.iter().find(|trip| trip.seller == "paint counter").unwrap();
    assert_eq!(trip.together.money.minor(), 3200);
    // Nothing else has a seller: it is bought anywhere, after the sellers.
    let groups = near.shopping_by_seller();
    assert!(groups.last().unwrap().0.is_none());
    assert!(
        near.assumed
            .iter()
            .all(|line| !line.contains("acrylic enamel") || !line.contains("no price"))
    );
}

#[test]
fn what_a_move_must_save_is_read_written_and_limited() {
    let text = WHOLE.replace("[shop]\n", "[shop]\nworth_moving = \"90 min\"\n");
    let shop = read_one(&text).unwrap();
    assert_eq!(shop.settings.worth_moving, quantity::Minutes::new(90));
    let again = read_one(&write_shop(&shop)).unwrap();
    assert_eq!(again.settings.worth_moving, quantity::Minutes::new(90));
    let refused = read_one(&text.replace("90 min", "8 days")).unwrap_err();
    assert!(
        refused.contains("worth_moving") && refused.contains("7 days"),
        "{refused}"
    );
}

#[test]
fn expected_air_is_read_for_each_room_and_written_back() {
    let spell = "[[shop.spell]]\nfrom = \"2027-03-09T18:00\"\nto = \"2027-03-12T09:00\"\ntemperature = \"41 °F\"\n";
    let further = "[[room]]\nname = \"spray corner\"\n\n[[room.spell]]\nfrom = \"2027-03-10\"\nto = \"2027-03-11\"\nhumidity = \"90 %\"\n";
    let text = WHOLE.replacen("[[piece]]", &format!("{spell}\n{further}\n[[piece]]"), 1);
    let shop = read_one(&text).unwrap();
    let rooms = &shop.settings.rooms;
    assert_eq!(rooms[0].spells[0].temperature, Some(quantity::Temperature::from_c(5.0)));
    assert_eq!(rooms[0].spells[0].humidity, None);
    assert_eq!(
        rooms[1].spells[0].humidity,
        Some(quantity::Humidity::from_fraction(0.9))
    );
    assert_eq!(read_one(&write_shop(&shop)).unwrap().settings.rooms, *rooms);
    for (wrong, words) in [
        (
            text.replace("2027-03-12T09:00", "2027-03-09T09:00"),
            "it ends after it begins",
        ),
        (
            text.replace("temperature = \"41 °F\"\n", ""),
            "a temperature, a humidity, or both",
        ),
        (text.replace("90 %", "190 %"), "a share from 0 to 1"),
    ] {
        let refused = read_one(&wrong).unwrap_err();
        assert!(refused.contains(words), "{refused}");
    }
}
