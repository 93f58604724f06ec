//! A file system under SQLite that fails as drives do: full, broken, or without power at the worst moment.
//!
//! It stands between SQLite and the system's own layer (sqlite.org/vfs.html), passes everything on, and keeps a journal
//! of every write and sync below a watched folder. From the journal comes any state in which the drive may be found after
//! a power cut: what was synced is there, and of the rest any part, in any order, torn at sectors. [`Tree`] is the like
//! for files that a program writes plainly.

mod journal;
mod layer;
mod tree;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

pub use journal::{Journal, Loss};
pub use tree::{FileId, Tree};

/// How a drive refuses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// No room for another write; syncs still work.
    Full,
    /// Neither writes nor syncs work.
    Broken,
}

/// What happened to a file.
#[derive(Clone, Debug)]
pub(crate) enum Event {
    /// It was opened, and made where it was absent.
    Open(PathBuf),
    Write {
        file: PathBuf,
        at: usize,
        bytes: Vec<u8>,
    },
    Truncate {
        file: PathBuf,
        size: usize,
    },
    Sync(PathBuf),
    /// It was deleted; `kept` where the folder was synced after it.
    Delete {
        file: PathBuf,
        kept: bool,
    },
    /// The program said that something is safe.
    Mark(u64),
}

#[derive(Debug, Default)]
pub(crate) struct State {
    pub events: Vec<Event>,
    /// How many writes and syncs still succeed, and what then happens.
    refuse: Option<(u64, Refusal)>,
}

impl State {
    /// Whether the next write, or sync, is refused.
    pub(crate) fn refuses(&mut self, is_write: bool) -> Option<Refusal> {
        let (left, how) = self.refuse.as_mut()?;
        if *left > 0 {
            *left -= 1;
            return None;
        }
        (is_write || *how == Refusal::Broken).then_some(*how)
    }
}

type Watched = Vec<(PathBuf, Arc<Mutex<State>>)>;

static WATCHED: Mutex<Watched> = Mutex::new(Vec::new());

pub(crate) fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // A test that failed while it held this has already said what is the matter.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The state of the watched folder in which a file lies.
pub(crate) fn watched(file: &Path) -> Option<Arc<Mutex<State>>> {
    lock(&WATCHED).iter().find(|(folder, _)| file.starts_with(folder)).map(|(_, state)| Arc::clone(state))
}

/// A folder whose files are watched.
pub struct Watch {
    folder: PathBuf,
    start: BTreeMap<PathBuf, Vec<u8>>,
    state: Arc<Mutex<State>>,
}

impl Watch {
    /// Watches what SQLite does below a folder from now on; no database in it may be open. What is there counts as safe.
    ///
    /// # Panics
    /// The folder cannot be read.
    #[must_use]
    pub fn over(folder: &Path) -> Self {
        layer::install();
        let folder = folder.canonicalize().expect("a folder");
        let files = std::fs::read_dir(&folder).expect("a folder").map(|entry| entry.expect("an entry").path());
        let start = files.filter(|p| p.is_file()).map(|p| (p.clone(), std::fs::read(&p).expect("a file"))).collect();
        let state = Arc::new(Mutex::new(State::default()));
        lock(&WATCHED).push((folder.clone(), Arc::clone(&state)));
        Self { folder, start, state }
    }

    /// Says that what was done until now is safe, under a number.
    pub fn mark(&self, number: u64) {
        lock(&self.state).events.push(Event::Mark(number));
    }

    /// Lets so many more writes and syncs succeed, then refuses.
    pub fn refuse_after(&self, successes: u64, how: Refusal) {
        lock(&self.state).refuse = Some((successes, how));
    }

    /// Refuses nothing any more; says whether a write or sync was refused meanwhile.
    pub fn heal(&self) -> bool {
        lock(&self.state).refuse.take().is_some_and(|(left, _)| left == 0)
    }

    /// How many things have happened.
    #[must_use]
    pub fn events(&self) -> usize {
        lock(&self.state).events.len()
    }

    /// Ends watching and gives the journal.
    #[must_use]
    pub fn end(self) -> Journal {
        lock(&WATCHED).retain(|(folder, _)| *folder != self.folder);
        let events = std::mem::take(&mut lock(&self.state).events);
        Journal::new(self.folder, self.start, events)
    }
}
