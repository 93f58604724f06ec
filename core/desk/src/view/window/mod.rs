//! What the window holds: the store with at most one open site, or a survey file that is looked at.

mod catalogue;
mod files;
mod history;
mod pace;
mod photos;
mod picture;
mod rounds;
mod running;
mod settings;
mod shared;
mod site;
mod sites;
mod store;

use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::Scheme;
use super::wire::{Asked, Explanation, First, Refusal, Settings, Start};
use crate::edit::OpenSite;
use crate::planned::Planned;
use crate::sites::{SiteError, Sites};
use rounds::Rounds;
use running::Stop;

pub use picture::Sent;

/// The state behind a window.
#[derive(Default)]
pub struct Window {
    file: Option<String>,
    home: Option<PathBuf>,
    desk: Mutex<Desk>,
    /// What is shown, apart from the desk, so that explaining a number waits for no plan.
    shown: Mutex<Option<Shown>>,
    /// What stops the import that is running.
    adding: Stop,
    /// What stops the copies that are being written.
    copying: Stop,
    /// What stops the look at a place for the team's files.
    looking: Stop,
    /// The turn of making a thumbnail.
    making: Mutex<()>,
    /// The rounds of the shared folder, which begin by themselves.
    rounds: Rounds,
    /// So many commands wait for the desk: a round lets them go first.
    at_the_desk: AtomicU32,
}

/// A site as it is on the screen.
#[derive(Clone)]
struct Shown {
    site: Arc<Planned>,
    /// It lies in the store; a file is merely looked at.
    is_stored: bool,
}

/// What one command at a time works with.
#[derive(Default)]
struct Desk {
    store: Option<Sites>,
    /// Why the store is open for reading only, as this window found it.
    why_reading: Option<String>,
    open: Option<OpenSite>,
    /// The open site as it was, where it is shown so.
    past: Option<Arc<Planned>>,
    settings: Settings,
}

impl Window {
    /// A window that shows this survey file first, if one is named, and whose sites lie in `home`, else where they lie
    /// by default.
    #[must_use]
    pub fn new(file: Option<String>, home: Option<PathBuf>) -> Self {
        Self { file, home, ..Self::default() }
    }

    /// What to show first.
    pub fn start(&self) -> Start {
        let settings = self.settings();
        let first = match self.file.as_deref().map(|path| self.open_file(path)) {
            None => First::Sites,
            Some(Ok(opened)) => First::Site { opened },
            Some(Err(refusal)) => First::Refused { refusal },
        };
        Start { settings, first }
    }

    /// Why a number of the site on the screen is what it is.
    ///
    /// # Errors
    /// Where no site is open, or it has no such thing.
    pub fn explain(&self, asked: &Asked) -> Result<Explanation, Refusal> {
        let shown = self.shown().clone();
        let shown = shown.ok_or_else(|| Refusal::of("no site is open; open one first"))?;
        Scheme::of(&shown.site)
            .explain(asked)
            .ok_or_else(|| Refusal::of("this is not in the open site any more; open it again"))
    }

    /// A command that failed halfway left nothing half done: the store answers for itself.
    fn desk(&self) -> MutexGuard<'_, Desk> {
        self.at_the_desk.fetch_add(1, Ordering::Relaxed);
        let desk = held(&self.desk);
        self.at_the_desk.fetch_sub(1, Ordering::Relaxed);
        desk
    }

    fn shown(&self) -> MutexGuard<'_, Option<Shown>> {
        held(&self.shown)
    }
}

/// What is locked; whoever failed while holding it left nothing half done.
fn held<T>(locked: &Mutex<T>) -> MutexGuard<'_, T> {
    locked.lock().unwrap_or_else(PoisonError::into_inner)
}

impl std::fmt::Debug for Window {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Window(file {:?}, home {:?})", self.file, self.home)
    }
}

impl Refusal {
    pub(crate) fn of(message: impl Into<String>) -> Self {
        Self { message: message.into(), faults: Vec::new() }
    }
}

/// A file's faults are listed one by one; everything else is a sentence.
impl From<SiteError> for Refusal {
    fn from(error: SiteError) -> Self {
        match error {
            SiteError::Faults(faults) => {
                Self { message: "this cannot be used as it is".to_owned(), faults: faults.lines() }
            }
            other => Self::of(other.to_string()),
        }
    }
}
