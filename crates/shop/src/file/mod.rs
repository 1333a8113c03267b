//! Plan files: the shop, its shelf and its pieces as TOML, read with the line of every value and written out again.
//!
//! Reading never stops at the first mistake. The answer is either a shop, with what was taken for granted on the way, or
//! every refusal of every file, each with its file, line, what was found, the limit and what would be right.

mod form_table;
mod log;
mod measure_table;
mod nearest;
mod node;
mod own_table;
mod piece_table;
mod readings;
mod refusal;
mod scan_table;
mod seller_table;
mod shelf_table;
mod shop_table;
mod source;
mod supply_table;
mod values;
mod words;
mod write;
mod zone_table;

use toml::de::DeTable;

use self::node::{Reader, Table};
use self::values::Bare;
use crate::model::{Settings, Shop};

pub use self::log::{read_log, write_log, write_readings};
pub use self::readings::read as read_readings;
pub use self::refusal::{FileRefusal, FileRefusals};
pub use self::shelf_table::read_mix;
pub use self::source::{Beside, NothingBeside, Source};
pub use self::values::read_colour;
pub(crate) use self::write::write_consent;
pub use self::write::{write_piece, write_shop};

/// The longest plan file that is read, bytes.
const LONGEST_FILE: usize = 2_000_000;
/// Most pieces of one plan.
const MOST_PIECES: usize = 100;
/// Most refusals that are shown of one file: more of them hide what is wrong.
const MOST_REFUSALS: usize = 60;

/// What plan files said.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadShop {
    /// The shop with its shelf and pieces.
    pub shop: Shop,
    /// What was taken for granted while reading, in plain words.
    pub assumed: Vec<String>,
}

/// Reads plan files into one shop: `[shop]` from at most one of them, shelves and pieces from all.
///
/// # Errors
/// Every refusal of every file, in reading order; nothing is used of files of which anything was refused.
pub fn read(sources: &[Source], beside: &dyn Beside) -> Result<ReadShop, FileRefusals> {
    let mut refusals = FileRefusals::default();
    let mut assumed = Vec::new();
    let mut shop = Shop::default();
    let mut parsed = Vec::new();
    for source in sources {
        match parse(source) {
            Ok(table) => parsed.push((source, table)),
            Err(refusal) => refusals.0.push(*refusal),
        }
    }
    let readers: Vec<Reader<'_>> = parsed.iter().map(|(source, _)| Reader::new(source)).collect();
    let roots: Vec<Table<'_>> = readers
        .iter()
        .zip(&parsed)
        .map(|(reader, (_, table))| Table::new(reader, String::new(), table.get_ref(), 0..0))
        .collect();
    read_settings(&roots, &mut shop.settings, beside);
    let bare = Bare {
        units: shop.settings.units,
        currency: shop.settings.currency,
    };
    for root in &roots {
        for table in root.tables("seller", "[[seller]] with a name, and cans with class, size and price") {
            seller_table::read(table, bare, &mut shop.settings);
        }
    }
    for root in &roots {
        for table in root.tables("shelf", "[[shelf]] with name, class, size and price") {
            let span = table.span.clone();
            let Some(product) = shelf_table::read(table, bare) else {
                continue;
            };
            if shop.product(&product.name).is_some() {
                root.reader.refuse(
                    span,
                    &format!("shelf \"{}\"", product.name),
                    "",
                    "two products have the same name",
                    "another name for one of them",
                );
                continue;
            }
            shop.shelf.push(product);
        }
        for table in root.tables("supply", "[[supply]] with name, what, pack and price") {
            let span = table.span.clone();
            let Some(supply) = supply_table::read(table, bare) else {
                continue;
            };
            if shop.supplies.iter().any(|other| other.name == supply.name) {
                root.reader.refuse(
                    span,
                    &format!("supply \"{}\"", supply.name),
                    "",
                    "two supplies have the same name",
                    "another name for one of them",
                );
                continue;
            }
            shop.supplies.push(supply);
        }
    }
    read_pieces(&roots, &mut shop, beside);
    for root in roots {
        root.close();
    }
    for reader in &readers {
        assumed.extend(reader.assumed.borrow().iter().cloned());
        refusals
            .0
            .extend(reader.refusals.borrow().iter().take(MOST_REFUSALS).cloned());
    }
    if refusals.0.is_empty() && shop.pieces.is_empty() {
        refusals.0.push(FileRefusal {
            file: sources.first().map_or_else(String::new, |source| source.name.clone()),
            line: 0,
            field: String::new(),
            found: "no [[piece]]".to_owned(),
            limit: "a plan needs at least one piece".to_owned(),
            right: "[[piece]] with a name, a form, and width, depth and height".to_owned(),
        });
    }
    if refusals.0.is_empty() {
        Ok(ReadShop { shop, assumed })
    } else {
        Err(refusals.sorted())
    }
}

/// The file and the line on which a piece, or a zone of it, begins; the first file and no line if it is in none.
pub fn place_of(sources: &[Source], piece: &str, zone: Option<&str>) -> (String, usize) {
    place_in(sources, piece, zone, None)
}

/// As [`place_of`], for one key of the zone and, where that is a list, for one entry of it (from 0); where the key is not there, the
/// zone.
pub fn place_in(
    sources: &[Source],
    piece: &str,
    zone: Option<&str>,
    entry: Option<(&'static str, Option<usize>)>,
) -> (String, usize) {
    let fallback = (
        sources.first().map_or_else(String::new, |source| source.name.clone()),
        0,
    );
    for source in sources {
        let Ok(root) = DeTable::parse(&source.text) else {
            continue;
        };
        let reader = Reader::new(source);
        let root = Table::new(&reader, String::new(), root.get_ref(), 0..0);
        for table in root.tables("piece", "") {
            if table.get("name").and_then(|name| name.as_text().map(str::trim)) != Some(piece) {
                continue;
            }
            let zones = table.tables("zone", "");
            let hit = zones
                .iter()
                .find(|hit| hit.get("name").and_then(|name| name.as_text().map(str::trim)) == zone && zone.is_some());
            let of_entry = || {
                let (key, item_idx) = entry?;
                let value = hit?.get(key)?;
                let items = value.list("");
                let item = item_idx.and_then(|item_idx| items.get(item_idx));
                Some(item.unwrap_or(&value).value.span())
            };
            let of_zone = || hit.map_or(table.span.clone(), |hit| hit.span.clone());
            let span = of_entry().unwrap_or_else(of_zone);
            return (source.name.clone(), source.line(span.start));
        }
    }
    fallback
}

fn parse(source: &Source) -> Result<toml::Spanned<DeTable<'_>>, Box<FileRefusal>> {
    let refusal = |line: usize, found: String, limit: &str, right: &str| {
        Box::new(FileRefusal {
            file: source.name.clone(),
            line,
            field: String::new(),
            found,
            limit: limit.to_owned(),
            right: right.to_owned(),
        })
    };
    if source.text.len() > LONGEST_FILE {
        return Err(refusal(
            0,
            format!("{} bytes", source.text.len()),
            "a plan file has at most 2000000 bytes",
            "fewer pieces a file",
        ));
    }
    DeTable::parse(&source.text).map_err(|error| {
        let offset = error.span().map_or(0, |span| span.start);
        let line = source.line(offset);
        let text = source.text.lines().nth(line.saturating_sub(1)).unwrap_or("");
        let message = error.message().split_whitespace().collect::<Vec<_>>().join(" ");
        let found: String = text.trim().chars().filter(|c| !c.is_control()).take(60).collect();
        refusal(
            line,
            found,
            &format!("a plan file is TOML 1.1; {message}"),
            "key = \"value\", [table] or [[list of tables]]",
        )
    })
}

fn read_settings(roots: &[Table<'_>], settings: &mut Settings, beside: &dyn Beside) {
    let mut shops = Vec::new();
    for root in roots {
        if let Some(value) = root.get("shop")
            && let Some(table) = value.table("[shop] with keys such as units, currency, hours")
        {
            shops.push(table);
        }
    }
    if let Some(first) = shops.first() {
        shop_table::bare_of(first, settings);
    }
    for (shop_idx, table) in shops.into_iter().enumerate() {
        if shop_idx > 0 {
            table.reader.refuse(
                table.span.clone(),
                "shop",
                "a second [shop]",
                "the files of one plan have one shop",
                "[shop] in one of the files only",
            );
        } else {
            shop_table::read(table, settings, beside);
        }
    }
    for root in roots {
        for table in root.tables("room", "[[room]] with a name, temperature and humidity") {
            if settings.rooms.len() >= 12 {
                table
                    .reader
                    .refuse(table.span.clone(), "room", "", "at most 12 rooms", "fewer rooms");
                break;
            }
            shop_table::read_further_room(table, settings, beside);
        }
    }
}

fn read_pieces(roots: &[Table<'_>], shop: &mut Shop, beside: &dyn Beside) {
    let mut count = 0_usize;
    for root in roots {
        for table in root.tables("piece", "[[piece]] with a name, a form, and width, depth and height") {
            let span = table.span.clone();
            count += 1;
            if count > MOST_PIECES {
                root.reader.refuse(
                    span,
                    "piece",
                    "",
                    &format!("at most {MOST_PIECES} pieces in one plan"),
                    "fewer pieces",
                );
                return;
            }
            let Some(mut piece) = piece_table::read(table, &shop.settings, &shop.shelf, beside) else {
                continue;
            };
            // An id that is said is kept, so that the log still finds its steps; two pieces may then share a name.
            let is_said = piece.id != crate::model::slug(&piece.name);
            if is_said && shop.piece(&piece.id).is_some() {
                root.reader.refuse(
                    span,
                    &format!("piece \"{}\", id", piece.name),
                    &piece.id,
                    "two pieces have the same id",
                    "another id for one of them, or none",
                );
                continue;
            }
            if !is_said && shop.pieces.iter().any(|other| other.name == piece.name) {
                root.reader.refuse(
                    span,
                    &format!("piece \"{}\"", piece.name),
                    "",
                    "two pieces have the same name",
                    "another name for one of them, or count = 2 for two alike",
                );
                continue;
            }
            if !is_said {
                piece.id = shop.free_id(&piece.name);
            }
            shop.pieces.push(piece);
        }
    }
}
