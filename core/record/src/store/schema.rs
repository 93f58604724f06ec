//! Schema steps of the database, counted by `user_version`.

use rusqlite::Connection;

use super::{StoreError, changes, devices, projection, settings};

/// The steps in order; each table's own file holds its SQL.
const STEPS: &[&[&str]] = &[&[changes::STEP_1, devices::STEP_1, projection::STEP_1, settings::STEP_1]];

/// Brings a database to this release's schema.
pub(crate) fn migrate(db: &mut Connection) -> Result<(), StoreError> {
    let version: i64 = db.query_row("PRAGMA user_version", [], |row| row.get(0))?;
    let done = usize::try_from(version).unwrap_or(usize::MAX);
    if done > STEPS.len() {
        return Err(StoreError::Newer { found: version, known: STEPS.len() });
    }
    for (n, step) in STEPS.iter().enumerate().skip(done) {
        let tx = db.transaction()?;
        for sql in *step {
            tx.execute_batch(sql)?;
        }
        tx.pragma_update(None, "user_version", i64::try_from(n + 1).unwrap_or(i64::MAX))?;
        tx.commit()?;
    }
    Ok(())
}
