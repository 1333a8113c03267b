//! The database's history: one numbered SQL file a step, never changed once it has landed.

use crate::StoreError;
use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

const STEPS: &[&str] = &[
    include_str!("../migrations/0001_shop.sql"),
    include_str!("../migrations/0002_photograph.sql"),
    include_str!("../migrations/0003_colour.sql"),
    include_str!("../migrations/0004_change.sql"),
    include_str!("../migrations/0005_supply.sql"),
];

fn all() -> Migrations<'static> {
    Migrations::new(STEPS.iter().map(|step| M::up(step)).collect())
}

/// Brings a database to the newest step.
pub(crate) fn run(connection: &mut Connection) -> Result<(), StoreError> {
    Ok(all().to_latest(connection)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_step_runs_on_an_empty_database() {
        assert!(all().validate().is_ok());
    }

    #[test]
    fn a_database_of_the_first_step_keeps_its_data() {
        let mut connection = Connection::open_in_memory().unwrap();
        all().to_version(&mut connection, 1).unwrap();
        connection
            .execute("INSERT INTO piece (id, place, body) VALUES ('bench', 0, '{}')", [])
            .unwrap();
        connection
            .execute(
                "INSERT INTO mark (step, at, body) VALUES ('bench/top/1', '2027-03-08T09:00:00Z', '{}')",
                [],
            )
            .unwrap();
        run(&mut connection).unwrap();
        let count = |table: &str| -> i64 {
            connection
                .query_row(&format!("SELECT count(*) FROM {table}"), [], |row| row.get(0))
                .unwrap()
        };
        assert_eq!((count("piece"), count("mark"), count("photograph")), (1, 1, 0));
    }

    #[test]
    fn a_database_of_a_newer_program_is_refused() {
        let mut connection = Connection::open_in_memory().unwrap();
        connection.pragma_update(None, "user_version", 99).unwrap();
        assert!(matches!(run(&mut connection), Err(StoreError::Migration(_))));
    }
}
