//! The store of sites: what a person does with sites that are kept, listed, looked back at and sent.
//!
//! The home folder holds the store and this device's key. Time comes from a clock that is passed in.

mod add;
mod catalogue_edits;
mod catalogues;
pub(crate) mod device;
mod disagreements;
mod error;
mod export;
mod find;
mod findings;
mod history;
mod home;
mod in_force;
mod keys;
mod list;
pub(crate) mod moment;
mod outside;
mod parcel;
pub(crate) mod random;
mod say;
mod search;
mod show;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use plan::Memory;
use record::store::Store;

use crate::exchange::{Networks, ThisMachine};
pub(crate) use crate::safe::safe;
pub use add::Archive;
use catalogue_edits::ReadCatalogue;
pub use catalogue_edits::{DEMO, KeptCatalogue};
pub use device::rename as rename_device;
pub(crate) use disagreements::lines as disagreement_lines;
pub use error::SiteError;
pub use export::survey_text;
pub(crate) use find::survey_of;
pub(crate) use history::set_aside as set_aside_lines;
pub use home::home_folder;
pub use in_force::InForce;
pub use moment::now_ms;
pub(crate) use outside::outside;
pub use parcel::PARCEL_START;
pub(crate) use random::id as new_id;
pub use say::Said;
pub(crate) use say::{count, when};
pub(crate) use show::{planned, planned_reading};

/// This release. What an earlier one could not use of what others gave, it may know.
const RELEASE: &str = env!("CARGO_PKG_VERSION");
/// The database in a home folder.
const STORE: &str = "newel.sqlite";

/// An open home folder with its store. One process has it at a time.
pub struct Sites {
    home: PathBuf,
    store: Store,
    clock: fn() -> i64,
    /// What plans of its sites have worked out; sites that are open keep it too.
    memory: Arc<Memory>,
    networks: Arc<dyn Networks>,
    /// The key of this device.
    key: device::Key,
    /// The catalogue that was read last, for a form that is checked at every key.
    read: Option<ReadCatalogue>,
}

impl Sites {
    /// Opens a home folder, made where it is absent; `clock` says the milliseconds since 1970.
    ///
    /// # Errors
    /// Another process has it, or the folder, the device file or the database cannot be used.
    pub fn open(home: &Path, clock: fn() -> i64) -> Result<Self, SiteError> {
        let device = device::load_or_make(home)?;
        let key = device.key(home)?;
        let mut store = Store::open(home, device.signing(&key), random::bytes()?)?;
        if store.look_again(RELEASE)? > 0 {
            store.catch_up()?;
        }
        // What a crash left half written is of no use; where it cannot be removed it is only in the way.
        let _ = ::photos::Library::at(home).sweep();
        Ok(Self::of(home, store, clock, key))
    }

    /// Opens a home folder for reading only, beside a process that writes to it or where a newer release wrote it. A
    /// folder without a store is opened as new.
    ///
    /// # Errors
    /// The folder or the database cannot be used.
    pub fn open_to_read(home: &Path, clock: fn() -> i64) -> Result<Self, SiteError> {
        if !home.join(STORE).exists() {
            return Self::open(home, clock);
        }
        let device = device::load_or_make(home)?;
        let key = device.key(home)?;
        let store = Store::open_read_only(home, device.signing(&key))?;
        Ok(Self::of(home, store, clock, key))
    }

    fn of(home: &Path, store: Store, clock: fn() -> i64, key: device::Key) -> Self {
        let (memory, networks) = (Arc::default(), Arc::new(ThisMachine));
        Self { home: home.to_owned(), store, clock, memory, networks, key, read: None }
    }

    /// What plans of its sites have worked out.
    pub(crate) fn memory(&self) -> &Arc<Memory> {
        &self.memory
    }

    /// The home folder.
    #[must_use]
    pub fn home(&self) -> &Path {
        &self.home
    }

    /// Why the store is open for reading only; `None` where it may be written.
    #[must_use]
    pub fn read_only(&self) -> Option<&str> {
        self.store.read_only()
    }

    /// Lets somebody else say which network this machine is on.
    pub fn ask_about_networks(&mut self, networks: Arc<dyn Networks>) {
        self.networks = networks;
    }

    pub(crate) fn networks(&self) -> Arc<dyn Networks> {
        Arc::clone(&self.networks)
    }

    pub(crate) fn now(&self) -> i64 {
        (self.clock)()
    }

    pub(crate) fn store(&self) -> &Store {
        &self.store
    }

    pub(crate) fn store_mut(&mut self) -> &mut Store {
        &mut self.store
    }
}

impl std::fmt::Debug for Sites {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Sites({})", self.home.display())
    }
}
