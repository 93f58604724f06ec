//! Opening the place of a team's files: a folder, a drive on the web, an object store.

use std::path::Path;

use exchange::layout::About;
use exchange::place::Place;
use places::Fault;

use super::ExchangeError;
use super::settings::Whole;
use crate::sites::{Sites, random};

/// A place with its address as it is kept.
pub(super) struct Opened {
    pub address: String,
    place: places::Opened,
    /// Whether its settings are those that the store keeps.
    is_kept: bool,
}

/// Opens the place of the team.
pub(super) fn of_team(sites: &Sites) -> Result<Opened, ExchangeError> {
    open(sites, &sites.whole_place()?, true)
}

/// Opens a place that somebody named just now.
pub(super) fn named(sites: &Sites, whole: &Whole) -> Result<Opened, ExchangeError> {
    open(sites, whole, false)
}

/// Proves that settings can be used, certificates and all, without asking anybody. A folder may be away meanwhile.
pub(super) fn can_be_opened(whole: &Whole) -> Result<(), ExchangeError> {
    let settings = whole.settings();
    if settings.asks().map_err(ExchangeError::of_settings)?.is_some() {
        places::open(&settings, random::bytes()?).map_err(ExchangeError::of_settings)?;
    }
    Ok(())
}

fn open(sites: &Sites, whole: &Whole, is_kept: bool) -> Result<Opened, ExchangeError> {
    if let Some(why) = sites.held_back(&whole.kept) {
        return Err(why);
    }
    let (settings, address) = (whole.settings(), whole.kept.address.clone());
    let failed = |fault| ExchangeError::of_fault(&address, fault, is_kept);
    if settings.asks().map_err(failed)?.is_none() {
        // What others write must never lie beside the store.
        sites.outside(Path::new(&address))?;
    }
    let place = places::open(&settings, random::bytes()?).map_err(failed)?;
    Ok(Opened { address, place, is_kept })
}

impl Opened {
    /// The place, for rounds.
    pub fn place(&self) -> &dyn Place {
        self.place.place()
    }

    /// Whose folder it is; `None` where there is no file that says so.
    pub fn about(&self) -> Result<Option<About>, ExchangeError> {
        self.place.about().map_err(|fault| self.failed(fault))
    }

    /// Whose folder it is; `None` where it is empty. The rest of what lies there is looked at too.
    pub fn look(&self, now_ms: i64) -> Result<Option<About>, ExchangeError> {
        self.place.look(now_ms).map(|look| look.about).map_err(|fault| self.failed(fault))
    }

    /// That this device's clock and the server's differ, and what to do, by what the server answered last.
    pub fn clock(&self, now_ms: i64) -> Option<String> {
        self.place.clock(now_ms).map(|fault| fault.to_string())
    }

    /// Ends all waiting for the limit of bytes a second.
    pub fn stop(&self) {
        self.place.stop();
    }

    fn failed(&self, fault: Fault) -> ExchangeError {
        ExchangeError::of_fault(&self.address, fault, self.is_kept)
    }
}
