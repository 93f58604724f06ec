//! The table of the photos of each site, by which the exchange tells which originals are wanted where a site is kept.

use std::collections::BTreeSet;

use rusqlite::{Connection, params};

use super::StoreError;

pub(crate) const STEP_5: &str = "
CREATE TABLE site_photos (
  document TEXT NOT NULL,
  photo    TEXT NOT NULL,
  file     BLOB NOT NULL,
  PRIMARY KEY (document, photo)
) STRICT, WITHOUT ROWID;
CREATE INDEX site_photos_by_file ON site_photos (file);";

/// A photo of a site, by its id, with the SHA-256 of its file.
pub(super) type Original = (String, [u8; 32]);

/// Writes what changed in a site.
pub(super) fn replace(
    db: &Connection,
    document: &str,
    old: &BTreeSet<Original>,
    new: &BTreeSet<Original>,
) -> Result<(), StoreError> {
    for (photo, _) in old.difference(new) {
        db.prepare_cached("DELETE FROM site_photos WHERE document = ?1 AND photo = ?2")?
            .execute(params![document, photo])?;
    }
    for (photo, file) in new.difference(old) {
        db.prepare_cached("INSERT OR REPLACE INTO site_photos (document, photo, file) VALUES (?1, ?2, ?3)")?
            .execute(params![document, photo, file])?;
    }
    Ok(())
}

/// The photos of one site.
pub(super) fn of(db: &Connection, document: &str) -> Result<BTreeSet<Original>, StoreError> {
    let mut found = db.prepare_cached("SELECT photo, file FROM site_photos WHERE document = ?1")?;
    Ok(found.query_map([document], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?)
}

/// Forgets everything.
pub(super) fn clear(db: &Connection) -> Result<(), StoreError> {
    db.execute("DELETE FROM site_photos", [])?;
    Ok(())
}
