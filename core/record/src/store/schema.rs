//! Schema steps of the database, counted by `user_version`. A step is never changed once it has landed.
//!
//! Each step says the least release, by its number of steps, that may still read what it makes. Lists and search may be
//! remade by a step, since they are built from the changes; the table of changes only ever grows columns.

use rusqlite::{Connection, OptionalExtension};

use super::{
    StoreError, blobs, changes, contents, copies, devices, items, photos, projection, settings, snapshots, standing,
};

/// One step.
struct Step {
    /// Its SQL; each table's own file holds it.
    sql: &'static [&'static str],
    /// The number of steps that a release must know to read a database with this one.
    reader: usize,
    /// Whether lists and search must be built anew.
    rebuild: bool,
}

const STEPS: &[Step] = &[
    Step {
        sql: &[changes::STEP_1, devices::STEP_1, projection::STEP_1[0], projection::STEP_1[1], settings::STEP_1],
        reader: 1,
        rebuild: false,
    },
    Step { sql: &[projection::STEP_2, photos::STEP_2], reader: 1, rebuild: true },
    Step { sql: &[projection::STEP_3, snapshots::STEP_3], reader: 3, rebuild: true },
    Step { sql: &[contents::STEP_4], reader: 3, rebuild: false },
    // Only a release that knows of teams can tell whose changes count.
    Step {
        sql: &[copies::STEP_5, blobs::STEP_5, items::STEP_5, standing::STEP_5, projection::STEP_5],
        reader: 5,
        rebuild: true,
    },
];

const READER: &str = "least reader";
const REBUILD: &str = "rebuild lists";

/// Brings a database to this release's schema.
pub(crate) fn migrate(db: &mut Connection) -> Result<(), StoreError> {
    let found = version(db)?;
    let done = usize::try_from(found).unwrap_or(usize::MAX);
    if done > STEPS.len() {
        return Err(StoreError::Newer { found, known: STEPS.len() });
    }
    for (n, step) in STEPS.iter().enumerate().skip(done) {
        let tx = db.transaction()?;
        for sql in step.sql {
            tx.execute_batch(sql)?;
        }
        settings::set(&tx, READER, &step.reader.to_string())?;
        if step.rebuild && done > 0 {
            settings::set(&tx, REBUILD, "yes")?;
        }
        tx.pragma_update(None, "user_version", i64::try_from(n + 1).unwrap_or(i64::MAX))?;
        tx.commit()?;
    }
    Ok(())
}

/// Whether an older release wrote a database, whose tables are not all those that this one reads.
pub(crate) fn is_older(db: &Connection) -> Result<bool, StoreError> {
    Ok(usize::try_from(version(db)?).is_ok_and(|found| found < STEPS.len()))
}

/// Whether this release can read a database; the version where a newer one wrote it.
pub(crate) fn readable(db: &Connection) -> Result<Option<i64>, StoreError> {
    let found = version(db)?;
    let refused = || StoreError::Newer { found, known: STEPS.len() };
    if usize::try_from(found).is_ok_and(|found| found <= STEPS.len()) {
        return Ok(None);
    }
    let least = settings::get(db, READER)?.and_then(|text| text.parse::<usize>().ok()).ok_or_else(refused)?;
    if least > STEPS.len() { Err(refused()) } else { Ok(Some(found)) }
}

/// Whether a step has asked for lists and search to be built anew, and nobody has done it yet.
pub(crate) fn wants_rebuild(db: &Connection) -> Result<bool, StoreError> {
    Ok(settings::get(db, REBUILD)?.is_some())
}

/// Says that lists and search are built anew.
pub(crate) fn rebuilt(db: &Connection) -> Result<(), StoreError> {
    db.execute("DELETE FROM settings WHERE name = ?1", [REBUILD])?;
    Ok(())
}

fn version(db: &Connection) -> Result<i64, StoreError> {
    let found: Option<i64> = db.query_row("PRAGMA user_version", [], |row| row.get(0)).optional()?;
    Ok(found.unwrap_or(0))
}
