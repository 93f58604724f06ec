//! The table of snapshots: documents as they were after changes whose signatures were checked, for quick opening.

use automerge::{Automerge, SaveOptions};
use rusqlite::{Connection, OptionalExtension, params};

use super::StoreError;

pub(crate) const STEP_3: &str = "
CREATE TABLE snapshots (
  document TEXT PRIMARY KEY,
  saved    BLOB NOT NULL
) STRICT;";

pub(crate) fn get(db: &Connection, document: &str) -> Result<Option<Vec<u8>>, StoreError> {
    let mut statement = db.prepare_cached("SELECT saved FROM snapshots WHERE document = ?1")?;
    Ok(statement.query_row([document], |row| row.get(0)).optional()?)
}

pub(crate) fn put(db: &Connection, document: &str, doc: &Automerge) -> Result<(), StoreError> {
    // Changes that wait for others are not in it: they are looked at anew each time.
    let saved = doc.save_with_options(SaveOptions { retain_orphans: false, ..SaveOptions::default() });
    db.execute("INSERT OR REPLACE INTO snapshots (document, saved) VALUES (?1, ?2)", params![document, saved])?;
    Ok(())
}

/// Forgets every snapshot.
pub(crate) fn clear(db: &Connection) -> Result<(), StoreError> {
    db.execute("DELETE FROM snapshots", [])?;
    Ok(())
}
