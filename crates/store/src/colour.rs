//! What the shop measured of its paints, and what it tried on its photographs.

use rusqlite::{OptionalExtension, params};
use shop::swatch::{SwatchReading, Trial};

use crate::rows::{bodies, from_body, to_body};
use crate::{Store, StoreError};

impl Store {
    /// The readings of the shelf's paints, by name.
    ///
    /// # Errors
    /// The database cannot be read, or holds what this version does not understand.
    pub fn swatches(&self) -> Result<Vec<SwatchReading>, StoreError> {
        bodies(&self.connection(), "swatch", "SELECT body FROM swatch ORDER BY product")
    }

    /// Writes the reading of one paint, new or changed; where it is the white, no other is any more.
    ///
    /// # Errors
    /// The database cannot be written; then nothing has changed.
    pub fn save_swatch(&self, swatch: &SwatchReading) -> Result<(), StoreError> {
        let mut connection = self.connection();
        let transaction = connection.transaction()?;
        if swatch.is_white {
            transaction.execute(
                "UPDATE swatch SET body = json_set(body, '$.is_white', json('false'))",
                [],
            )?;
        }
        transaction.execute(
            "INSERT INTO swatch (product, body) VALUES (?1, ?2) ON CONFLICT (product) DO UPDATE SET body = excluded.body",
            params![swatch.product, to_body("swatch", swatch)?],
        )?;
        Ok(transaction.commit()?)
    }

    /// What was marked and tried on a photograph; nothing yet gives an empty one.
    ///
    /// # Errors
    /// The database cannot be read, or holds what this version does not understand.
    pub fn trial(&self, photograph: i64) -> Result<Trial, StoreError> {
        let body: Option<String> = self
            .connection()
            .query_row("SELECT body FROM trial WHERE photograph = ?1", [photograph], |row| {
                row.get(0)
            })
            .optional()?;
        body.map_or_else(|| Ok(Trial::default()), |body| from_body("trial", &body))
    }

    /// Writes what was marked and tried on a photograph.
    ///
    /// # Errors
    /// There is no such photograph, or the database cannot be written.
    pub fn save_trial(&self, photograph: i64, trial: &Trial) -> Result<(), StoreError> {
        self.connection().execute(
            "INSERT INTO trial (photograph, body) VALUES (?1, ?2) ON CONFLICT (photograph) DO UPDATE SET body = excluded.body",
            params![photograph, to_body("trial", trial)?],
        )?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use colour::Lab;
    use shop::swatch::{Next, Point};

    fn reading(product: &str, is_white: bool) -> SwatchReading {
        SwatchReading {
            product: product.to_owned(),
            own: Some(Lab::new(94.0, 0.0, 2.0)),
            tint: None,
            is_white,
        }
    }

    #[test]
    fn there_is_one_white_at_most() {
        let store = Store::in_memory().unwrap();
        store.save_swatch(&reading("old white", true)).unwrap();
        store.save_swatch(&reading("new white", true)).unwrap();
        let whites: Vec<String> = store
            .swatches()
            .unwrap()
            .into_iter()
            .filter(|swatch| swatch.is_white)
            .map(|swatch| swatch.product)
            .collect();
        assert_eq!(whites, ["new white"]);
    }

    #[test]
    fn a_trial_needs_its_photograph() {
        let store = Store::in_memory().unwrap();
        let mut trial = Trial {
            next: Next::Old,
            ..Trial::default()
        };
        trial.tap(Point { x: 1, y: 2 });
        assert_eq!(store.trial(7).unwrap(), Trial::default());
        assert!(store.save_trial(7, &trial).is_err());
    }
}
