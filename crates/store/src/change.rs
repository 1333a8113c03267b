//! What was changed last, and the plan that was made last, kept over a restart.

use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, params};
use shop::change::{Change, Way};
use shop::model::Shop;
use shop::plan::KeptPlan;

use crate::rows::{bodies, from_body, to_body, write_shop};
use crate::{Store, StoreError};

/// How many changes are kept.
const KEPT: i64 = 50;

/// A change as it is told of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// Its number.
    pub id: i64,
    /// What it was.
    pub words: String,
    /// When it was made.
    pub at: Timestamp,
}

impl Store {
    /// Keeps a change. What was taken back before it cannot be made again; beyond fifty the oldest is forgotten.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn remember(&self, change: &Change) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        transaction.execute("DELETE FROM change WHERE undone = 1", [])?;
        transaction.execute(
            "INSERT INTO change (at, words, body) VALUES (?1, ?2, ?3)",
            params![change.at.to_string(), change.words, to_body("change", change)?],
        )?;
        transaction.execute(
            "DELETE FROM change WHERE id NOT IN (SELECT id FROM change ORDER BY id DESC LIMIT ?1)",
            [KEPT],
        )?;
        Ok(transaction.commit()?)
    }

    /// The changes that can be taken back, the last one first.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn changes(&self) -> Result<Vec<Told>, StoreError> {
        told(
            &self.connection(),
            "SELECT id, words, at FROM change WHERE undone = 0 ORDER BY id DESC",
        )
    }

    /// The changes that were taken back and can be made again, the one taken back last in front.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn taken_back(&self) -> Result<Vec<Told>, StoreError> {
        told(
            &self.connection(),
            "SELECT id, words, at FROM change WHERE undone = 1 ORDER BY id",
        )
    }

    /// A change with its way back.
    ///
    /// # Errors
    /// The database cannot be read, or holds what this version does not understand.
    pub fn change(&self, id: i64) -> Result<Option<Change>, StoreError> {
        let body: Option<String> = self
            .connection()
            .query_row("SELECT body FROM change WHERE id = ?1", [id], |row| row.get(0))
            .optional()?;
        body.map(|body| from_body("change", &body)).transpose()
    }

    /// Writes the shop as it is once a change was taken back or made again, and that it was, in one transaction.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn went(&self, id: i64, way: Way, shop: &Shop) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        write_shop(&transaction, shop)?;
        transaction.execute(
            "UPDATE change SET undone = ?2 WHERE id = ?1",
            params![id, i64::from(way == Way::Back)],
        )?;
        Ok(transaction.commit()?)
    }

    /// Keeps where the steps of a plan stand, in place of the plan before it.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn keep_plan(&self, plan: &KeptPlan) -> Result<(), StoreError> {
        self.connection().execute(
            "INSERT INTO plan_kept (one, body) VALUES (1, ?1) ON CONFLICT (one) DO UPDATE SET body = excluded.body",
            [to_body("plan", plan)?],
        )?;
        Ok(())
    }

    /// Where the steps stood in the plan that was made last.
    ///
    /// # Errors
    /// The database cannot be read, or holds what this version does not understand.
    pub fn kept_plan(&self) -> Result<Option<KeptPlan>, StoreError> {
        Ok(bodies(&self.connection(), "plan", "SELECT body FROM plan_kept")?.pop())
    }
}

fn told(connection: &Connection, sql: &str) -> Result<Vec<Told>, StoreError> {
    let mut statement = connection.prepare(sql)?;
    let rows = statement.query_map([], |row| {
        let at: String = row.get(2)?;
        Ok(Told {
            id: row.get(0)?,
            words: row.get(1)?,
            at: at.parse().unwrap_or(Timestamp::UNIX_EPOCH),
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
