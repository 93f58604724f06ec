//! The window's store: opened once, to write where nobody else does, else to read.

use std::path::Path;

use record::store::StoreError;

use super::{Desk, Window};
use crate::sites::{SiteError, Sites, home_folder, now_ms};
use crate::view::wire::Refusal;

impl Window {
    /// Does something with the store, which is opened where it is not open yet.
    pub(super) fn with_store<T>(
        &self,
        work: impl FnOnce(&mut Desk, &mut Sites) -> Result<T, Refusal>,
    ) -> Result<T, Refusal> {
        let mut desk = self.desk();
        let mut store = match desk.store.take() {
            Some(store) => store,
            None => {
                let (store, why) = open(&home_folder(self.home.as_deref())?)?;
                desk.why_reading = why;
                store
            }
        };
        let done = work(&mut desk, &mut store);
        desk.store = Some(store);
        drop(desk);
        // There may be something new to share.
        self.rounds.touched();
        done
    }

    /// Opens the store again, to write if whoever had it has let go of it.
    ///
    /// # Errors
    /// The store cannot be used at all.
    pub fn reopen_store(&self) -> Result<crate::view::SitesPage, Refusal> {
        let mut desk = self.desk();
        // The site was loaded from the store as it was opened, so it goes with it.
        (desk.open, desk.past, desk.store) = (None, None, None);
        drop(desk);
        self.list_sites()
    }
}

/// Opens a store; where it cannot be written, to read, with the reason in a sentence.
fn open(home: &Path) -> Result<(Sites, Option<String>), SiteError> {
    let why = match Sites::open(home, now_ms) {
        Ok(sites) => return Ok((sites, None)),
        Err(SiteError::Store(StoreError::InUse { .. })) => {
            "Another Newel has these sites open, so here they can be looked at and not changed. Close the other one, then \
             press Try again."
        }
        Err(SiteError::Store(StoreError::Newer { .. })) => {
            "A newer Newel wrote these sites, so here they can be looked at and not changed. Update Newel on this computer."
        }
        Err(SiteError::Store(StoreError::Folder { .. })) => {
            "The folder of these sites cannot be written to, so they can be looked at and not changed. Allow writing to it, \
             then press Try again."
        }
        Err(other) => return Err(other),
    };
    Ok((Sites::open_to_read(home, now_ms)?, Some(why.to_owned())))
}
