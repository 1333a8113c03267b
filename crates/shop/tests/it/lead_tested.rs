//! A lead test with its kind and its amount, and whether a piece is built in: read, refused, written back, kept, and told.

use shop::Shop;
use shop::file::{NothingBeside, Source, read, write_shop};
use shop::model::{Kind, LeadAmount, LeadTest, LeadTested, Placement, TestKind};
use shop::plan::{Effort, Plan, plan};

const CUPBOARD: &str = r##"
[shop]
zone_id = "UTC"
starts  = "2027-03-08T09:00"
hours   = { mon = "9:00-17:00", tue = "9:00-17:00", wed = "9:00-17:00", thu = "9:00-17:00", fri = "9:00-17:00" }
room    = { temperature = "20 °C", humidity = 0.5, volume = "60 m3" }

[[piece]]
name   = "cupboard"
form   = "case"
made   = "before 1978"
placement = "movable"
width  = "80 cm"
depth  = "40 cm"
height = "90 cm"

  [[piece.zone]]
  name      = "body"
  substrate = "pine"
  area      = "2 m2"
  found     = [ { class = "alkyd-enamel", coats = 3 } ]
  tested    = { lead = "present", by = "lab-chip", amount = "0.8 %" }
  wish      = { look = "paint", colour = "#35506b", strip = true }
"##;

fn read_one(text: &str) -> Result<Shop, String> {
    read(&[Source::new("cupboard.toml", text)], &NothingBeside)
        .map(|read| read.shop)
        .map_err(|refusals| refusals.to_string())
}

fn with(tested: &str) -> String {
    CUPBOARD.replace("{ lead = \"present\", by = \"lab-chip\", amount = \"0.8 %\" }", tested)
}

fn planned(text: &str) -> Plan {
    let now = "2027-03-08T09:00:00Z".parse().unwrap();
    plan(&read_one(text).unwrap(), now, Effort::least()).unwrap_or_else(|failure| panic!("{failure:?}"))
}

fn told<'a>(plan: &'a Plan, id: &str) -> &'a str {
    let caution = plan.cautions.iter().find(|caution| caution.id == id);
    &caution
        .unwrap_or_else(|| panic!("{id} is not told: {:#?}", plan.cautions))
        .text
}

#[test]
fn kind_amount_and_place_are_read_written_back_and_kept() {
    for (tested, lead) in [
        (
            "{ lead = \"present\", by = \"lab-chip\", amount = \"0.8 %\" }",
            LeadTested {
                said: LeadTest::Present,
                by: Some(TestKind::LabChip),
                amount: Some(LeadAmount::PercentByWeight(0.8)),
            },
        ),
        (
            "{ lead = \"present\", by = \"xrf\", amount = \"2.4 mg/cm²\" }",
            LeadTested {
                said: LeadTest::Present,
                by: Some(TestKind::Xrf),
                amount: Some(LeadAmount::MgPerCm2(2.4)),
            },
        ),
        (
            "{ lead = \"positive\", amount = \"5000 ppm\" }",
            LeadTested {
                said: LeadTest::Present,
                by: None,
                amount: Some(LeadAmount::PercentByWeight(0.5)),
            },
        ),
        (
            "{ lead = \"none\", by = \"home swab kit\" }",
            LeadTested {
                said: LeadTest::None,
                by: Some(TestKind::Swab),
                amount: None,
            },
        ),
        (
            "{ lead = \"none\" }",
            LeadTested {
                said: LeadTest::None,
                ..LeadTested::default()
            },
        ),
    ] {
        let shop = read_one(&with(tested)).unwrap();
        assert_eq!(shop.pieces[0].zones[0].lead, lead, "{tested}");
        assert_eq!(shop.pieces[0].placement, Some(Placement::Movable));
        let text = write_shop(&shop);
        let again = read_one(&text).unwrap();
        assert_eq!(again.pieces[0].zones[0].lead, lead, "{text}");
        assert_eq!(again.pieces[0].placement, Some(Placement::Movable));
        let kept: Shop = serde_json::from_str(&serde_json::to_string(&shop).unwrap()).unwrap();
        assert_eq!(kept, shop);
    }
}

#[test]
fn a_file_of_before_means_what_it_meant() {
    let text = with("{ lead = \"present\" }").replace("placement = \"movable\"\n", "");
    let shop = read_one(&text).unwrap();
    assert_eq!(shop.pieces[0].placement, None);
    assert_eq!(shop.pieces[0].placement(), Placement::Movable);
    let json = serde_json::to_string(&shop.pieces[0]).unwrap();
    assert!(
        !json.contains("lead_by") && !json.contains("lead_amount") && !json.contains("placement"),
        "{json}"
    );
}

#[test]
fn what_no_test_says_is_refused_with_its_line_and_what_would_be_right() {
    for (tested, parts) in [
        (
            "{ lead = \"present\", by = \"swap\" }",
            ["body\", tested, by", "kind of lead test", "`swab`"],
        ),
        (
            "{ lead = \"present\", amount = \"much\" }",
            ["tested, amount", "0.001 to 100 mg/cm2", "5000 ppm"],
        ),
        (
            "{ lead = \"present\", amount = 3 }",
            ["tested, amount", "0.001 to 100 mg/cm2", "5000 ppm"],
        ),
        (
            "{ lead = \"present\", amount = \"150 mg/cm2\" }",
            ["tested, amount", "0.001 to 100 mg/cm2", "150 mg/cm2"],
        ),
        (
            "{ lead = \"present\", by = \"swab\", amount = \"1 mg/cm2\" }",
            ["tested, amount", "gives no amount", "lab-chip"],
        ),
        (
            "{ lead = \"present\", by = \"xrf\", amount = \"1 %\" }",
            ["tested, amount", "by area", "2.4 mg/cm2"],
        ),
        (
            "{ lead = \"none\", by = \"xrf\", amount = \"0.1 mg/cm2\" }",
            ["tested, amount", "found none has no amount", "\"present\""],
        ),
        (
            "{ by = \"xrf\" }",
            ["tested, lead", "needs the result", "\"present\" where lead was found"],
        ),
        (
            "{ lead = \"not-tested\", amount = \"1 %\" }",
            ["tested, lead", "needs the result", "not-tested"],
        ),
        (
            "{ lead = \"maybe\", by = \"xrf\" }",
            ["tested, lead", "not known here", "present"],
        ),
    ] {
        let said = read_one(&with(tested)).unwrap_err();
        assert_eq!(said.matches("cupboard.toml, line 22").count(), 1, "{tested}: {said}");
        for part in parts {
            assert!(said.contains(part), "{tested}: \"{part}\" is missing in\n{said}");
        }
    }
    let said = read_one(&CUPBOARD.replace("\"movable\"", "\"moveable\"")).unwrap_err();
    assert!(
        said.contains("line 12") && said.contains("placement") && said.contains("`movable`"),
        "{said}"
    );
}

/// 2 m² of three coats of 40 µm at 0.8 % by mass and 1.8 g/cm³ hold 3.5 g; at 2.4 mg/cm² they hold 48 g; and at the threshold of
/// 1.0 mg/cm², where nobody measured, 20 g. A thousandth of 48 g on 24 m² (258 ft²) of floor is 186 µg on each square foot.
#[test]
fn the_plan_reckons_with_what_was_measured_and_says_by_which_test() {
    let share = planned(CUPBOARD);
    let present = told(&share, "lead-present");
    assert!(
        present.contains("0.8 % by mass") && present.contains("laboratory") && present.contains("1.6 times"),
        "{present}"
    );
    assert!(present.contains("speaks for the spot"), "{present}");
    let mass = told(&share, "lead-set-free");
    assert!(mass.contains("3.5 g by the measured 0.8 % by mass"), "{mass}");

    let area = planned(&with("{ lead = \"present\", by = \"xrf\", amount = \"2.4 mg/cm2\" }"));
    let present = told(&area, "lead-present");
    assert!(
        present.contains("2.4 mg/cm²") && present.contains("X-ray") && present.contains("2.4 times"),
        "{present}"
    );
    let mass = told(&area, "lead-set-free");
    assert!(
        mass.contains("48.0 g by the measured 2.4 mg/cm²") && mass.contains("about 186 µg"),
        "{mass}"
    );

    let unmeasured = planned(&with("{ lead = \"present\", by = \"swab\" }"));
    let present = told(&unmeasured, "lead-present");
    assert!(
        present.contains("home swab kit") && present.contains("does not say how much"),
        "{present}"
    );
    let mass = told(&unmeasured, "lead-set-free");
    assert!(mass.contains("20.0 g at the threshold"), "{mass}");

    let little = planned(&with("{ lead = \"present\", by = \"xrf\", amount = \"0.3 mg/cm2\" }"));
    let present = told(&little, "lead-present");
    assert!(
        present.contains("less than what counts as lead paint") && present.contains("lead dust all the same"),
        "{present}"
    );
}

#[test]
fn what_is_said_of_its_place_decides_and_not_the_name() {
    let movable = planned(CUPBOARD);
    assert!(movable.cautions.iter().all(|caution| caution.id != "lead-built-in"));
    let built_in = planned(&CUPBOARD.replace("\"movable\"", "\"built-in\""));
    assert!(told(&built_in, "lead-built-in").contains("part of the house"));
    let named = CUPBOARD.replace("name   = \"cupboard\"", "name   = \"built-in cupboard\"");
    let said_movable = planned(&named);
    assert!(
        said_movable
            .cautions
            .iter()
            .all(|caution| caution.id != "lead-built-in")
    );
    let unsaid = planned(&named.replace("placement = \"movable\"\n", ""));
    assert!(told(&unsaid, "lead-built-in").contains("part of the house"));
    assert!(
        unsaid
            .assumed
            .iter()
            .any(|assumed| assumed.contains("part of the house, by its name"))
    );
}

#[test]
fn what_is_said_to_be_made_for_a_child_is_cautioned_and_kept() {
    let said = CUPBOARD.replace("placement = \"movable\"\n", "placement = \"movable\"\nkind = \"cot\"\n");
    let shop = read_one(&said).unwrap();
    assert_eq!(shop.pieces[0].kind, Some(Kind::Crib));
    assert_eq!(read_one(&write_shop(&shop)).unwrap().pieces[0].kind, Some(Kind::Crib));
    let is_told = |plan: &Plan| plan.cautions.iter().any(|caution| caution.id == "crib");
    assert!(is_told(&planned(&said)) && !is_told(&planned(CUPBOARD)));
    let named = CUPBOARD.replace("name   = \"cupboard\"", "name   = \"old cot\"");
    let by_name = planned(&named);
    assert!(
        is_told(&by_name)
            && by_name
                .assumed
                .iter()
                .any(|assumed| assumed.contains("a crib or cot, by its name"))
    );
    let denied = named.replace("placement = \"movable\"\n", "kind = \"ordinary\"\n");
    assert!(!is_told(&planned(&denied)));
    let refused = read_one(&said.replace("\"cot\"", "\"pram\"")).unwrap_err();
    assert!(
        refused.contains("line 13") && refused.contains("kind of piece") && refused.contains("`crib`"),
        "{refused}"
    );
}
