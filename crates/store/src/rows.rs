//! The shop's parts as rows: read all at once, written one at a time.

use crate::{Store, StoreError};
use rusqlite::{Connection, OptionalExtension, params};
use serde::Serialize;
use serde::de::DeserializeOwned;
use shop::model::{Mark, Piece, Settings, ShelfProduct, ShelfSupply, Shop};

impl Store {
    /// The whole shop as it stands; a new folder gives the default shop.
    ///
    /// # Errors
    /// The database cannot be read, or holds what this version does not understand.
    pub fn load(&self) -> Result<Shop, StoreError> {
        let connection = self.connection();
        let settings: Option<String> = connection
            .query_row("SELECT body FROM settings", [], |row| row.get(0))
            .optional()?;
        Ok(Shop {
            settings: settings.map_or_else(|| Ok(Settings::default()), |body| from_body("settings", &body))?,
            shelf: bodies(&connection, "product", "SELECT body FROM product ORDER BY place")?,
            supplies: bodies(&connection, "supply", "SELECT body FROM supply ORDER BY place")?,
            pieces: bodies(&connection, "piece", "SELECT body FROM piece ORDER BY place, id")?,
            log: bodies(&connection, "mark", "SELECT body FROM mark ORDER BY id")?,
        })
    }

    /// Whether anything was ever saved here.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn is_new(&self) -> Result<bool, StoreError> {
        let saved: i64 = self.connection().query_row(
            "SELECT (SELECT count(*) FROM settings) + (SELECT count(*) FROM piece)",
            [],
            |row| row.get(0),
        )?;
        Ok(saved == 0)
    }

    /// Writes a whole shop in place of what is there, in one transaction; photographs of pieces that stay are kept.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn save(&self, shop: &Shop) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        write_shop(&transaction, shop)?;
        Ok(transaction.commit()?)
    }

    /// Writes the settings.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn save_settings(&self, settings: &Settings) -> Result<(), StoreError> {
        write_settings(&self.connection(), settings)
    }

    /// Writes the shelf in place of the one that is there.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn save_shelf(&self, shelf: &[ShelfProduct]) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        write_shelf(&transaction, shelf)?;
        Ok(transaction.commit()?)
    }

    /// Writes the supplies in place of those that are there.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn save_supplies(&self, supplies: &[ShelfSupply]) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        write_supplies(&transaction, supplies)?;
        Ok(transaction.commit()?)
    }

    /// Writes one piece, new or changed; a new one stands last.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn save_piece(&self, piece: &Piece) -> Result<(), StoreError> {
        write_piece(&self.connection(), piece, None)
    }

    /// Takes a piece out, with its photographs.
    ///
    /// # Errors
    /// There is no such piece, or the database cannot be written.
    pub fn remove_piece(&self, id: &str) -> Result<(), StoreError> {
        let files: Vec<String> = self
            .photographs(id)?
            .into_iter()
            .map(|photograph| photograph.file)
            .collect();
        let removed = self.connection().execute("DELETE FROM piece WHERE id = ?1", [id])?;
        if removed == 0 {
            return Err(StoreError::NoPiece(id.to_owned()));
        }
        self.remove_files(&files)
    }

    /// Adds one line to the bench log.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn add_mark(&self, mark: &Mark) -> Result<(), StoreError> {
        write_mark(&self.connection(), mark)
    }

    /// The lines of the shopping list that are ticked off.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn ticked(&self) -> Result<Vec<String>, StoreError> {
        let connection = self.connection();
        let mut statement = connection.prepare("SELECT line FROM ticked ORDER BY line")?;
        let lines = statement.query_map([], |row| row.get(0))?;
        Ok(lines.collect::<Result<_, _>>()?)
    }

    /// Ticks a line of the shopping list off, or takes the tick back.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn tick(&self, line: &str, at: jiff::Timestamp, ticked: Tick) -> Result<(), StoreError> {
        let connection = self.connection();
        match ticked {
            Tick::On => connection.execute(
                "INSERT OR IGNORE INTO ticked (line, at) VALUES (?1, ?2)",
                params![line, at.to_string()],
            )?,
            Tick::Off => connection.execute("DELETE FROM ticked WHERE line = ?1", [line])?,
        };
        Ok(())
    }
}

/// Whether a line of the shopping list is ticked off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tick {
    /// It is.
    On,
    /// It is not.
    Off,
}

/// Writes a whole shop in place of what is there; whoever calls it has begun a transaction.
pub(crate) fn write_shop(connection: &Connection, shop: &Shop) -> Result<(), StoreError> {
    write_settings(connection, &shop.settings)?;
    write_shelf(connection, &shop.shelf)?;
    write_supplies(connection, &shop.supplies)?;
    let kept: Vec<&str> = shop.pieces.iter().map(|piece| piece.id.as_str()).collect();
    let there: Vec<String> = {
        let mut statement = connection.prepare("SELECT id FROM piece")?;
        let ids = statement.query_map([], |row| row.get(0))?;
        ids.collect::<Result<_, _>>()?
    };
    for id in there.iter().filter(|id| !kept.contains(&id.as_str())) {
        connection.execute("DELETE FROM piece WHERE id = ?1", [id])?;
    }
    for (place, piece) in (0_i64..).zip(&shop.pieces) {
        write_piece(connection, piece, Some(place))?;
    }
    connection.execute("DELETE FROM mark", [])?;
    for mark in &shop.log {
        write_mark(connection, mark)?;
    }
    Ok(())
}

fn write_settings(connection: &Connection, settings: &Settings) -> Result<(), StoreError> {
    connection.execute(
        "INSERT INTO settings (one, body) VALUES (1, ?1) ON CONFLICT (one) DO UPDATE SET body = excluded.body",
        [to_body("settings", settings)?],
    )?;
    Ok(())
}

fn write_shelf(connection: &Connection, shelf: &[ShelfProduct]) -> Result<(), StoreError> {
    connection.execute("DELETE FROM product", [])?;
    for (place, product) in (0_i64..).zip(shelf) {
        connection.execute(
            "INSERT INTO product (place, body) VALUES (?1, ?2)",
            params![place, to_body("product", product)?],
        )?;
    }
    Ok(())
}

fn write_supplies(connection: &Connection, supplies: &[ShelfSupply]) -> Result<(), StoreError> {
    connection.execute("DELETE FROM supply", [])?;
    for (place, supply) in (0_i64..).zip(supplies) {
        connection.execute(
            "INSERT INTO supply (place, body) VALUES (?1, ?2)",
            params![place, to_body("supply", supply)?],
        )?;
    }
    Ok(())
}

fn write_piece(connection: &Connection, piece: &Piece, place: Option<i64>) -> Result<(), StoreError> {
    connection.execute(
        "INSERT INTO piece (id, place, body)
         VALUES (?1, coalesce(?2, (SELECT coalesce(max(place) + 1, 0) FROM piece)), ?3)
         ON CONFLICT (id) DO UPDATE SET body = excluded.body, place = coalesce(?2, place)",
        params![piece.id, place, to_body("piece", piece)?],
    )?;
    Ok(())
}

fn write_mark(connection: &Connection, mark: &Mark) -> Result<(), StoreError> {
    connection.execute(
        "INSERT INTO mark (step, at, body) VALUES (?1, ?2, ?3)",
        params![mark.step, mark.at.to_string(), to_body("mark", mark)?],
    )?;
    Ok(())
}

pub(crate) fn bodies<T: DeserializeOwned>(
    connection: &Connection,
    what: &'static str,
    sql: &str,
) -> Result<Vec<T>, StoreError> {
    let mut statement = connection.prepare(sql)?;
    let rows = statement.query_map([], |row| row.get::<_, String>(0))?;
    rows.map(|body| from_body(what, &body?)).collect()
}

pub(crate) fn to_body<T: Serialize>(what: &'static str, thing: &T) -> Result<String, StoreError> {
    serde_json::to_string(thing).map_err(|source| StoreError::Body { what, source })
}

pub(crate) fn from_body<T: DeserializeOwned>(what: &'static str, body: &str) -> Result<T, StoreError> {
    serde_json::from_str(body).map_err(|source| StoreError::Body { what, source })
}
