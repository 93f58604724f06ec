//! Opening the place of a team's files: a folder, a drive on the web, an object store.

use std::path::PathBuf;
use std::sync::Arc;

use exchange::layout::About;
use exchange::place::Place;
use places::{Fault, Stop, aside};

use super::settings::Whole;
use super::{ExchangeError, Networks};
use crate::sites::{Sites, outside, random};

/// What it takes from the store to open a place; from then on the store need not be held.
pub(super) struct Way {
    pub whole: Whole,
    /// This device's time, milliseconds since 1970.
    pub now_ms: i64,
    home: PathBuf,
    networks: Arc<dyn Networks>,
    fresh: [u8; 8],
    /// Whether its settings are those that the store keeps.
    is_kept: bool,
}

impl Sites {
    /// The way to the place of the team.
    pub(super) fn way_to_team(&self) -> Result<Way, ExchangeError> {
        Ok(Way { is_kept: true, ..self.way_to(self.whole_place()?)? })
    }

    /// The way to a place that somebody named just now.
    pub(super) fn way_to(&self, whole: Whole) -> Result<Way, ExchangeError> {
        let (home, networks) = (self.home().to_owned(), self.networks());
        Ok(Way { whole, now_ms: self.now(), home, networks, fresh: random::bytes()?, is_kept: false })
    }
}

impl Way {
    /// Opens the place; `stop` ends all waiting for it.
    pub fn open(&self, stop: &Stop) -> Result<Opened, ExchangeError> {
        let kept = &self.whole.kept;
        if kept.waits_for_networks()
            && let Some(why) = kept.held_back(self.networks.now().ok().flatten())
        {
            return Err(why);
        }
        let (settings, address) = (self.whole.settings(), kept.address.clone());
        let failed = |fault| ExchangeError::of_fault(&address, fault, self.is_kept);
        if settings.asks().map_err(failed)?.is_none() {
            // What others write must never lie beside the store.
            let (home, folder) = (self.home.clone(), PathBuf::from(&address));
            aside(stop, settings.patience, move || outside(&home, &folder)).map_err(failed)??;
        }
        let place = places::open_until(&settings, self.fresh, stop).map_err(failed)?;
        Ok(Opened { address, place, is_kept: self.is_kept })
    }

    /// Proves that settings can be used, certificates and all, without asking anybody. A folder may be away meanwhile.
    pub fn can_be_opened(&self, stop: &Stop) -> Result<(), ExchangeError> {
        let settings = self.whole.settings();
        if settings.asks().map_err(ExchangeError::of_settings)?.is_some() {
            places::open_until(&settings, self.fresh, stop).map_err(ExchangeError::of_settings)?;
        }
        Ok(())
    }

    /// Proves that sharing can be kept to networks, where it is to be.
    pub fn network_can_be_told(&self) -> Result<(), ExchangeError> {
        if self.whole.kept.only_on.is_empty() {
            return Ok(());
        }
        self.networks.now().map(drop).map_err(ExchangeError::NoNetwork)
    }
}

/// A place with its address as it is kept.
pub(super) struct Opened {
    pub address: String,
    place: places::Opened,
    is_kept: bool,
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

    fn failed(&self, fault: Fault) -> ExchangeError {
        ExchangeError::of_fault(&self.address, fault, self.is_kept)
    }
}
