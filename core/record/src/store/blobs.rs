//! The table of blobs: contents that travel apart from the feeds, in blocks, with which of them are here and which lie in
//! the folder.

use rusqlite::{Connection, OptionalExtension, Row, params};

use super::{Store, StoreError, copies, items};

pub(crate) const STEP_5: &str = "
CREATE TABLE blobs (
  id     BLOB PRIMARY KEY,
  class  INTEGER NOT NULL,
  bytes  INTEGER NOT NULL,
  blocks BLOB,
  here   INTEGER NOT NULL
) STRICT;
CREATE INDEX blobs_to_send ON blobs (class) WHERE here = 1 AND blocks IS NULL;
CREATE INDEX blobs_to_fetch ON blobs (class) WHERE here = 0 AND blocks IS NOT NULL;
CREATE TABLE kept (document TEXT PRIMARY KEY) STRICT;
INSERT OR IGNORE INTO blobs (id, class, bytes, blocks, here)
  SELECT unhex(file), 1, bytes, NULL, 1 FROM photo_files WHERE length(unhex(file)) = 32;";

/// The class of originals, as the exchange's packs have it.
pub(super) const ORIGINAL: u8 = 1;

/// Under this name every site is kept, whichever they are.
const ALL: &str = "*";

/// A blob that lies in the folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlobRow {
    /// The SHA-256 of its bytes.
    pub id: [u8; 32],
    /// Its class, by the number that stands in the exchange's packs.
    pub class: u8,
    /// Its size in bytes.
    pub bytes: u64,
    /// The names of its blocks in order.
    pub blocks: Vec<[u8; 32]>,
}

impl BlobRow {
    /// As it stands in a feed beside another naming of the same blob.
    pub(super) fn raw(&self) -> Vec<u8> {
        [&[b'B', self.class][..], &self.id, &self.bytes.to_be_bytes(), self.blocks.as_flattened()].concat()
    }

    pub(super) fn of_raw(bytes: &[u8]) -> Option<Self> {
        let (b'B', rest) = bytes.split_first()? else { return None };
        let (class, rest) = rest.split_first()?;
        let (id, rest) = rest.split_first_chunk::<32>()?;
        let (bytes, blocks) = rest.split_first_chunk::<8>()?;
        let (blocks, []) = blocks.as_chunks::<32>() else { return None };
        Some(Self { id: *id, class: *class, bytes: u64::from_be_bytes(*bytes), blocks: blocks.to_vec() })
    }
}

fn named(row: &Row<'_>) -> rusqlite::Result<BlobRow> {
    let blocks: Vec<u8> = row.get(3)?;
    let bytes: i64 = row.get(2)?;
    Ok(BlobRow {
        id: row.get(0)?,
        class: row.get(1)?,
        bytes: bytes.unsigned_abs(),
        blocks: blocks.as_chunks::<32>().0.to_vec(),
    })
}

const COLUMNS: &str = "SELECT b.id, b.class, b.bytes, b.blocks FROM blobs b";

/// The blob of an id, where it lies in the folder.
pub(super) fn get(db: &Connection, id: &[u8]) -> Result<Option<BlobRow>, StoreError> {
    let mut statement = db.prepare_cached(&format!("{COLUMNS} WHERE b.id = ?1 AND b.blocks IS NOT NULL"))?;
    Ok(statement.query_row([id], named).optional()?)
}

/// Says that a blob is here whole.
pub(super) fn put_here(db: &Connection, id: &[u8; 32], class: u8, bytes: u64) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO blobs (id, class, bytes, blocks, here) VALUES (?1, ?2, ?3, NULL, 1)
         ON CONFLICT (id) DO UPDATE SET here = 1",
    )?
    .execute(params![id, class, i64::try_from(bytes).unwrap_or(i64::MAX)])?;
    Ok(())
}

/// Says that a blob lies in the folder; one that is named already is left as it is.
pub(super) fn name(db: &Connection, blob: &BlobRow) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO blobs (id, class, bytes, blocks, here) VALUES (?1, ?2, ?3, ?4, 0)
         ON CONFLICT (id) DO UPDATE SET blocks = excluded.blocks
           WHERE blobs.blocks IS NULL AND blobs.bytes = excluded.bytes",
    )?
    .execute(params![
        blob.id,
        blob.class,
        i64::try_from(blob.bytes).unwrap_or(i64::MAX),
        blob.blocks.as_flattened()
    ])?;
    Ok(())
}

impl Store {
    /// Some blobs of a class that are here and that nobody has put into the folder, with their sizes in bytes.
    ///
    /// # Errors
    /// The database fails.
    pub fn unsent(&self, class: u8, most: usize) -> Result<Vec<([u8; 32], u64)>, StoreError> {
        let mut statement = self.db.prepare_cached(
            "SELECT id, bytes FROM blobs WHERE here = 1 AND blocks IS NULL AND class = ?1 ORDER BY id LIMIT ?2",
        )?;
        let rows = statement.query_map(params![class, i64::try_from(most).unwrap_or(i64::MAX)], |row| {
            Ok((row.get(0)?, row.get::<_, i64>(1)?.unsigned_abs()))
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// How many blobs are here that nobody has put into the folder, and how many bytes they have.
    ///
    /// # Errors
    /// The database fails.
    pub fn unsent_count(&self) -> Result<(u64, u64), StoreError> {
        let counted = "SELECT count(*), coalesce(sum(bytes), 0) FROM blobs WHERE here = 1 AND blocks IS NULL";
        let (many, bytes): (i64, i64) = self.db.query_row(counted, [], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok((many.unsigned_abs(), bytes.unsigned_abs()))
    }

    /// Says that a blob lies in the folder, so that the item that names it is to be offered.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn sent(&mut self, blob: &BlobRow) -> Result<(), StoreError> {
        let tx = self.write()?;
        name(&tx, blob)?;
        items::enter_blob(&tx, &blob.id)?;
        tx.commit()?;
        Ok(())
    }

    /// The blob of an id, where it lies in the folder.
    ///
    /// # Errors
    /// The database fails.
    pub fn blob(&self, id: &[u8; 32]) -> Result<Option<BlobRow>, StoreError> {
        get(&self.db, id)
    }

    /// Some blobs of a class that lie in the folder, are not here and are wanted: copies of photos whose originals are
    /// not here either; originals of the sites that are kept on this device. None of those that were tried, and none larger
    /// than so many bytes.
    ///
    /// # Errors
    /// The database fails.
    pub fn wanted(
        &self,
        class: u8,
        tried: &[[u8; 32]],
        most_bytes: u64,
        most: usize,
    ) -> Result<Vec<BlobRow>, StoreError> {
        let wanted = if class == ORIGINAL {
            "EXISTS (SELECT 1 FROM site_photos p JOIN kept k ON k.document IN (p.document, '*') WHERE p.file = b.id)"
        } else {
            "EXISTS (SELECT 1 FROM copies c WHERE c.blob = b.id AND NOT EXISTS
               (SELECT 1 FROM photo_files f WHERE f.file = lower(hex(c.photo)) AND f.here = 1))"
        };
        let mut statement = self.db.prepare_cached(&format!(
            "{COLUMNS} WHERE b.here = 0 AND b.blocks IS NOT NULL AND b.class = ?1 AND b.bytes <= ?2 AND {wanted}"
        ))?;
        let tried: std::collections::BTreeSet<&[u8; 32]> = tried.iter().collect();
        let mut found = Vec::new();
        let mut rows = statement.query(params![class, i64::try_from(most_bytes).unwrap_or(i64::MAX)])?;
        while found.len() < most
            && let Some(row) = rows.next()?
        {
            let blob = named(row)?;
            if !tried.contains(&blob.id) {
                found.push(blob);
            }
        }
        Ok(found)
    }

    /// Says whether blobs are here whole, of all of them or, where it fails, of none; a photo whose original is one of them is
    /// here with it.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn blobs_are_here(&mut self, ids: &[[u8; 32]], are_here: bool) -> Result<(), StoreError> {
        let tx = self.write()?;
        for id in ids {
            tx.execute("UPDATE blobs SET here = ?2 WHERE id = ?1", params![id, are_here])?;
            copies::photo_is_here(&tx, id, are_here)?;
        }
        tx.commit()?;
        Ok(())
    }

    /// Says that the original of a photo that counted as away is here, with its size in bytes, so that it travels.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn found_again(&mut self, id: &[u8; 32], bytes: u64) -> Result<(), StoreError> {
        let tx = self.write()?;
        put_here(&tx, id, ORIGINAL, bytes)?;
        copies::photo_is_here(&tx, id, true)?;
        tx.commit()?;
        Ok(())
    }

    /// Keeps a site on this device with the originals of its photos, or no longer; `None` stands for every site, those to
    /// come included.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn keep(&mut self, document: Option<&str>, is_kept: bool) -> Result<(), StoreError> {
        let tx = self.write()?;
        let name = document.unwrap_or(ALL);
        if is_kept {
            tx.execute("INSERT OR IGNORE INTO kept (document) VALUES (?1)", [name])?;
        } else {
            tx.execute("DELETE FROM kept WHERE document = ?1", [name])?;
        }
        tx.commit()?;
        Ok(())
    }

    /// The sites that are kept here with their originals, and whether every site is.
    ///
    /// # Errors
    /// The database fails.
    pub fn kept(&self) -> Result<(Vec<String>, bool), StoreError> {
        let mut statement = self.db.prepare_cached("SELECT document FROM kept ORDER BY document")?;
        let rows = statement.query_map([], |row| row.get(0))?;
        let mut all: Vec<String> = rows.collect::<Result<_, _>>()?;
        let before = all.len();
        all.retain(|name| name != ALL);
        let every = all.len() < before;
        Ok((all, every))
    }
}

impl Store {
    /// Takes part in no team any more: nothing lies in a feed or in a folder, and whose changes counted are known from now
    /// on by the word of this store alone. Everything that is here stays.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then everything is as before.
    pub fn leave(&mut self) -> Result<(), StoreError> {
        let tx = self.write()?;
        tx.execute_batch(
            "DELETE FROM memory;
             DELETE FROM feeds;
             DELETE FROM items WHERE kind = 'B';
             DELETE FROM blobs WHERE here = 0;
             UPDATE blobs SET blocks = NULL;",
        )?;
        super::standing::dissolve(&tx)?;
        tx.commit()?;
        self.arrivals += 1;
        self.catch_up()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_naming_is_read_as_it_was_written() {
        let blob = BlobRow { id: [1; 32], class: 2, bytes: (4 << 20) + 1, blocks: vec![[3; 32], [4; 32]] };
        let raw = blob.raw();
        assert_eq!(BlobRow::of_raw(&raw), Some(blob));
        assert_eq!(BlobRow::of_raw(&raw[..raw.len() - 1]), None);
        assert_eq!(BlobRow::of_raw(b"C"), None);
    }
}
