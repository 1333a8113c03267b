//! The identification against cases every bench hand knows, and against pieces drawn from its own table.

use super::*;

fn answers(pairs: &[(Observation, Outcome)]) -> Vec<Answer> {
    pairs
        .iter()
        .map(|(observation, outcome)| Answer::new(*observation, *outcome).unwrap())
        .collect()
}

/// Era, what was seen, and the class it names.
type Case = (Era, &'static [(Observation, Outcome)], FinishClass);

/// Common practice, and MIL-HDBK-1110 2.4 for the solvent rub: alcohol takes shellac, lacquer thinner takes lacquer,
/// xylene turns waterborne coats to gum, none of them takes a cured two-part coat.
#[test]
fn the_usual_ladder_of_solvents_names_the_usual_finishes() {
    use Observation as O;
    let cases: &[Case] = &[
        (
            Era::Before1900,
            &[(O::Look, Outcome::ClearFilm), (O::Alcohol, Outcome::Dissolves)],
            FinishClass::WaxedShellac,
        ),
        (
            Era::From1960,
            &[
                (O::Look, Outcome::ClearFilm),
                (O::Alcohol, Outcome::Nothing),
                (O::LacquerThinner, Outcome::Dissolves),
            ],
            FinishClass::NitrocelluloseLacquer,
        ),
        (
            Era::From2010,
            &[
                (O::Look, Outcome::ClearFilm),
                (O::Tone, Outcome::WaterWhite),
                (O::Xylene, Outcome::Gummy),
                (O::Alcohol, Outcome::Nothing),
            ],
            FinishClass::WaterbornePolyurethane,
        ),
        (
            Era::From2010,
            &[
                (O::Look, Outcome::OpaqueFilm),
                (O::Xylene, Outcome::Gummy),
                (O::Feel, Outcome::Plastic),
            ],
            FinishClass::WaterborneAcrylicEnamel,
        ),
        (
            Era::Unknown,
            &[
                (O::Look, Outcome::InTheWood),
                (O::MineralSpirits, Outcome::WaxOnRag),
                (O::HotNeedle, Outcome::Melts),
                (O::Feel, Outcome::Waxy),
            ],
            FinishClass::PasteWax,
        ),
    ];
    for (era, seen, expected) in cases {
        let found = identify(*era, &answers(seen));
        assert_eq!(
            found.verdict(),
            Verdict::Likely(*expected),
            "{:?}",
            &found.candidates()[..3]
        );
    }
}

/// Urethane-modified and plain alkyd answer every test alike: however much is tried, it says so.
#[test]
fn two_classes_that_answer_alike_cannot_be_told_apart() {
    let mut seen = vec![
        (Observation::Look, Outcome::OpaqueFilm),
        (Observation::LacquerThinner, Outcome::Wrinkles),
    ];
    seen.extend([
        (Observation::Alcohol, Outcome::Nothing),
        (Observation::Xylene, Outcome::Nothing),
    ]);
    seen.extend([
        (Observation::Feel, Outcome::HardSmooth),
        (Observation::Tone, Outcome::Coloured),
    ]);
    let found = identify(Era::From1990, &answers(&seen));
    let Verdict::CannotTell(classes) = found.verdict() else {
        panic!("{:?}", &found.candidates()[..3])
    };
    assert!(classes.contains(&FinishClass::AlkydEnamel) && classes.contains(&FinishClass::UrethaneAlkydEnamel));
    let ratio = found.probability_of(FinishClass::AlkydEnamel) / found.probability_of(FinishClass::UrethaneAlkydEnamel);
    assert!(
        (ratio - 2.0).abs() < 1e-9,
        "only the odds of the era part them, 6 to 3: {ratio}"
    );
}

/// The gain by the formula for mutual information equals the mean fall of the entropy when each outcome is really fed in.
#[test]
fn the_expected_gain_is_what_the_answers_then_bring() {
    let entropy = |found: &Identification| {
        found
            .candidates()
            .iter()
            .map(|c| {
                if c.probability > 0.0 {
                    -c.probability * c.probability.log2()
                } else {
                    0.0
                }
            })
            .sum::<f64>()
    };
    let before = answers(&[(Observation::Look, Outcome::ClearFilm)]);
    let now = identify(Era::Unknown, &before);
    for telling in tests_by_telling(&now) {
        let mut fall = entropy(&now);
        for outcome in telling.observation.outcomes() {
            let mut after = before.clone();
            after.push(Answer::new(telling.observation, outcome).unwrap());
            let then = identify(Era::Unknown, &after);
            // The chance of the outcome, from how one class's probability moves: p(o) = p(o | c) p(c) / p(c | o).
            let class = now.likeliest().class;
            let place = table::classes().iter().position(|known| *known == class).unwrap();
            let chance = table::likelihood(telling.observation, outcome)[place] * now.probability_of(class)
                / then.probability_of(class);
            fall -= chance * entropy(&then);
        }
        assert!((fall - telling.bits).abs() < 1e-9, "{telling:?} against {fall}");
    }
}

#[test]
fn on_a_clear_film_of_no_known_age_a_solvent_tells_the_most() {
    let found = identify(Era::Unknown, &answers(&[(Observation::Look, Outcome::ClearFilm)]));
    let next = next_test(&found).unwrap().observation;
    assert!(
        matches!(next, Observation::LacquerThinner | Observation::Acetone),
        "{next:?}"
    );
}

#[test]
fn a_second_look_replaces_the_first_and_order_does_not_matter() {
    use Observation as O;
    let twice = answers(&[
        (O::Alcohol, Outcome::Nothing),
        (O::Feel, Outcome::Dry),
        (O::Alcohol, Outcome::Dissolves),
    ]);
    let once = answers(&[(O::Feel, Outcome::Dry), (O::Alcohol, Outcome::Dissolves)]);
    let (twice, once) = (identify(Era::Unknown, &twice), identify(Era::Unknown, &once));
    for class in table::classes() {
        assert!((twice.probability_of(*class) - once.probability_of(*class)).abs() < 1e-12);
    }
}

#[test]
fn an_outcome_of_another_test_is_no_answer() {
    assert!(Answer::new(Observation::Alcohol, Outcome::Beads).is_none());
}

#[test]
fn without_a_test_the_plan_assumes_nothing_and_says_the_risk() {
    let found = identify(Era::Unknown, &[]);
    let shellac = found.probability_of(FinishClass::WaxedShellac);
    let weighed = guess(&found, |class| class == FinishClass::WaxedShellac);
    assert_eq!(weighed.plan_as, FinishClass::Unknown);
    assert!((weighed.risk - shellac).abs() < 1e-12 && shellac > 0.05);
}

/// A small generator of our own for the simulation (a 64-bit linear congruence); not used by the code under test.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn pick(&mut self, shares: &[f64]) -> usize {
        let mut left = self.roll() * shares.iter().sum::<f64>();
        shares
            .iter()
            .position(|share| {
                left -= share;
                left < 0.0
            })
            .unwrap_or(shares.len() - 1)
    }
}

/// 20,000 pieces drawn from the table, each with some of the tests made: among the pieces where it says 70 %, about 70 % are so.
/// Miscalibration is the mean gap between stated and true share over ten bins, weighted by their pieces; the bound is 3 points.
#[test]
fn what_it_says_with_a_probability_comes_true_that_often() {
    let mut dice = Dice(20_270_308);
    let mut bins = vec![(0.0, 0.0, 0.0); 10];
    for _ in 0..20_000 {
        let era = Era::EVERY[dice.pick(&[1.0; 7])];
        let place = dice.pick(table::prior(era));
        let mut seen = Vec::new();
        for observation in Observation::EVERY {
            if dice.roll() < 0.35 {
                let outcomes = observation.outcomes();
                let shares: Vec<f64> = outcomes
                    .iter()
                    .map(|o| table::likelihood(*observation, *o)[place])
                    .collect();
                seen.push(Answer::new(*observation, outcomes[dice.pick(&shares)]).unwrap());
            }
        }
        let likeliest = identify(era, &seen).likeliest();
        let place_of_bin = (1..10u8)
            .filter(|tenth| likeliest.probability * 10.0 >= f64::from(*tenth))
            .count();
        let bin = &mut bins[place_of_bin];
        bin.0 += 1.0;
        bin.1 += likeliest.probability;
        bin.2 += if likeliest.class == table::classes()[place] {
            1.0
        } else {
            0.0
        };
    }
    let gap: f64 = bins.iter().map(|(_, stated, so)| (stated - so).abs()).sum::<f64>() / 20_000.0;
    assert!(gap < 0.03, "{gap}: {bins:?}");
    assert!(
        bins.iter().filter(|bin| bin.0 > 100.0).count() >= 5,
        "the simulation reaches sure and unsure cases alike"
    );
}
