//! The store: signed changes in SQLite, one writer at a time, with lists and search rebuilt from the changes.

mod blobs;
mod catalogues;
mod changes;
mod contents;
mod copies;
mod devices;
mod error;
mod exchanged;
mod items;
mod lock;
mod open;
mod parcel;
mod photos;
mod projection;
mod row;
mod schema;
mod settings;
mod site;
mod snapshots;
mod standing;
mod team;
mod waiting;

use std::collections::BTreeSet;

use rusqlite::{Connection, Transaction};
use survey::Survey;

use crate::document::create;
use crate::sign::Device;

pub use blobs::BlobRow;
pub use catalogues::CatalogueRow;
pub use copies::CopyRow;
pub use devices::DeviceRow;
pub use error::StoreError;
pub use items::FeedItem;
pub use parcel::{Arrival, MOST_HISTORY_BYTES};
pub use photos::PhotoRow;
pub use projection::{Hit, SiteRow};
pub use row::row_again;
pub use site::{Disagreement, Entry, Position, SetAside, Shelf, Site};
pub use standing::{Cause, Standing};
pub use team::{Member, TEAM, Team};
pub use waiting::Waiting;

/// The 32 bytes of 64 hexadecimal digits.
fn hash_of(digits: &str) -> Option<[u8; 32]> {
    let digit = |byte: u8| char::from(byte).to_digit(16).and_then(|digit| u8::try_from(digit).ok());
    let pairs = digits.as_bytes().chunks(2).map(|pair| Some(digit(*pair.first()?)? << 4 | digit(*pair.get(1)?)?));
    pairs.collect::<Option<Vec<u8>>>()?.try_into().ok()
}

/// Bytes as hexadecimal digits.
fn hex(bytes: &[u8; 32]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// An open store.
pub struct Store {
    db: Connection,
    device: Device,
    access: open::Access,
    /// The schema of a newer release, where one wrote what is read here.
    newer: Option<i64>,
    /// Counts what was taken in from elsewhere; open sites compare it.
    arrivals: u64,
    /// The actors of this opening whose certificates are on the disk.
    certified: BTreeSet<Vec<u8>>,
}

impl Store {
    /// Begins to write, where this store may be written. Documents can be loaded meanwhile, as they will be; transactions
    /// within one another are refused by the database.
    fn write(&self) -> Result<Transaction<'_>, StoreError> {
        self.access.may_write()?;
        Ok(self.db.unchecked_transaction()?)
    }

    /// Makes a document of a survey, under the site's id.
    ///
    /// # Errors
    /// The id is taken, or the survey holds two things of one id.
    pub fn create(&mut self, survey: &Survey, time_ms: i64) -> Result<Site, StoreError> {
        let document = survey.site.id.as_str();
        if document == TEAM {
            return Err(StoreError::Reserved);
        }
        if changes::is_there(&self.db, document)? {
            return Err(StoreError::Exists(document.to_owned()));
        }
        let mut site = Site::empty(document, self.access.document(), self.arrivals);
        let said = format!("site {} written", survey.site.label);
        site.create(self, said, time_ms, |tx| Ok(create(tx, survey)?))?;
        Ok(site)
    }

    /// Opens a document.
    ///
    /// # Errors
    /// There is none under this id, or the database fails.
    pub fn site(&mut self, document: &str) -> Result<Site, StoreError> {
        if document == TEAM {
            return Err(StoreError::Missing(document.to_owned()));
        }
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
        self.access.may_write()?;
        self.build_lists()
    }

    /// All or nothing: lists and search are either those before or those rebuilt.
    fn build_lists(&self) -> Result<(), StoreError> {
        let tx = self.db.unchecked_transaction()?;
        // Every signature is checked anew, and every document read from its changes alone.
        snapshots::clear(&tx)?;
        projection::clear(&tx)?;
        for document in changes::documents(&tx)? {
            let site = Site::load(self, &document)?;
            projection::write(&tx, &projection::Projected::default(), site.projected())?;
        }
        schema::rebuilt(&tx)?;
        tx.commit()?;
        Ok(())
    }

    /// Brings lists and search up to what a document holds now, within what is being written.
    fn list_anew(&self, tx: &Transaction<'_>, document: &str) -> Result<(), StoreError> {
        projection::write_over(tx, Site::load(self, document)?.projected())
    }

    /// Lists and search in order, for comparing.
    ///
    /// # Errors
    /// The database fails.
    pub fn dump(&self) -> Result<String, StoreError> {
        projection::dump(&self.db)
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
        let tx = self.write()?;
        settings::set(&tx, name, value)?;
        tx.commit()?;
        Ok(())
    }

    /// Forgets a setting of this store.
    ///
    /// # Errors
    /// The database fails.
    pub fn forget_setting(&mut self, name: &str) -> Result<(), StoreError> {
        let tx = self.write()?;
        tx.execute("DELETE FROM settings WHERE name = ?1", [name])?;
        tx.commit()?;
        Ok(())
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
