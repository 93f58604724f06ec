//! The journal of what happened to the files, and the states in which a power cut may leave them.
//!
//! The model of a drive: a sync of a file makes all its earlier writes and cuts safe. Of later ones any may be there or
//! not, in any order, and a single write may be torn between sectors of 512 bytes. A new file's name is safe once its
//! folder was synced, which SQLite does at the first sync of a journal (sqlite.org/atomiccommit.html, section 3.7), and
//! names come and go in the order in which they were written.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::Event;

const SECTOR: usize = 512;

/// How much of what was not synced is lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loss {
    /// All of it.
    All,
    /// None of it: as if only the program had been killed.
    None,
    /// What was written last, from a random moment on.
    Late,
    /// Any of it, in any order.
    Any,
    /// Any of it, and any sector of what is there.
    Torn,
}

impl Loss {
    /// Every way.
    pub const ALL: [Self; 5] = [Self::All, Self::None, Self::Late, Self::Any, Self::Torn];

    /// Makes what is kept of a file's changes since its last sync.
    pub(crate) fn keep(self, pending: &[Change], bytes: &mut Vec<u8>, throw: &mut impl FnMut() -> u64) {
        let kept = match self {
            Self::Any | Self::Torn => pending.len(),
            _ => first(pending.len(), self, throw),
        };
        for change in &pending[..kept] {
            match self {
                Self::Any | Self::Torn if throw().is_multiple_of(2) => {}
                Self::Torn => change.apply(bytes, || throw().is_multiple_of(2)),
                _ => change.apply(bytes, || true),
            }
        }
    }
}

/// A change to a file's contents.
#[derive(Clone, Debug)]
pub(crate) enum Change {
    Write(usize, Vec<u8>),
    Size(usize),
}

impl Change {
    pub(crate) fn apply(&self, bytes: &mut Vec<u8>, mut keep_sector: impl FnMut() -> bool) {
        match self {
            Self::Size(size) => bytes.resize(*size, 0),
            Self::Write(at, new) => {
                let mut from = 0;
                while from < new.len() {
                    let to = ((at + from) / SECTOR * SECTOR + SECTOR - at).min(new.len());
                    if keep_sector() {
                        if bytes.len() < at + to {
                            bytes.resize(at + to, 0);
                        }
                        bytes[at + from..at + to].copy_from_slice(&new[from..to]);
                    }
                    from = to;
                }
            }
        }
    }
}

#[derive(Clone, Debug, Default)]
struct File {
    safe: Vec<u8>,
    pending: Vec<Change>,
    /// Whether its next sync syncs the folder too.
    names_folder: bool,
}

/// A change to the folder.
#[derive(Clone, Debug)]
enum Name {
    Made(PathBuf, usize),
    Gone(PathBuf),
}

/// What happened to the files of a watched folder.
pub struct Journal {
    folder: PathBuf,
    start: BTreeMap<PathBuf, Vec<u8>>,
    events: Vec<Event>,
}

impl Journal {
    pub(crate) fn new(folder: PathBuf, start: BTreeMap<PathBuf, Vec<u8>>, events: Vec<Event>) -> Self {
        Self { folder, start, events }
    }

    /// How many moments there are at which the power may fail: before the first event, and after each.
    #[must_use]
    pub fn moments(&self) -> usize {
        self.events.len() + 1
    }

    /// The last number that the program had marked as safe at a moment.
    #[must_use]
    pub fn marked(&self, moment: usize) -> Option<u64> {
        self.events[..moment].iter().rev().find_map(|event| match event {
            Event::Mark(number) => Some(*number),
            _ => None,
        })
    }

    /// How many syncs there were before a moment.
    #[must_use]
    pub fn syncs(&self, moment: usize) -> usize {
        self.events[..moment].iter().filter(|event| matches!(event, Event::Sync(_))).count()
    }

    /// Writes the files as they may be found when the power failed at a moment; `throw` gives random numbers.
    ///
    /// # Panics
    /// The folder cannot be written.
    pub fn cut(&self, moment: usize, loss: Loss, throw: &mut impl FnMut() -> u64, into: &Path) {
        let mut drive = Drive::new(&self.start);
        for event in &self.events[..moment] {
            drive.see(event);
        }
        for (name, bytes) in drive.found(loss, throw) {
            let name = name.strip_prefix(&self.folder).expect("in the folder");
            std::fs::write(into.join(name), bytes).expect("written");
        }
    }
}

/// A drive while the journal is played.
struct Drive {
    files: Vec<File>,
    /// Names as the program sees them, and those that are safe.
    names: BTreeMap<PathBuf, usize>,
    safe_names: BTreeMap<PathBuf, usize>,
    pending_names: Vec<Name>,
}

impl Drive {
    fn new(start: &BTreeMap<PathBuf, Vec<u8>>) -> Self {
        let files = start.values().map(|bytes| File { safe: bytes.clone(), ..File::default() }).collect();
        let names: BTreeMap<PathBuf, usize> = start.keys().cloned().zip(0..).collect();
        Self { files, safe_names: names.clone(), names, pending_names: Vec::new() }
    }

    fn file(&mut self, name: &Path) -> &mut File {
        let file = self.names[name];
        &mut self.files[file]
    }

    fn see(&mut self, event: &Event) {
        match event {
            Event::Mark(_) => {}
            Event::Open(name) if self.names.contains_key(name) => {}
            Event::Open(name) => {
                let text = name.to_string_lossy();
                let names_folder = text.ends_with("-wal") || text.ends_with("-journal");
                self.files.push(File { names_folder, ..File::default() });
                self.names.insert(name.clone(), self.files.len() - 1);
                self.pending_names.push(Name::Made(name.clone(), self.files.len() - 1));
            }
            Event::Write { file, at, bytes } => self.file(file).pending.push(Change::Write(*at, bytes.clone())),
            Event::Truncate { file, size } => self.file(file).pending.push(Change::Size(*size)),
            Event::Sync(name) => {
                let file = self.file(name);
                for change in std::mem::take(&mut file.pending) {
                    change.apply(&mut file.safe, || true);
                }
                if std::mem::take(&mut file.names_folder) {
                    self.keep_names();
                }
            }
            Event::Delete { file, kept } => {
                self.names.remove(file);
                self.pending_names.push(Name::Gone(file.clone()));
                if *kept {
                    self.keep_names();
                }
            }
        }
    }

    fn keep_names(&mut self) {
        self.pending_names.clear();
        self.safe_names.clone_from(&self.names);
    }

    fn found(self, loss: Loss, throw: &mut impl FnMut() -> u64) -> BTreeMap<PathBuf, Vec<u8>> {
        let mut names = self.safe_names;
        let kept_names = first(self.pending_names.len(), loss, throw);
        for change in &self.pending_names[..kept_names] {
            match change {
                Name::Made(name, file) => names.insert(name.clone(), *file),
                Name::Gone(name) => names.remove(name),
            };
        }
        let mut found = BTreeMap::new();
        for (name, file) in names {
            let File { safe, pending, .. } = &self.files[file];
            let mut bytes = safe.clone();
            loss.keep(pending, &mut bytes, throw);
            found.insert(name, bytes);
        }
        found
    }
}

/// How many of a row of changes are kept.
pub(crate) fn first(all: usize, loss: Loss, throw: &mut impl FnMut() -> u64) -> usize {
    match loss {
        Loss::All => 0,
        Loss::None => all,
        Loss::Late | Loss::Any | Loss::Torn => {
            usize::try_from(throw() % (all as u64 + 1)).expect("no more than there are")
        }
    }
}
