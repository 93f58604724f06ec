//! The tables for lists and search: what can be rebuilt from the changes at any time.

use std::collections::BTreeSet;

use automerge::ScalarValue;
use rusqlite::{Connection, params};

use super::StoreError;
use super::site::Site;
use crate::document::{Kind, Stage, Thing};
use survey::{Verdict, consistency};

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
) STRICT;
CREATE VIRTUAL TABLE search USING fts5 (document UNINDEXED, thing UNINDEXED, field UNINDEXED, text);";

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

/// A place where a text was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// The document.
    pub document: String,
    /// The thing, in words.
    pub thing: String,
    /// The field.
    pub field: String,
    /// The text.
    pub text: String,
}

/// A text to be found: thing, field, text.
pub(crate) type Text = (String, String, String);

/// What a site shows in lists and search.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Projected {
    pub row: SiteRow,
    pub texts: BTreeSet<Text>,
}

/// Works it out.
pub(crate) fn project(site: &Site) -> Projected {
    let reading = site.reading();
    let content = site.content();
    let mut row = SiteRow { document: site.document().to_owned(), ..SiteRow::default() };
    if let Some(survey) = &reading.survey {
        row.label.clone_from(&survey.site.label);
        row.address.clone_from(&survey.site.address);
        row.rails = count(survey.rails.len());
        row.features = survey.rails.iter().map(|rail| count(rail.features.len())).sum();
        row.photos = count(survey.photos.len());
        let mut findings = consistency::findings(survey);
        findings.extend(site.concerns_of(&reading));
        row.stops = count(findings.iter().filter(|f| f.verdict == Verdict::Stop).count());
        row.findings = count(findings.iter().filter(|f| f.verdict != Verdict::Pass).count());
    }
    row.disagreements = count(site.disagreements().len());
    row.unreadable = count(reading.unreadable.len());
    row.set_aside = count(site.set_aside().len());
    row.archived = content.things.get(&Thing::site()).is_some_and(crate::document::Fields::is_removed);
    row.last_change_ms = site.last_change_ms();
    row.stage = site.stage();
    let mut texts = BTreeSet::new();
    for (thing, fields) in &content.things {
        if thing.kind != Kind::Site && !content.is_visible(thing) {
            continue;
        }
        for name in ["label", "note", "address", "concerns", "file"] {
            if let Some(ScalarValue::Str(text)) = fields.cells.get(name).map(crate::document::Cell::value)
                && !text.is_empty()
            {
                texts.insert((thing.to_string(), name.to_owned(), text.to_string()));
            }
        }
    }
    Projected { row, texts }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

/// Writes what changed between two projections of one site.
pub(crate) fn write(db: &Connection, old: &Projected, new: &Projected) -> Result<(), StoreError> {
    let row = &new.row;
    if old.row != *row {
        db.prepare_cached(
            "INSERT OR REPLACE INTO sites VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
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
    }
    for (thing, field, _) in old.texts.difference(&new.texts) {
        db.prepare_cached("DELETE FROM search WHERE document = ?1 AND thing = ?2 AND field = ?3")?.execute(params![
            row.document,
            thing,
            field
        ])?;
    }
    for (thing, field, text) in new.texts.difference(&old.texts) {
        db.prepare_cached("INSERT INTO search (document, thing, field, text) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![row.document, thing, field, text])?;
    }
    Ok(())
}

/// Forgets everything, before a rebuild.
pub(crate) fn clear(db: &Connection, document: Option<&str>) -> Result<(), StoreError> {
    db.execute("DELETE FROM sites WHERE ?1 IS NULL OR document = ?1", [document])?;
    db.execute("DELETE FROM search WHERE ?1 IS NULL OR document = ?1", [document])?;
    Ok(())
}

/// The sites, last changed first.
pub(crate) fn list(db: &Connection) -> Result<Vec<SiteRow>, StoreError> {
    let mut statement = db.prepare_cached("SELECT * FROM sites ORDER BY last_change_ms DESC, document")?;
    let rows = statement.query_map([], |row| {
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
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Texts that hold every word, each as it begins.
pub(crate) fn search(db: &Connection, words: &str, most: usize) -> Result<Vec<Hit>, StoreError> {
    // Every word is quoted, so that nothing a person types is read as the engine's own language.
    let query: Vec<String> = words.split_whitespace().map(|w| format!("\"{}\"*", w.replace('"', "\"\""))).collect();
    if query.is_empty() {
        return Ok(Vec::new());
    }
    let mut statement = db.prepare_cached(
        "SELECT document, thing, field, text FROM search WHERE search MATCH ?1 ORDER BY rank, document, thing LIMIT ?2",
    )?;
    let rows = statement.query_map(params![query.join(" "), count(most)], |row| {
        Ok(Hit { document: row.get(0)?, thing: row.get(1)?, field: row.get(2)?, text: row.get(3)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Everything in order, for comparing.
pub(crate) fn dump(db: &Connection) -> Result<String, StoreError> {
    let mut sites = list(db)?;
    sites.sort_by(|a, b| a.document.cmp(&b.document));
    let mut text: String = sites.iter().map(|row| format!("{row:?}\n")).collect();
    let mut statement =
        db.prepare("SELECT document, thing, field, text FROM search ORDER BY document, thing, field, text")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        for column in 0..4 {
            let cell: String = row.get(column)?;
            text.push_str(&format!("{cell:?} "));
        }
        text.push('\n');
    }
    Ok(text)
}
