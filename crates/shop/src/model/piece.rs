//! One piece of furniture: its form, its history, for whom it is done, and where it stands.

use finish::Use;
use hazard::{Kind, Placement};
use jiff::civil::Date;
use quantity::Money;
use serde::{Deserialize, Serialize};

use super::form::FormSaid;
use super::weighting::Prefer;
use super::zone::Zone;

/// Where a piece stands in the shop; nothing else is a state.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PieceStage {
    /// Whether to take it is still open.
    Considering,
    /// It is here, and nothing has been done to it.
    #[default]
    TakenIn,
    /// Work on it has begun.
    OnTheBench,
    /// Nothing is left to do but to wait.
    Curing,
    /// It can go.
    Ready,
    /// It went.
    Gone,
}

impl PieceStage {
    /// Each stage with its word.
    pub const WORDS: [(&'static str, PieceStage); 6] = [
        ("considering", PieceStage::Considering),
        ("taken-in", PieceStage::TakenIn),
        ("on-the-bench", PieceStage::OnTheBench),
        ("curing", PieceStage::Curing),
        ("ready", PieceStage::Ready),
        ("gone", PieceStage::Gone),
    ];

    /// Its word for a person.
    pub fn words(self) -> &'static str {
        match self {
            PieceStage::Considering => "considering",
            PieceStage::TakenIn => "taken in",
            PieceStage::OnTheBench => "on the bench",
            PieceStage::Curing => "curing",
            PieceStage::Ready => "ready",
            PieceStage::Gone => "gone",
        }
    }

    /// Whether a piece at this stage still wants bench time.
    pub fn wants_work(self) -> bool {
        matches!(
            self,
            PieceStage::Considering | PieceStage::TakenIn | PieceStage::OnTheBench
        )
    }
}

/// When a piece was made, as far as anybody knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Made {
    /// Nobody knows.
    #[default]
    Unknown,
    /// In this year.
    Year(i16),
    /// In the ten years from this one.
    Decade(i16),
    /// Before this year.
    Before(i16),
    /// In this year or later.
    After(i16),
}

impl Made {
    /// Reads a year, a decade (`1950s`), `before 1978`, `after 1990` or `unknown`.
    ///
    /// # Errors
    /// What would be right, when the text is none of these or the year lies outside 1500–2200.
    pub fn parse(text: &str) -> Result<Made, String> {
        let right = || {
            "a year 1500 to 2200, a decade such as \"1950s\", \"before 1978\", \"after 1990\" or \"unknown\"".to_owned()
        };
        let text = text.trim().to_lowercase();
        let year = |text: &str| -> Result<i16, String> {
            text.trim()
                .parse::<i16>()
                .ok()
                .filter(|year| (1500..=2200).contains(year))
                .ok_or_else(right)
        };
        if text == "unknown" {
            return Ok(Made::Unknown);
        }
        if let Some(rest) = text.strip_prefix("before ") {
            return year(rest).map(Made::Before);
        }
        if let Some(rest) = text.strip_prefix("after ").or_else(|| text.strip_prefix("since ")) {
            return year(rest).map(Made::After);
        }
        if let Some(rest) = text.strip_suffix('s') {
            let decade = year(rest)?;
            return if decade % 10 == 0 {
                Ok(Made::Decade(decade))
            } else {
                Err(right())
            };
        }
        year(&text).map(Made::Year)
    }

    /// As [`Made::parse`] reads it.
    pub fn show(self) -> String {
        match self {
            Made::Unknown => "unknown".to_owned(),
            Made::Year(year) => year.to_string(),
            Made::Decade(year) => format!("{year}s"),
            Made::Before(year) => format!("before {year}"),
            Made::After(year) => format!("after {year}"),
        }
    }

    /// The earliest year it may have been made in; `None` when there is no telling.
    pub fn earliest_year(self) -> Option<i16> {
        match self {
            Made::Unknown | Made::Before(_) => None,
            Made::Year(year) | Made::Decade(year) | Made::After(year) => Some(year),
        }
    }
}

/// For whom a piece is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ForWhom {
    /// A commission.
    #[default]
    Client,
    /// Ours to sell.
    Sale,
}

impl ForWhom {
    /// Each with its word.
    pub const WORDS: [(&'static str, ForWhom); 2] = [("client", ForWhom::Client), ("sale", ForWhom::Sale)];
}

/// One piece, or several alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Short kebab-case name, unique in the shop and never changed.
    pub id: String,
    /// What the shop calls it.
    pub name: String,
    /// Where it stands.
    #[serde(default)]
    pub stage: PieceStage,
    /// Its form.
    pub form: FormSaid,
    /// How many alike (1–50): four chairs are one piece.
    pub count: u32,
    /// When it was made.
    #[serde(default)]
    pub made: Made,
    /// The day by whose end it is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
    /// For whom.
    #[serde(default)]
    pub for_whom: ForWhom,
    /// What it cost us, for one that is ours to sell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paid: Option<Money>,
    /// What it may bring, for one that is ours to sell: an idea of the market, not the price we ask.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sells_for: Option<Money>,
    /// What it will be used for.
    pub used_for: Use,
    /// Whether it is movable or part of the house; `None` where nobody said, see [`Piece::placement`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub placement: Option<Placement>,
    /// Whether it is made for a small child, and what; `None` where nobody said, see [`Piece::kind`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<Kind>,
    /// The room that it stands in; `None` for the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// What the default choice among schedules leans to; `None` for the shop's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prefer: Option<Prefer>,
    /// Its zones; when empty the form's own default zones are taken, each of plain oak, bare and sound.
    #[serde(default)]
    pub zones: Vec<Zone>,
    /// Anything else worth keeping.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
}

impl Piece {
    /// A piece of which a name, a form and three numbers are known, the rest by default.
    pub fn new(name: &str, form: FormSaid) -> Self {
        Piece {
            id: slug(name),
            name: name.to_owned(),
            stage: PieceStage::default(),
            form,
            count: 1,
            made: Made::default(),
            due: None,
            for_whom: ForWhom::default(),
            paid: None,
            sells_for: None,
            used_for: Use::Bedroom,
            placement: None,
            kind: None,
            room: None,
            prefer: None,
            zones: Vec::new(),
            notes: String::new(),
        }
    }

    /// Whether it is movable or part of the house, as was said. Where nobody said it, a name that says so counts (a built-in
    /// bookcase, a banister): work on old paint of what is part of the house is for certified firms, and is not overlooked for want
    /// of a tick. Anything else is movable.
    pub fn placement(&self) -> Placement {
        self.placement.unwrap_or_else(|| named_placement(&self.name))
    }

    /// What it is, as was said. Where nobody said it, a name that says so counts (a crib, a toy, a high chair), so that a child's
    /// piece is not overlooked for want of a tick.
    pub fn kind(&self) -> Kind {
        self.kind.unwrap_or_else(|| named_kind(&self.name))
    }

    /// The zone of this name.
    pub fn zone(&self, name: &str) -> Option<&Zone> {
        self.zones.iter().find(|zone| zone.name == name)
    }

    /// The zone of this name, to change it.
    pub fn zone_mut(&mut self, name: &str) -> Option<&mut Zone> {
        self.zones.iter_mut().find(|zone| zone.name == name)
    }
}

fn named_kind(name: &str) -> Kind {
    const MADE_FOR_A_CHILD: [(&str, Kind); 7] = [
        ("crib", Kind::Crib),
        ("cot", Kind::Crib),
        ("cradle", Kind::Crib),
        ("toy", Kind::Toy),
        ("toys", Kind::Toy),
        ("high-chair", Kind::HighChair),
        ("highchair", Kind::HighChair),
    ];
    let words = format!("-{}-", slug(name));
    let hit = MADE_FOR_A_CHILD
        .iter()
        .find(|(said, _)| words.contains(&format!("-{said}-")));
    hit.map_or(Kind::Ordinary, |(_, kind)| *kind)
}

fn named_placement(name: &str) -> Placement {
    const PARTS_OF_THE_HOUSE: [&str; 7] = [
        "built-in",
        "builtin",
        "fitted",
        "wainscot",
        "banister",
        "handrail",
        "mantelpiece",
    ];
    let words = format!("-{}-", slug(name));
    let is_part_of_the_house = PARTS_OF_THE_HOUSE
        .iter()
        .any(|said| words.contains(&format!("-{said}-")));
    if is_part_of_the_house {
        Placement::BuiltIn
    } else {
        Placement::Movable
    }
}

/// A name in kebab-case: letters and figures lower-cased, all else one hyphen; `piece` if nothing is left.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for c in name.chars().take(60) {
        if c.is_alphanumeric() {
            slug.extend(c.to_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-').to_owned();
    if slug.is_empty() { "piece".to_owned() } else { slug }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn when_made_reads_what_it_shows() {
        for text in ["unknown", "1954", "1950s", "before 1978", "after 1990"] {
            assert_eq!(Made::parse(text).unwrap().show(), text);
        }
        assert!(Made::parse("1953s").is_err());
        assert!(Made::parse("old").unwrap_err().contains("before 1978"));
    }

    #[test]
    fn what_is_said_of_its_place_goes_before_what_its_name_says() {
        let form = FormSaid::of(super::super::FormKind::Case, [quantity::Length::from_m(1.0); 3]);
        let mut piece = Piece::new("Built-in bookcase", form);
        assert_eq!(piece.placement(), Placement::BuiltIn);
        piece.placement = Some(Placement::Movable);
        assert_eq!(piece.placement(), Placement::Movable);
        for (name, placement) in [
            ("Hall banister, oak", Placement::BuiltIn),
            ("Fitted wardrobe", Placement::BuiltIn),
            ("built_in desk", Placement::BuiltIn),
            ("Unfitted dresser", Placement::Movable),
            ("Hall bench", Placement::Movable),
        ] {
            assert_eq!(named_placement(name), placement, "{name}");
        }
    }

    #[test]
    fn what_is_said_of_its_kind_goes_before_what_its_name_says() {
        let form = FormSaid::of(super::super::FormKind::Case, [quantity::Length::from_m(1.0); 3]);
        let mut piece = Piece::new("Maple crib", form);
        assert_eq!(piece.kind(), Kind::Crib);
        piece.kind = Some(Kind::Ordinary);
        assert_eq!(piece.kind(), Kind::Ordinary);
        for (name, kind) in [
            ("scribe's desk", Kind::Ordinary),
            ("toy chest", Kind::Toy),
            ("High chair, beech", Kind::HighChair),
            ("a chair, high", Kind::Ordinary),
        ] {
            assert_eq!(named_kind(name), kind, "{name}");
        }
    }

    #[test]
    fn a_name_becomes_an_id() {
        assert_eq!(slug("Hall bench, oak"), "hall-bench-oak");
        assert_eq!(slug("—"), "piece");
    }
}
