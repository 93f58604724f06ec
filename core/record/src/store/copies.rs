//! The table of smaller copies of photos, each a blob of its own that travels before the original.

use rusqlite::{Connection, params};

use super::{Store, StoreError, hash_of, hex, items, row};

pub(crate) const STEP_5: &str = "
CREATE TABLE copies (
  blob  BLOB NOT NULL,
  photo BLOB NOT NULL,
  edge  INTEGER NOT NULL,
  PRIMARY KEY (blob, photo, edge)
) STRICT;
ALTER TABLE photo_files ADD COLUMN here INTEGER NOT NULL DEFAULT 1;
ALTER TABLE photo_files ADD COLUMN copied INTEGER NOT NULL DEFAULT 0;
CREATE INDEX photo_files_to_copy ON photo_files (file) WHERE here = 1 AND copied = 0;";

/// A smaller copy of a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CopyRow {
    /// The SHA-256 of the photo's own bytes.
    pub photo: [u8; 32],
    /// The long edge, pixels.
    pub edge: u32,
    /// The SHA-256 of the copy's bytes.
    pub blob: [u8; 32],
}

impl CopyRow {
    /// What tells it from other copies of one content: the photo and the edge.
    pub(super) fn place(&self) -> Vec<u8> {
        [&self.photo[..], &self.edge.to_be_bytes()].concat()
    }
}

/// Keeps a copy's row; one that is there already is left as it is.
pub(super) fn insert(db: &Connection, copy: &CopyRow) -> Result<usize, StoreError> {
    let fresh = db
        .prepare_cached("INSERT OR IGNORE INTO copies (blob, photo, edge) VALUES (?1, ?2, ?3)")?
        .execute(params![copy.blob, copy.photo, copy.edge])?;
    items::enter(db, &row::Row::Copy(*copy))?;
    Ok(fresh)
}

impl Store {
    /// Some photos whose originals are here and of which nobody has made the copies that travel.
    ///
    /// # Errors
    /// The database fails.
    pub fn photos_to_copy(&self, most: usize) -> Result<Vec<String>, StoreError> {
        let mut statement = self
            .db
            .prepare_cached("SELECT file FROM photo_files WHERE here = 1 AND copied = 0 ORDER BY file LIMIT ?1")?;
        let rows = statement.query_map([i64::try_from(most).unwrap_or(i64::MAX)], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The photos whose originals are not here, as far as the store knows.
    ///
    /// # Errors
    /// The database fails.
    pub fn photos_away(&self) -> Result<Vec<String>, StoreError> {
        let mut statement = self.db.prepare_cached("SELECT file FROM photo_files WHERE here = 0")?;
        let rows = statement.query_map([], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Enters the copies of a photo that are here, each with its class as the exchange has it and its size in bytes; none
    /// where no picture can be made of it. Where others have given copies of it before, those stand.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn enter_copies(&mut self, photo: &str, copies: &[(CopyRow, u8, u64)]) -> Result<(), StoreError> {
        let tx = self.write()?;
        for (copy, class, bytes) in copies {
            let given: bool = tx
                .prepare_cached("SELECT 1 FROM copies WHERE photo = ?1 AND edge = ?2")?
                .exists(params![copy.photo, copy.edge])?;
            if !given {
                insert(&tx, copy)?;
                super::blobs::put_here(&tx, &copy.blob, *class, *bytes)?;
            }
        }
        tx.execute("UPDATE photo_files SET copied = 1 WHERE file = ?1", [photo])?;
        tx.commit()?;
        Ok(())
    }

    /// Of which photos a blob is a copy, with the long edges in pixels.
    ///
    /// # Errors
    /// The database fails.
    pub fn copies_of(&self, blob: &[u8; 32]) -> Result<Vec<CopyRow>, StoreError> {
        let mut statement =
            self.db.prepare_cached("SELECT photo, edge FROM copies WHERE blob = ?1 ORDER BY photo, edge")?;
        let rows =
            statement.query_map([blob], |row| Ok(CopyRow { photo: row.get(0)?, edge: row.get(1)?, blob: *blob }))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Forgets which copies of a photo were made here, since they are not what they were; they are made anew.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn copy_again(&mut self, copy: &CopyRow) -> Result<(), StoreError> {
        let tx = self.write()?;
        tx.execute(
            "DELETE FROM copies WHERE blob = ?1 AND photo = ?2 AND edge = ?3",
            params![copy.blob, copy.photo, copy.edge],
        )?;
        tx.execute("UPDATE photo_files SET copied = 0 WHERE file = ?1", [hex(&copy.photo)])?;
        tx.commit()?;
        Ok(())
    }
}

/// Says whether a photo's original is here; copies are made of one that has none.
pub(super) fn photo_is_here(db: &Connection, id: &[u8; 32], is_here: bool) -> Result<(), StoreError> {
    db.execute(
        "UPDATE photo_files SET here = ?3, copied = EXISTS (SELECT 1 FROM copies WHERE photo = ?1) WHERE file = ?2",
        params![id, hex(id), is_here],
    )?;
    Ok(())
}

/// Says that a photo's original is here, with its size in bytes, so that it travels.
pub(super) fn original_here(db: &Connection, file: &str, bytes: i64) -> Result<(), StoreError> {
    match (hash_of(file), u64::try_from(bytes)) {
        (Some(id), Ok(bytes)) => super::blobs::put_here(db, &id, super::blobs::ORIGINAL, bytes),
        // The name of something that is no photo travels with its row alone.
        _ => Ok(()),
    }
}
