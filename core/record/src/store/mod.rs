//! The store: signed changes in SQLite, one writer at a time, with lists and search rebuilt from the changes.

mod changes;
mod devices;
mod lock;
mod parcel;
mod projection;
mod schema;
mod settings;
mod site;

use std::path::{Path, PathBuf};
use std::time::Duration;

use automerge::{ActorId, Automerge};
use rusqlite::Connection;
use survey::Survey;

use crate::document::{CreateError, create};
use crate::edit::{EditError, Note, Way};
use crate::sign::{Claim, Device, DeviceId};

pub use devices::DeviceRow;
pub use parcel::Arrival;
pub use projection::{Hit, SiteRow};
pub use site::{Disagreement, Entry, Position, SetAside, Shelf, Site};

/// Why the store could not do it.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another process has it.
    #[error("{} is in use by another Newel (process {process}); close that one first", folder.display())]
    InUse {
        /// The folder.
        folder: PathBuf,
        /// The other process.
        process: String,
    },
    /// The folder cannot be used.
    #[error("{} cannot be used: {why}; choose a folder on a drive that can be written to", path.display())]
    Folder {
        /// The path.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// A newer release wrote the database.
    #[error("the store was written by a newer release (schema {found}, this one knows {known}); update Newel")]
    Newer {
        /// What was found.
        found: i64,
        /// What this release knows.
        known: usize,
    },
    /// The database failed; nothing that was acknowledged is lost.
    #[error("the store cannot be read or written: {0}")]
    Database(#[from] rusqlite::Error),
    /// The document failed.
    #[error("the document cannot be read or written: {0}")]
    Document(Box<automerge::AutomergeError>),
    /// The survey makes no document.
    #[error(transparent)]
    Create(Box<CreateError>),
    /// The edit was not made.
    #[error(transparent)]
    Edit(Box<EditError>),
    /// A document of this name is there already.
    #[error("a site with the id {0} is there already; duplicate it under another id")]
    Exists(String),
    /// There is no such document.
    #[error("there is no site with the id {0}")]
    Missing(String),
    /// There is nothing to take back or to make again.
    #[error("there is nothing of this device to {0}")]
    Nothing(&'static str),
    /// The value is no longer this device's own.
    #[error("{what} was changed since by {who}; look at it before changing it back")]
    ChangedSince {
        /// What, in words.
        what: String,
        /// Who.
        who: String,
    },
    /// A file is no site file, or is damaged.
    #[error("this is no whole site file: {0}")]
    Parcel(String),
}

/// Boxes what is large, so that results stay small.
macro_rules! boxed {
    ($($variant:ident: $error:ty),+) => {$(
        impl From<$error> for StoreError {
            fn from(error: $error) -> Self {
                Self::$variant(Box::new(error))
            }
        }
    )+};
}
boxed!(Create: CreateError, Edit: EditError, Document: automerge::AutomergeError);

/// An open store.
pub struct Store {
    db: Connection,
    device: Device,
    actor: ActorId,
    /// Counts what was taken in from elsewhere; open sites compare it.
    arrivals: u64,
    _lock: lock::Lock,
}

impl Store {
    /// Opens the store in a folder, made where it is absent. `fresh` are 16 random bytes, never used before: the actor
    /// of this opening.
    ///
    /// # Errors
    /// Another process has it open, the folder cannot be used, or the database is newer than this release.
    pub fn open(folder: &Path, device: Device, fresh: [u8; 16]) -> Result<Self, StoreError> {
        std::fs::create_dir_all(folder).map_err(|why| StoreError::Folder { path: folder.to_owned(), why })?;
        let lock = lock::Lock::take(folder)?;
        let mut db = Connection::open(folder.join("newel.sqlite"))?;
        db.busy_timeout(Duration::from_secs(5))?;
        db.pragma_update(None, "journal_mode", "WAL")?;
        db.pragma_update(None, "synchronous", "FULL")?;
        schema::migrate(&mut db)?;
        let tx = db.transaction()?;
        let own =
            DeviceRow { device: device.id(), person: device.person.clone(), name: device.name.clone(), known: true };
        devices::insert_device(&tx, &own)?;
        devices::know(&tx, device.id())?;
        let signature = device.sign(&Claim::Actor { actor: &fresh });
        devices::insert_actor(&tx, &devices::ActorRow { actor: fresh.to_vec(), device: device.id(), signature })?;
        tx.commit()?;
        Ok(Self { db, device, actor: ActorId::from(fresh), arrivals: 0, _lock: lock })
    }

    /// Makes a document of a survey, under the site's id.
    ///
    /// # Errors
    /// The id is taken, or the survey holds two things of one id.
    pub fn create(&mut self, survey: &Survey, time_ms: i64) -> Result<Site, StoreError> {
        let document = survey.site.id.as_str();
        if !changes::of(&self.db, document)?.is_empty() {
            return Err(StoreError::Exists(document.to_owned()));
        }
        let mut site = Site::empty(document, Automerge::new().with_actor(self.actor.clone()), self.arrivals);
        let note = Note { sentence: format!("site {} written", survey.site.label), way: Way::Other, puts: Vec::new() };
        site.commit(self, &note, time_ms, |tx, _| Ok(create(tx, survey)?))?;
        Ok(site)
    }

    /// Opens a document.
    ///
    /// # Errors
    /// There is none under this id, or the database fails.
    pub fn site(&mut self, document: &str) -> Result<Site, StoreError> {
        Site::load(self, document)
    }

    /// The sites, last changed first.
    ///
    /// # Errors
    /// The database fails.
    pub fn sites(&self) -> Result<Vec<SiteRow>, StoreError> {
        projection::list(&self.db)
    }

    /// Texts that hold every word.
    ///
    /// # Errors
    /// The database fails.
    pub fn search(&self, words: &str, most: usize) -> Result<Vec<Hit>, StoreError> {
        projection::search(&self.db, words, most)
    }

    /// Builds lists and search anew from the changes.
    ///
    /// # Errors
    /// The database fails.
    pub fn rebuild(&mut self) -> Result<(), StoreError> {
        let mut all = Vec::new();
        for document in changes::documents(&self.db)? {
            all.push(projection::project(&Site::load(self, &document)?));
        }
        let tx = self.db.transaction()?;
        projection::clear(&tx, None)?;
        for projected in &all {
            projection::write(&tx, &projection::Projected::default(), projected)?;
        }
        tx.commit()?;
        Ok(())
    }

    /// Lists and search in order, for comparing.
    ///
    /// # Errors
    /// The database fails.
    pub fn dump(&self) -> Result<String, StoreError> {
        projection::dump(&self.db)
    }

    /// Every device that was heard of.
    ///
    /// # Errors
    /// The database fails.
    pub fn devices(&self) -> Result<Vec<DeviceRow>, StoreError> {
        Ok(devices::all(&self.db)?.into_values().collect())
    }

    /// Says that a device's changes count from now on; open sites catch up at their next edit.
    ///
    /// # Errors
    /// The database fails.
    pub fn know(&mut self, device: DeviceId) -> Result<(), StoreError> {
        devices::know(&self.db, device)?;
        self.arrivals += 1;
        self.rebuild()
    }

    /// A setting of this store.
    ///
    /// # Errors
    /// The database fails.
    pub fn setting(&self, name: &str) -> Result<Option<String>, StoreError> {
        settings::get(&self.db, name)
    }

    /// Writes a setting of this store.
    ///
    /// # Errors
    /// The database fails.
    pub fn set_setting(&mut self, name: &str, value: &str) -> Result<(), StoreError> {
        settings::set(&self.db, name, value)
    }

    /// Copies a site under another id and label, without its history.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the id is taken.
    pub fn duplicate(&mut self, document: &str, id: survey::Id, label: &str, time_ms: i64) -> Result<Site, StoreError> {
        let site = self.site(document)?;
        let mut survey = site.reading().survey.ok_or_else(|| StoreError::Missing(document.to_owned()))?;
        survey.site.id = id;
        survey.site.label = label.to_owned();
        self.create(&survey, time_ms)
    }
}
