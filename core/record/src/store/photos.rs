//! The photo index: which picture files are kept beside the database, named by the SHA-256 of their bytes.
//!
//! A row of a file that is here is written after the file itself is on the disk, so that every such row has its file. Rows of
//! files on other devices come through the exchange.

use rusqlite::types::Value;
use rusqlite::{Connection, OptionalExtension, params};

use super::row::Row;
use super::{Store, StoreError, copies, items};

pub(crate) const STEP_2: &str = "
CREATE TABLE photo_files (
  file     TEXT PRIMARY KEY,
  name     TEXT NOT NULL,
  kind     TEXT NOT NULL,
  bytes    INTEGER NOT NULL,
  added_ms INTEGER NOT NULL,
  facts    TEXT NOT NULL
) STRICT;";

/// A picture file that is kept here or on another device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoRow {
    /// SHA-256 of its bytes in lower-case hexadecimal: its name in the library and the `file` of a survey's photo.
    pub file: String,
    /// The name under which it came.
    pub name: String,
    /// What it is, such as `jpeg`.
    pub kind: String,
    /// Its size in bytes.
    pub bytes: i64,
    /// When it was added, milliseconds since 1970.
    pub added_ms: i64,
    /// What its reader found in it, as JSON of the photo library.
    pub facts: String,
}

fn row(row: &rusqlite::Row<'_>) -> rusqlite::Result<PhotoRow> {
    Ok(PhotoRow {
        file: row.get(0)?,
        name: row.get(1)?,
        kind: row.get(2)?,
        bytes: row.get(3)?,
        added_ms: row.get(4)?,
        facts: row.get(5)?,
    })
}

const COLUMNS: &str = "SELECT file, name, kind, bytes, added_ms, facts FROM photo_files";

/// Keeps a row of a file that is here; one that is there already keeps its first name and time and takes the new facts.
pub(crate) fn put(db: &Connection, row: &PhotoRow) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO photo_files (file, name, kind, bytes, added_ms, facts) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
         ON CONFLICT (file) DO UPDATE SET facts = excluded.facts, here = 1",
    )?
    .execute(params![row.file, row.name, row.kind, row.bytes, row.added_ms, row.facts])?;
    items::enter(db, &Row::Photo(row.clone()))?;
    copies::original_here(db, &row.file, row.bytes)
}

/// Keeps a row of a file that is on another device; one that is there already is left as it is.
pub(crate) fn heard_of(db: &Connection, row: &PhotoRow) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT OR IGNORE INTO photo_files (file, name, kind, bytes, added_ms, facts, here) VALUES (?1, ?2, ?3, ?4, ?5, ?6, 0)",
    )?
    .execute(params![row.file, row.name, row.kind, row.bytes, row.added_ms, row.facts])?;
    Ok(())
}

/// The row of a file.
pub(crate) fn by_file(db: &Connection, file: &Value) -> Result<Option<PhotoRow>, StoreError> {
    Ok(db.prepare_cached(&format!("{COLUMNS} WHERE file = ?1"))?.query_row([file], row).optional()?)
}

impl Store {
    /// Keeps rows of the photo index, all or none; a file that is there already keeps its first name and time and takes
    /// the new facts.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is kept.
    pub fn keep_photos(&mut self, rows: &[PhotoRow]) -> Result<(), StoreError> {
        let tx = self.write()?;
        for row in rows {
            put(&tx, row)?;
        }
        tx.commit()?;
        Ok(())
    }

    /// The row of one file.
    ///
    /// # Errors
    /// The database fails.
    pub fn photo(&self, file: &str) -> Result<Option<PhotoRow>, StoreError> {
        Ok(self.db.prepare_cached(&format!("{COLUMNS} WHERE file = ?1"))?.query_row([file], row).optional()?)
    }

    /// Every row, by file.
    ///
    /// # Errors
    /// The database fails.
    pub fn photos(&self) -> Result<Vec<PhotoRow>, StoreError> {
        let mut statement = self.db.prepare_cached(&format!("{COLUMNS} ORDER BY file"))?;
        let rows = statement.query_map([], row)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Forgets a row, whose file the library then removes.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn forget_photo(&mut self, file: &str) -> Result<(), StoreError> {
        let tx = self.write()?;
        tx.execute("DELETE FROM photo_files WHERE file = ?1", [file])?;
        tx.commit()?;
        Ok(())
    }
}
