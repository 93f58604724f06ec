//! The table of texts with its full-text index.
//!
//! The index keeps no copy of the texts; what leaves it must be told to it as it was, which every function here does.

use std::collections::BTreeSet;

use rusqlite::{Connection, params};

use super::{StoreError, count};
use crate::document::{Kind, Thing};

pub(crate) const STEP_1: &str =
    "CREATE VIRTUAL TABLE search USING fts5 (document UNINDEXED, thing UNINDEXED, field UNINDEXED, text);";

/// Finds a text of one thing without looking at all of them.
pub(crate) const STEP_3: &str = "
DROP TABLE search;
CREATE TABLE texts (
  id       INTEGER PRIMARY KEY,
  document TEXT NOT NULL,
  kind     TEXT NOT NULL,
  rail     TEXT NOT NULL,
  thing    TEXT NOT NULL,
  field    TEXT NOT NULL,
  text     TEXT NOT NULL,
  UNIQUE (document, kind, rail, thing, field)
) STRICT;
CREATE VIRTUAL TABLE search USING fts5 (text, content = 'texts', content_rowid = 'id', prefix = '2 3 4');";

/// A place where a text was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// The document.
    pub document: String,
    /// The thing.
    pub place: Thing,
    /// The thing, in words.
    pub thing: String,
    /// The field.
    pub field: String,
    /// The text.
    pub text: String,
}

/// A text to be found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Text {
    pub thing: Thing,
    pub field: String,
    pub text: String,
}

/// Takes texts out of the index and the table.
pub(super) fn remove(db: &Connection, document: &str, text: &Text) -> Result<(), StoreError> {
    let key = params![document, text.thing.kind.key(), text.thing.rail, text.thing.id, text.field];
    let place = "document = ?1 AND kind = ?2 AND rail = ?3 AND thing = ?4 AND field = ?5";
    db.prepare_cached(&format!(
        "INSERT INTO search (search, rowid, text) SELECT 'delete', id, text FROM texts WHERE {place}"
    ))?
    .execute(key)?;
    db.prepare_cached(&format!("DELETE FROM texts WHERE {place}"))?.execute(key)?;
    Ok(())
}

/// Puts a text into the table and the index.
pub(super) fn insert(db: &Connection, document: &str, text: &Text) -> Result<(), StoreError> {
    db.prepare_cached("INSERT INTO texts (document, kind, rail, thing, field, text) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
        .execute(params![document, text.thing.kind.key(), text.thing.rail, text.thing.id, text.field, text.text])?;
    db.prepare_cached("INSERT INTO search (rowid, text) VALUES (?1, ?2)")?
        .execute(params![db.last_insert_rowid(), text.text])?;
    Ok(())
}

/// Forgets every text.
pub(super) fn clear(db: &Connection) -> Result<(), StoreError> {
    db.execute("INSERT INTO search (search) VALUES ('delete-all')", [])?;
    db.execute("DELETE FROM texts", [])?;
    Ok(())
}

/// The texts of one document.
pub(super) fn of(db: &Connection, document: &str) -> Result<BTreeSet<Text>, StoreError> {
    let mut statement = db.prepare_cached("SELECT kind, rail, thing, field, text FROM texts WHERE document = ?1")?;
    let rows = statement.query_map([document], |row| {
        let thing = thing(&row.get::<_, String>(0)?, row.get(1)?, row.get(2)?);
        Ok(Text { thing, field: row.get(3)?, text: row.get(4)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// A thing as the table names it; of a kind that only a newer release knows, it is shown as part of the site.
fn thing(kind: &str, rail: String, id: String) -> Thing {
    Thing { kind: Kind::of_key(kind).unwrap_or(Kind::Site), rail, id }
}

/// So many texts are put in order of how well they fit; of more, those that were written last are shown.
const RANKED: usize = 1_000;

/// Texts that hold every word, each as it begins: those that fit best, or, where a word is in too many to weigh them all,
/// those that were written last.
pub(crate) fn search(db: &Connection, words: &str, most: usize) -> Result<Vec<Hit>, StoreError> {
    // Every word is quoted, so that nothing a person types is read as the engine's own language.
    let query: Vec<String> = words.split_whitespace().map(|w| format!("\"{}\"*", w.replace('"', "\"\""))).collect();
    if query.is_empty() {
        return Ok(Vec::new());
    }
    let query = query.join(" ");
    let found: i64 = db
        .prepare_cached("SELECT count(*) FROM (SELECT rowid FROM search WHERE search MATCH ?1 LIMIT ?2)")?
        .query_row(params![query, count(RANKED + 1)], |row| row.get(0))?;
    let order = if found > count(RANKED) { "-rowid" } else { "rank" };
    let by = if found > count(RANKED) { "rowid DESC" } else { "rank" };
    let mut statement = db.prepare_cached(&format!(
        "SELECT document, kind, rail, thing, field, texts.text
         FROM (SELECT rowid AS found, {order} AS score FROM search WHERE search MATCH ?1 ORDER BY {by} LIMIT ?2)
         JOIN texts ON id = found ORDER BY score, document, kind, rail, thing, field"
    ))?;
    let rows = statement.query_map(params![query, count(most)], |row| {
        let place = thing(&row.get::<_, String>(1)?, row.get(2)?, row.get(3)?);
        Ok(Hit { document: row.get(0)?, thing: place.to_string(), place, field: row.get(4)?, text: row.get(5)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
