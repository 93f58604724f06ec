//! Opening a store: to write, one process at a time; for reading only, beside whoever writes.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Duration;

use automerge::{ActorId, Automerge};
use rusqlite::{Connection, ErrorCode, OpenFlags};

use super::{Store, StoreError, devices, lock, schema};
use crate::sign::Device;

/// The database within the store's folder.
pub(crate) const DATABASE: &str = "newel.sqlite";

/// What an opening may do.
#[derive(Debug)]
pub(crate) enum Access {
    /// Write, under an actor of its own, while the lock is held.
    Write { actor: ActorId, _lock: lock::Lock },
    /// Read only.
    Read {
        /// Why, in words.
        why: String,
        /// A copy that was made because the folder itself cannot even be read in place; removed in the end.
        _copy: Option<Copy>,
    },
}

/// A folder that is removed when it is no longer needed.
#[derive(Debug)]
pub(crate) struct Copy(PathBuf);

impl Drop for Copy {
    fn drop(&mut self) {
        // A copy left behind does no harm; the system clears its temporary folder.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

impl Access {
    /// A new document, written under this opening's actor.
    pub(crate) fn document(&self) -> Automerge {
        match self {
            Self::Write { actor, .. } => Automerge::new().with_actor(actor.clone()),
            Self::Read { .. } => Automerge::new(),
        }
    }

    pub(crate) fn may_write(&self) -> Result<(), StoreError> {
        match self {
            Self::Write { .. } => Ok(()),
            Self::Read { why, .. } => Err(StoreError::ReadOnly(why.clone())),
        }
    }
}

impl Store {
    /// Opens the store in a folder, made where it is absent. `fresh` are 16 random bytes, never used before: the actor
    /// of this opening.
    ///
    /// # Errors
    /// Another process has it open, the folder cannot be used, or the database is newer than this release; the last two
    /// may still be opened by [`Self::open_read_only`].
    pub fn open(folder: &Path, device: Device, fresh: [u8; 16]) -> Result<Self, StoreError> {
        std::fs::create_dir_all(folder).map_err(|why| StoreError::Folder { path: folder.to_owned(), why })?;
        let lock = lock::Lock::take(folder)?;
        let mut db = Connection::open(folder.join(DATABASE))?;
        db.busy_timeout(Duration::from_secs(5))?;
        db.pragma_update(None, "journal_mode", "WAL")?;
        db.pragma_update(None, "synchronous", "FULL")?;
        schema::migrate(&mut db)?;
        let tx = db.transaction()?;
        let own = devices::DeviceRow {
            device: device.id(),
            person: device.person.clone(),
            name: device.name.clone(),
            known: true,
        };
        devices::insert_device(&tx, &own)?;
        devices::know(&tx, device.id())?;
        tx.commit()?;
        keep_names(folder)?;
        let access = Access::Write { actor: ActorId::from(fresh), _lock: lock };
        let mut store = Self { db, device, access, newer: None, arrivals: 0, certified: BTreeSet::new() };
        if schema::wants_rebuild(&store.db)? {
            store.build_lists()?;
        }
        // What was taken in before a crash may not be in the lists yet.
        store.catch_up()?;
        Ok(store)
    }

    /// Opens the store in a folder for reading only: beside a process that writes, from a folder that cannot be written
    /// to, or where a newer release wrote it.
    ///
    /// # Errors
    /// There is no store, it cannot be read, or a newer release says that this one would misread it.
    pub fn open_read_only(folder: &Path, device: Device) -> Result<Self, StoreError> {
        let path = folder.join(DATABASE);
        std::fs::File::open(&path).map_err(|why| StoreError::Folder { path: path.clone(), why })?;
        let in_place = match read_only(&path) {
            Ok(db) if schema::is_older(&db)? => None,
            Ok(db) => Some(db),
            Err(why) if cannot_share(&why) => None,
            Err(why) => return Err(why.into()),
        };
        // What cannot be read in place, or has an older schema, is read from a copy.
        let (mut db, copy) = match in_place {
            Some(db) => (db, None),
            None => {
                let copy = copied(folder)?;
                (Connection::open(copy.0.join(DATABASE))?, Some(copy))
            }
        };
        let newer = schema::readable(&db)?;
        if copy.is_some() && newer.is_none() {
            schema::migrate(&mut db)?;
        }
        let why = match newer {
            Some(found) => format!("a newer release wrote it, schema {found}; update Newel to change it"),
            None => "it was opened so; open it to write where nobody else has it".to_owned(),
        };
        let store = Self {
            db,
            device,
            access: Access::Read { why, _copy: copy },
            newer,
            arrivals: 0,
            certified: BTreeSet::new(),
        };
        if schema::wants_rebuild(&store.db)? {
            store.build_lists()?;
        }
        Ok(store)
    }

    /// Why this store is open for reading only; `None` where it may be written.
    #[must_use]
    pub fn read_only(&self) -> Option<&str> {
        match &self.access {
            Access::Write { .. } => None,
            Access::Read { why, .. } => Some(why),
        }
    }

    /// The schema of the newer release that wrote this store, which this one reads but does not write.
    #[must_use]
    pub fn newer(&self) -> Option<i64> {
        self.newer
    }

    /// Counts what came since the store was opened: by import, or, for a reader, by the process that writes.
    pub(crate) fn arrivals(&self) -> Result<u64, StoreError> {
        match self.access {
            Access::Write { .. } => Ok(self.arrivals),
            Access::Read { .. } => {
                let version: i64 = self.db.query_row("PRAGMA data_version", [], |row| row.get(0))?;
                Ok(version.unsigned_abs())
            }
        }
    }
}

fn read_only(path: &Path) -> rusqlite::Result<Connection> {
    let db = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    db.busy_timeout(Duration::from_secs(5))?;
    // Only a first read shows whether the file can be used where it is.
    db.query_row("PRAGMA user_version", [], |row| row.get::<_, i64>(0))?;
    Ok(db)
}

/// Whether a database cannot be opened where it is because its index in shared memory cannot be made there.
fn cannot_share(why: &rusqlite::Error) -> bool {
    matches!(why.sqlite_error_code(), Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly | ErrorCode::SystemIoFailure))
}

/// The database with what its journal holds, copied to where it can be opened.
fn copied(folder: &Path) -> Result<Copy, StoreError> {
    static COUNT: std::sync::atomic::AtomicU64 = std::sync::atomic::AtomicU64::new(0);
    let n = COUNT.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
    let copy = Copy(std::env::temp_dir().join(format!("newel-read-{}-{n}", std::process::id())));
    let failed = |path: &Path| {
        let path = path.to_owned();
        move |why| StoreError::Folder { path, why }
    };
    std::fs::create_dir_all(&copy.0).map_err(failed(&copy.0))?;
    for name in [DATABASE.to_owned(), format!("{DATABASE}-wal")] {
        let from = folder.join(&name);
        if from.exists() {
            std::fs::copy(&from, copy.0.join(&name)).map_err(failed(&from))?;
        }
    }
    Ok(copy)
}

/// Makes the names of new files durable, which writing their contents does not do by itself.
#[cfg(unix)]
fn keep_names(folder: &Path) -> Result<(), StoreError> {
    let failed = |why| StoreError::Folder { path: folder.to_owned(), why };
    std::fs::File::open(folder).and_then(|folder| folder.sync_all()).map_err(failed)
}

/// Other systems keep names without being asked, and open no folder as a file.
#[cfg(not(unix))]
fn keep_names(_folder: &Path) -> Result<(), StoreError> {
    Ok(())
}
