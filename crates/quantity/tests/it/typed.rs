//! What people type, against what it is.

use quantity::{
    AirChanges, Area, BasisPoints, Flow, Humidity, Length, Mass, Minutes, Spread, Temperature, UnitSystem, Volume,
    WetFilm,
};

fn close(got: f64, want: f64, typed: &str) {
    assert!(
        (got - want).abs() <= 1e-9 * want.abs().max(1.0),
        "{typed} gave {got}, not {want}"
    );
}

#[test]
fn lengths_in_every_usual_spelling() {
    let cases = [
        ("18 3/4\"", 18.75),
        ("18-3/4 in", 18.75),
        ("18¾″", 18.75),
        ("18 3⁄4 inches", 18.75),
        ("3/4\"", 0.75),
        (".75 in.", 0.75),
        ("5'6\"", 66.0),
        ("5'6", 66.0),
        ("5' 6 1/2\"", 66.5),
        ("5′ 6½″", 66.5),
        ("5 ft 6 in", 66.0),
        ("5ft6in", 66.0),
        ("5 FT. 6 IN.", 66.0),
        ("5 feet 6", 66.0),
        ("6'", 72.0),
        ("5.5 ft", 66.0),
        ("1 yd 1 ft 1 in", 49.0),
        ("0\"", 0.0),
    ];
    for (typed, inches) in cases {
        close(Length::parse(typed).unwrap().inches(), inches, typed);
    }
    let metric = [
        ("46 cm", 0.46),
        ("0.46m", 0.46),
        ("1,5 cm", 0.015),
        ("18 mm", 0.018),
        ("1 m 20", 1.2),
        ("0,750 m", 0.75),
    ];
    for (typed, metres) in metric {
        close(Length::parse(typed).unwrap().m(), metres, typed);
    }
}

#[test]
fn a_bare_number_takes_the_shops_unit_or_is_refused() {
    close(
        Length::parse_in("18 3/4", UnitSystem::Imperial).unwrap().inches(),
        18.75,
        "18 3/4",
    );
    close(Length::parse_in("46", UnitSystem::Metric).unwrap().cm(), 46.0, "46");
    close(
        Length::parse_in("46 cm", UnitSystem::Imperial).unwrap().cm(),
        46.0,
        "46 cm",
    );
    close(
        Temperature::parse_in("58°", UnitSystem::Imperial).unwrap().f(),
        58.0,
        "58°",
    );
    close(Temperature::parse_in("-5", UnitSystem::Metric).unwrap().c(), -5.0, "-5");
    let refusal = Length::parse("46").unwrap_err();
    assert_eq!(refusal.problem, "has no unit");
    assert_eq!(Length::parse_in("x", UnitSystem::Metric).unwrap_err().example, "46 cm");
}

#[test]
fn volumes_areas_masses_films_and_rates() {
    for (typed, ml) in [
        ("1 pt", 473.176473),
        ("1/2 pint", 236.5882365),
        ("2 qt", 1892.705892),
        ("1 gal", 3785.411784),
        ("1 qt 1 pt", 1419.529419),
        ("8 fl oz", 236.5882365),
        ("500 ml", 500.0),
        ("0.75 l", 750.0),
        ("0,75 Liter", 750.0),
        ("3200 ft3", 3200.0 * 28_316.846_592),
        ("3200 cu ft", 3200.0 * 28_316.846_592),
        ("90 m³", 90e6),
    ] {
        close(Volume::parse(typed).unwrap().ml(), ml, typed);
    }
    for typed in ["12 ft²", "12 sq ft", "12 SQFT", "12 square feet", "1728 in2"] {
        close(Area::parse(typed).unwrap().ft2(), 12.0, typed);
    }
    close(Mass::parse("1 lb 4 oz").unwrap().ounces(), 20.0, "1 lb 4 oz");
    close(WetFilm::parse("4 mils").unwrap().um(), 101.6, "4 mils");
    close(WetFilm::parse("100 µm").unwrap().um(), 100.0, "100 µm");
    for typed in ["300 ft2/gal", "300 sq ft per gallon", "300 sq ft / gal", "75 ft2/qt"] {
        close(Spread::parse(typed).unwrap().ft2_per_gallon(), 300.0, typed);
    }
    close(Spread::parse("12 m2/l").unwrap().m2_per_litre(), 12.0, "12 m2/l");
    close(Spread::parse("12 m²/L").unwrap().m2_per_litre(), 12.0, "12 m²/L");
    close(Flow::parse("400 cfm").unwrap().m3_per_h(), 679.6043182, "400 cfm");
    close(AirChanges::parse("1.5").unwrap().per_h(), 1.5, "1.5");
    close(AirChanges::parse("1.5 per hour").unwrap().per_h(), 1.5, "1.5 per hour");
}

#[test]
fn temperatures_and_shares() {
    for (typed, c) in [
        ("68F", 20.0),
        ("68 °F", 20.0),
        ("20 C", 20.0),
        ("20℃", 20.0),
        ("−4 F", -20.0),
        ("293.15 K", 20.0),
    ] {
        close(Temperature::parse(typed).unwrap().c(), c, typed);
    }
    for typed in ["65 %", "65%", "0.65", "65", "65 percent", "65 % RH", "65,0 %"] {
        close(Humidity::parse(typed).unwrap().fraction(), 0.65, typed);
    }
    assert_eq!(
        Humidity::parse("1.5").unwrap_err().problem,
        "could be a fraction or per cent"
    );
    assert_eq!(
        BasisPoints::parse("33.33 %").unwrap(),
        BasisPoints::from_basis_points(3333)
    );
    assert_eq!(BasisPoints::parse("0.4").unwrap(), BasisPoints::from_whole_percent(40));
}

#[test]
fn times_in_every_usual_spelling() {
    for (typed, minutes) in [
        ("90", 90),
        ("90 min", 90),
        ("1.5 h", 90),
        ("1 1/2 hours", 90),
        ("1:30", 90),
        ("2 h 30", 150),
        ("2h30", 150),
        ("2h 30m", 150),
        ("0:05", 5),
        ("3 d", 4320),
        ("1 d 2 h 5 min", 1565),
        ("3 weeks", 30_240),
        ("0", 0),
    ] {
        assert_eq!(Minutes::parse(typed).unwrap(), Minutes::new(minutes), "{typed}");
    }
}

#[test]
fn what_cannot_be_meant_is_refused_with_the_reason() {
    let length = |typed: &str| Length::parse(typed).unwrap_err().problem;
    assert_eq!(length(""), "is empty");
    assert_eq!(length("-4 in"), "is below nothing");
    assert_eq!(length("NaN"), "does not start with a number");
    assert_eq!(length("inf in"), "does not start with a number");
    assert_eq!(length("1e9 m"), "has an unknown unit, e");
    assert_eq!(length("120 m"), "is more than anything this is meant for");
    assert_eq!(length("1,500 mm"), "could mean 1500 or 1.500");
    assert_eq!(length("5 1/0 in"), "has a fraction with nothing below the bar");
    assert_eq!(
        length("5 5/4 in"),
        "has a fraction of one or more behind a whole number"
    );
    assert_eq!(
        length("5 ft 14 in"),
        "has 14 in where fewer than 12 make the next unit up"
    );
    assert_eq!(length("6 in 5 ft"), "has ft behind in, which is not larger");
    assert_eq!(length("5.5 ft 6 in"), "has a fraction before its last part");
    assert_eq!(length("5 ft²"), "ends in a number without a unit");
    assert_eq!(length("18\" 3"), "ends in a number without a unit");
    assert_eq!(length("18\" !"), "has a sign that does not belong there: !");
    assert_eq!(length(&"9".repeat(81)), "is longer than the 80 signs that are read");
    assert_eq!(Spread::parse("0 ft2/gal").unwrap_err().problem, "is nothing");
    assert_eq!(
        Minutes::parse("2:75").unwrap_err().problem,
        "has 75 minutes behind the colon, where 59 are the most"
    );
    assert_eq!(
        Temperature::parse("900 C").unwrap_err().problem,
        "is more than anything this is meant for"
    );
    assert_eq!(
        Humidity::parse("130 %").unwrap_err().problem,
        "is more than anything this is meant for"
    );
    assert_eq!(UnitSystem::parse("stones").unwrap_err().example, "imperial");
}

#[test]
fn a_refusal_says_what_the_limit_and_what_would_be_right() {
    assert_eq!(
        Length::parse("330 m").unwrap_err().to_string(),
        "“330 m” is more than anything this is meant for; expected a length in in, ft, yd, mm, cm or m up to 100 m \
         (328 ft), for example 18 3/4\""
    );
}
