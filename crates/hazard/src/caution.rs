//! A caution, and how those of many steps are gathered into one.

use serde::Serialize;

/// Every caution there is: its id, and when it is told. Ids stay for ever.
pub const EVERY: &[(&str, &str)] = &[
    ("ammonia", "a coat may give off ammonia"),
    ("benzyl-alcohol-skin", "benzyl-alcohol stripper is used"),
    ("caustic-burns", "caustic stripper is used"),
    ("caustic-on-aluminium", "caustic stripper would touch aluminium"),
    ("crib", "the piece is a crib"),
    ("cure-before-use", "food or small children come near a fresh coat"),
    ("epoxy-skin", "epoxy filler is used"),
    ("filler-dust", "two-part filler is sanded"),
    ("flammable-liquid", "a flammable liquid is open in the shop"),
    ("food-contact", "food will lie on a coated zone"),
    ("for-a-nursery", "the piece goes where a small child lives"),
    ("formaldehyde", "a coat gives off formaldehyde"),
    ("heat-may-ignite", "a finish is taken off with heat"),
    ("isocyanate-hardener", "a hardener with isocyanate is brushed or rolled"),
    ("isocyanate-spray", "a hardener with isocyanate would be sprayed"),
    ("lead-built-in", "old paint is disturbed on something built in"),
    (
        "lead-made-to-dust",
        "paint known to hold lead would be turned to dust or fume",
    ),
    ("lead-present", "a test found lead"),
    ("lead-set-free", "old paint that may hold lead is taken off"),
    ("lead-test-limits", "the work rests on a test that found none"),
    ("lead-untested", "a finish that may hold lead was not tested"),
    ("made-for-a-child", "the piece is a toy or a high chair"),
    ("methylene-chloride", "methylene-chloride stripper is asked for"),
    ("nmp-in-stripper", "a gel stripper is used"),
    ("oxalic-acid", "oxalic-acid bleach is used"),
    ("rags-self-heat", "rags of this material can catch fire by themselves"),
    ("sanding-dust", "something is sanded dry"),
    ("sensitising-wood", "a wood is sanded whose dust makes people allergic"),
    ("spraying-what-burns", "something that burns is sprayed"),
    ("styrene", "polyester filler is used"),
    ("vapour-may-ignite", "vapour in the room comes near what can ignite"),
    ("vapour-over-limit", "vapour in the room passes a limit"),
    (
        "vapour-over-short-limit",
        "vapour in the room passes a limit for a quarter of an hour",
    ),
    ("wear-for-dust", "sanding dust"),
    ("wear-for-mist", "spraying"),
    ("wear-for-poisonous-dust", "dust of lead or bleach"),
    ("wear-for-stripper", "stripping with chemistry"),
    ("wear-for-vapour", "solvent vapour"),
];

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Good to know.
    Note,
    /// Do it only with the stated care.
    Warn,
    /// Do not do it as planned: test, change the plan or ask first. Cannot be overruled.
    Stop,
}

/// One caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// Kebab-case id that stays.
    pub id: &'static str,
    /// How grave.
    pub level: Level,
    /// What can happen and what to do.
    pub text: String,
    /// Who decides: label, safety data sheet, tester, certified firm.
    pub ask: &'static str,
    /// Key of the source.
    pub source: &'static str,
}

/// A caution and where it stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// The caution.
    #[serde(flatten)]
    pub caution: Caution,
    /// Positions of the steps it belongs to, in the job's list; empty if it belongs to the piece.
    pub steps: Vec<usize>,
}

impl Told {
    /// A caution for the whole piece.
    pub(crate) fn piece(caution: Caution) -> Self {
        Self {
            caution,
            steps: Vec::new(),
        }
    }

    /// A caution for some steps.
    pub(crate) fn steps(caution: Caution, steps: Vec<usize>) -> Self {
        Self { caution, steps }
    }
}

/// What may be told of a rule of law, as a sentence without its full stop; empty for a rule that is not in the table.
pub(crate) fn law_sentence(name: &str) -> String {
    let shown = trade::law::by_name(name).map_or_else(String::new, trade::law::LawRow::shown);
    let mut letters = shown.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// One entry for each id: the gravest comes first in its text, the steps are joined. Sorted by gravity, then id.
pub(crate) fn gather(all: Vec<Told>) -> Vec<Told> {
    let mut gathered: Vec<Told> = Vec::new();
    for told in all {
        match gathered.iter_mut().find(|seen| seen.caution.id == told.caution.id) {
            Some(seen) => {
                seen.steps.extend(told.steps);
                let (graver, other) = if told.caution.level > seen.caution.level {
                    (told.caution, seen.caution.text.clone())
                } else {
                    (seen.caution.clone(), told.caution.text)
                };
                seen.caution = graver;
                if !seen.caution.text.contains(&other) {
                    seen.caution.text = format!("{} {other}", seen.caution.text);
                }
            }
            None => gathered.push(told),
        }
    }
    for told in &mut gathered {
        told.steps.sort_unstable();
        told.steps.dedup();
    }
    gathered.sort_by(|a, b| {
        b.caution
            .level
            .cmp(&a.caution.level)
            .then(a.caution.id.cmp(b.caution.id))
    });
    gathered
}

#[cfg(test)]
mod tests {
    use super::*;

    fn caution(id: &'static str, level: Level, text: &str) -> Caution {
        Caution {
            id,
            level,
            text: text.to_owned(),
            ask: "",
            source: "common-practice",
        }
    }

    #[test]
    fn same_id_is_told_once_with_all_its_steps_and_the_gravest_level() {
        let told = gather(vec![
            Told::steps(caution("b", Level::Note, "mild"), vec![3]),
            Told::steps(caution("b", Level::Stop, "grave"), vec![1, 3]),
            Told::steps(caution("a", Level::Warn, "other"), vec![2]),
        ]);
        assert_eq!(told.iter().map(|t| t.caution.id).collect::<Vec<_>>(), ["b", "a"]);
        assert_eq!(told[0].steps, [1, 3]);
        assert_eq!(told[0].caution.text, "grave mild");
    }
}
