//! The risk of a wrong guess at the found finish: what happens over each class that it may be, and what it does to the price.

use finish::identify::{Answer, Era, Observation, Outcome};
use money::{Estimate, HourlyRates, Job, Pricing, quote};
use quantity::{Minutes, Money};
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
    assert!(body(&plan).risks.is_empty() && body(&plan).safe.is_none());
    assert!(!plan.to_json().unwrap().contains("\"risks\""));
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
            let [risk] = &body(&plan).risks[..] else {
                panic!("one layer was guessed")
            };
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
                let mut rules: Vec<&str> = other.happens.iter().map(|happens| happens.rule.as_str()).collect();
                rules.sort_unstable();
                rules.dedup();
                assert_eq!(rules.len(), other.happens.len(), "each rule is told once");
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

/// A clear film by its look alone: shellac, varnish or lacquer.
fn by_look() -> Guess {
    Guess {
        era: Era::From1900,
        ..tests(&[(Observation::Look, Outcome::ClearFilm)])
    }
}

/// Varnished over what is taken for varnish by its look.
const VARNISHED: &str = "look = \"clear\", strip = false, class = \"oil-based-polyurethane\"";

/// The job of the plan's one piece, from what the plan prints of it.
fn job(plan: &Plan, shop: &Shop) -> Job {
    let money = &plan.pieces[0].money;
    let minutes: i64 = plan.steps().map(|(_, _, step)| i64::from(step.hands_on_min)).sum();
    Job {
        // The spreads that a plan reckons with before the log has taught better, common practice.
        materials: Estimate::new(money.materials.money, 0.15),
        hands_on: Estimate::new(Minutes::new(minutes), 0.25),
        purchase: money.purchase.money,
        rates: HourlyRates {
            wage: shop.settings.wage_per_h,
            overhead: shop.settings.overhead_per_h,
        },
    }
}

#[test]
fn the_price_counts_the_chance_and_the_cost_of_doing_it_over() {
    let known = planned(&chest(VARNISHED, FinishClass::OilBasedPolyurethane, None));
    let shop = chest(VARNISHED, FinishClass::OilBasedPolyurethane, Some(by_look()));
    let guessed = planned(&shop);
    let (known, money) = (&known.pieces[0].money, &guessed.pieces[0].money);
    assert_eq!(known.price.money, money.price.money, "the same steps cost the same");
    assert!(
        money.loss_chance > known.loss_chance,
        "{} {}",
        money.loss_chance,
        known.loss_chance
    );
    // By hand: where the guess holds the loss is as likely as where it is known; over each class where it fails, as likely as for a
    // piece that cost so much more.
    let job = job(&guessed, &shop);
    let loss = |more: i64| {
        let purchase = Money::from_minor(job.purchase.minor() + more);
        quote(&Job { purchase, ..job }, Pricing::Asked(money.price.money))
            .unwrap()
            .loss_chance
    };
    assert!((loss(0) - known.loss_chance).abs() < 1e-4);
    let fails = body(&guessed).risks[0]
        .others
        .iter()
        .filter(|other| !other.happens.is_empty());
    let (mut right, mut expected) = (1.0, 0.0);
    for other in fails {
        right -= other.chance;
        expected += other.chance * loss(other.redo.unwrap().money.minor());
    }
    expected += right * loss(0);
    assert!(right < 0.9, "the guess may well be wrong: {right}");
    assert!(
        (money.loss_chance - expected).abs() < 0.005,
        "{} {expected}",
        money.loss_chance
    );
}

#[test]
fn a_covered_layer_that_was_told_by_tests_carries_its_risk_too() {
    let mut shop = chest(VARNISHED, FinishClass::OilBasedPolyurethane, Some(by_look()));
    let coloured = tests(&[
        (Observation::Look, Outcome::InTheWood),
        (Observation::Tone, Outcome::Coloured),
    ]);
    let planned_as = coloured.identification().likeliest().class;
    let below = shop::model::FoundLayer::of(planned_as, 1);
    shop.pieces[0].zones[0].found.insert(0, below);
    let outer_only = planned(&shop).pieces[0].money.loss_chance;
    shop.pieces[0].zones[0].found[0].guess = Some(coloured.clone());
    let plan = planned(&shop);
    let risks = &body(&plan).risks;
    assert_eq!(risks.iter().map(|risk| risk.layer).collect::<Vec<_>>(), [1, 0]);
    assert_eq!(risks[1].planned_as, planned_as.id());
    for other in &risks[1].others {
        let class = FinishClass::parse(&other.class).unwrap();
        assert!((other.chance - coloured.identification().probability_of(class)).abs() < 0.001);
    }
    let loss = plan.pieces[0].money.loss_chance;
    assert!(
        (0.0..=1.0).contains(&loss) && loss >= outer_only - 1e-4,
        "{loss} {outer_only}"
    );
}

#[test]
fn where_the_planned_steps_may_fail_a_schedule_is_offered_that_holds_whatever_it_is() {
    let mut offered = 0;
    for wish in [VARNISHED, "look = \"clear\"", "look = \"paint\""] {
        let mut shop = chest(wish, FinishClass::OilBasedPolyurethane, Some(by_look()));
        let plan = planned(&shop);
        let zone = body(&plan);
        let Some(safe) = zone.safe.clone() else { continue };
        let choice = zone.schedules.iter().find(|choice| choice.key == safe.key).unwrap();
        assert!(
            choice.best_at.iter().any(|best| best == "safe whatever is on it"),
            "{:?}",
            choice.best_at
        );
        if zone.risks.iter().all(|risk| risk.holds_whatever_it_is) {
            assert!(
                choice.chosen,
                "{wish}: the planned one holds, and is the one that is named"
            );
            continue;
        }
        offered += 1;
        assert!(!choice.chosen, "{wish}");
        shop.pieces[0].zones[0].chosen = Some(safe.key);
        let plan = planned(&shop);
        assert!(
            body(&plan)
                .risks
                .iter()
                .all(|risk| risk.holds_whatever_it_is && risk.fails == 0.0),
            "{wish}: {:#?}",
            body(&plan).risks
        );
        let known = planned(&chest(wish, FinishClass::OilBasedPolyurethane, None));
        // Its price may be another, its chance of a loss is again that of any piece.
        assert!(
            (plan.pieces[0].money.loss_chance - known.pieces[0].money.loss_chance).abs() < 0.05,
            "{wish}"
        );
    }
    assert!(offered > 0, "nowhere is another schedule offered: nothing was tested");
}
