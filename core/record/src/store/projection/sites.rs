//! The table of sites, for the list.

use rusqlite::{Connection, Row, params};

use super::StoreError;
use crate::document::Stage;

pub(crate) const STEP_1: &str = "
CREATE TABLE sites (
  document       TEXT PRIMARY KEY,
  label          TEXT NOT NULL,
  address        TEXT NOT NULL,
  rails          INTEGER NOT NULL,
  features       INTEGER NOT NULL,
  photos         INTEGER NOT NULL,
  stops          INTEGER NOT NULL,
  findings       INTEGER NOT NULL,
  disagreements  INTEGER NOT NULL,
  unreadable     INTEGER NOT NULL,
  set_aside      INTEGER NOT NULL,
  archived       INTEGER NOT NULL,
  last_change_ms INTEGER NOT NULL
) STRICT;";

/// Adds the stage of the job to the list.
pub(crate) const STEP_2: &str = "ALTER TABLE sites ADD COLUMN stage TEXT NOT NULL DEFAULT 'survey';";

/// A site in the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SiteRow {
    /// The document.
    pub document: String,
    /// What people call the site.
    pub label: String,
    /// Its address.
    pub address: String,
    /// Rails.
    pub rails: i64,
    /// Features of all rails.
    pub features: i64,
    /// Photos.
    pub photos: i64,
    /// Findings of the survey and of the record that say stop.
    pub stops: i64,
    /// Findings of the survey and of the record that are no pass.
    pub findings: i64,
    /// Fields over which people disagree.
    pub disagreements: i64,
    /// Values that this release cannot read.
    pub unreadable: i64,
    /// Changes set aside.
    pub set_aside: i64,
    /// Whether it is archived.
    pub archived: bool,
    /// When it was last changed, milliseconds since 1970.
    pub last_change_ms: i64,
    /// How far the job has come.
    pub stage: Stage,
}

fn read(row: &Row<'_>) -> rusqlite::Result<SiteRow> {
    Ok(SiteRow {
        document: row.get(0)?,
        label: row.get(1)?,
        address: row.get(2)?,
        rails: row.get(3)?,
        features: row.get(4)?,
        photos: row.get(5)?,
        stops: row.get(6)?,
        findings: row.get(7)?,
        disagreements: row.get(8)?,
        unreadable: row.get(9)?,
        set_aside: row.get(10)?,
        archived: row.get(11)?,
        last_change_ms: row.get(12)?,
        stage: Stage::of_word(&row.get::<_, String>(13)?).unwrap_or_default(),
    })
}

pub(super) fn put(db: &Connection, row: &SiteRow) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT OR REPLACE INTO sites (document, label, address, rails, features, photos, stops, findings,
           disagreements, unreadable, set_aside, archived, last_change_ms, stage)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
    )?
    .execute(params![
        row.document,
        row.label,
        row.address,
        row.rails,
        row.features,
        row.photos,
        row.stops,
        row.findings,
        row.disagreements,
        row.unreadable,
        row.set_aside,
        row.archived,
        row.last_change_ms,
        row.stage.word()
    ])?;
    Ok(())
}

const COLUMNS: &str = "SELECT document, label, address, rails, features, photos, stops, findings, disagreements,
  unreadable, set_aside, archived, last_change_ms, stage FROM sites";

/// The sites, last changed first.
pub(crate) fn list(db: &Connection) -> Result<Vec<SiteRow>, StoreError> {
    let mut statement = db.prepare_cached(&format!("{COLUMNS} ORDER BY last_change_ms DESC, document"))?;
    let rows = statement.query_map([], read)?;
    Ok(rows.collect::<Result<_, _>>()?)
}
