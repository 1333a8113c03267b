//! The risk of a wrong guess at the found finish: what happens over each class that it may be, and what it does to the price.

use finish::identify::{Answer, Era, Observation, Outcome};
use shop::Shop;
use shop::file::{NothingBeside, Source, read};
use shop::model::Guess;
use shop::plan::{Effort, Plan, PlannedZone, plan};
use trade::FinishClass;

const CHEST: &str = r##"
[shop]
zone_id = "UTC"
starts  = "2027-03-08T09:00"
hours   = { mon = "9:00-17:00", tue = "9:00-17:00", wed = "9:00-17:00", thu = "9:00-17:00", fri = "9:00-17:00" }
room    = { temperature = "20 °C", humidity = 0.5 }

[[piece]]
name   = "chest"
form   = "case"
made   = "1985"
width  = "80 cm"
depth  = "40 cm"
height = "40 cm"

  [[piece.zone]]
  name      = "body"
  substrate = "oak"
  found     = [ { class = "oil-based-polyurethane", coats = 2 } ]
  tested    = { lead = "none" }
  wish      = { look = "clear", class = "nitrocellulose-lacquer", without = [] }
"##;

fn chest(look: &str, found: FinishClass, guess: Option<Guess>) -> Shop {
    let text = CHEST.replace(
        "look = \"clear\", class = \"nitrocellulose-lacquer\", without = []",
        look,
    );
    let mut shop = read(&[Source::new("chest.toml", text)], &NothingBeside)
        .unwrap_or_else(|refusals| panic!("{refusals}"))
        .shop;
    let layer = &mut shop.pieces[0].zones[0].found[0];
    layer.class = found;
    layer.guess = guess;
    shop
}

fn tests(answers: &[(Observation, Outcome)]) -> Guess {
    let read = |(observation, outcome): &(Observation, Outcome)| Answer::new(*observation, *outcome).unwrap();
    Guess {
        era: Era::From1960,
        answers: answers.iter().map(read).collect(),
    }
}

fn planned(shop: &Shop) -> Plan {
    plan(shop, "2027-03-08T09:00:00Z".parse().unwrap(), Effort::least()).unwrap_or_else(|failure| panic!("{failure:?}"))
}

fn body(plan: &Plan) -> &PlannedZone {
    &plan.pieces[0].zones[0]
}

#[test]
fn a_finish_that_is_known_has_no_risk() {
    let plan = planned(&chest("look = \"paint\"", FinishClass::OilBasedPolyurethane, None));
    assert_eq!(body(&plan).risk, None);
    assert!(!plan.to_json().unwrap().contains("\"risk\""));
}

#[test]
fn each_class_that_it_may_be_says_what_happens_over_it_and_what_it_costs() {
    let guess = tests(&[(Observation::Look, Outcome::ClearFilm)]);
    let found = guess.identification();
    let mut fails = 0;
    for wish in [
        "look = \"paint\"",
        "look = \"clear\"",
        "look = \"clear\", strip = false, class = \"oil-based-polyurethane\"",
    ] {
        for class in [
            FinishClass::OilBasedPolyurethane,
            FinishClass::NitrocelluloseLacquer,
            FinishClass::DewaxedShellac,
        ] {
            let plan = planned(&chest(wish, class, Some(guess.clone())));
            let risk = body(&plan).risk.as_ref().unwrap();
            assert!((risk.chance - found.probability_of(class)).abs() < 0.006);
            assert!(!risk.others.is_empty());
            for other in &risk.others {
                let other_class = FinishClass::parse(&other.class).unwrap();
                assert!((other.chance - found.probability_of(other_class)).abs() < 0.006);
                assert_ne!(other_class, class);
                // Gel varnish is oil varnish made thick: no spot test parts them. Lacquer is parted by its thinner.
                let pair = [class, other_class];
                let alike =
                    pair.contains(&FinishClass::OilBasedPolyurethane) && pair.contains(&FinishClass::GelVarnish);
                let parted = pair.contains(&FinishClass::OilBasedPolyurethane)
                    && pair.contains(&FinishClass::NitrocelluloseLacquer);
                assert!(!alike || other.test.is_none(), "{}", other.class);
                assert!(!parted || other.test.is_some(), "{}", other.class);
                if !other.happens.is_empty() {
                    fails += 1;
                    assert!(other.redo.is_none_or(|redo| redo.money.minor() > 0));
                }
            }
            let sum: f64 = risk
                .others
                .iter()
                .filter(|other| !other.happens.is_empty())
                .map(|other| other.chance)
                .sum();
            assert!((risk.fails - sum).abs() < 0.02, "{} and {sum}", risk.fails);
        }
    }
    assert!(fails > 0, "nowhere does a wrong guess matter: nothing was tested");
}
