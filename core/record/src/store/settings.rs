//! The table of this store's own settings.

use rusqlite::{Connection, OptionalExtension, params};

use super::StoreError;

pub(crate) const STEP_1: &str = "
CREATE TABLE settings (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;";

/// A setting.
pub(crate) fn get(db: &Connection, name: &str) -> Result<Option<String>, StoreError> {
    Ok(db.query_row("SELECT value FROM settings WHERE name = ?1", [name], |row| row.get(0)).optional()?)
}

/// Writes a setting.
pub(crate) fn set(db: &Connection, name: &str, value: &str) -> Result<(), StoreError> {
    db.execute("INSERT OR REPLACE INTO settings (name, value) VALUES (?1, ?2)", params![name, value])?;
    Ok(())
}
