//! Taking in files and folders: each file read once, kept byte for byte, its details read and its thumbnails made.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

use crate::budget::{Budget, MOST_FILE_BYTES};
use crate::content::Content;
use crate::exif::{self, Assume, Facts};
use crate::gather::{Found, gather};
use crate::kind::Kind;
use crate::library::{Library, Thumbnails};
use crate::name::shown;
use crate::picture::{self, NoPicture, Size};
use crate::reason::Reason;

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// Go on.
    On,
    /// Stop; what was taken in so far stays.
    Stop,
}

/// Looks on while files are taken in; called from several threads, one at a time.
pub trait Watch: Sync {
    /// So many of all files are done; this one was the last.
    fn step(&self, done: usize, all: usize, name: &str) -> Go;
}

/// Nobody looks on.
pub struct Unwatched;

impl Watch for Unwatched {
    fn step(&self, _: usize, _: usize, _: &str) -> Go {
        Go::On
    }
}

/// A photo that was taken in.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// Its name in the library.
    pub content: Content,
    /// What it is.
    pub kind: Kind,
    /// Its size in bytes.
    pub bytes: u64,
    /// Its size upright, where it could be read.
    pub size: Option<Size>,
    /// What the camera wrote.
    pub facts: Facts,
    /// Everything that a person should know about it, in sentences.
    pub notes: Vec<String>,
}

/// What became of a file.
#[allow(clippy::large_enum_variant, reason = "nearly all are photos")]
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It was taken in.
    Photo(Taken),
    /// It has the same bytes as another.
    Duplicate {
        /// Its content.
        content: Content,
        /// The first file with it in this import; absent where the photo was known before.
        of: Option<String>,
    },
    /// It was not taken in.
    Refused(Reason),
    /// The import was stopped before it.
    NotReached,
}

/// A file and what became of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The file.
    pub path: PathBuf,
    /// Its name, safe to show.
    pub name: String,
    /// What became of it.
    pub outcome: Outcome,
}

/// How to import.
#[derive(Clone, Copy, Debug)]
pub struct Import<'a> {
    /// Where to.
    pub library: &'a Library,
    /// Contents that are known already and are not taken in again, in rising order.
    pub known: &'a [Content],
    /// What is taken for granted where cameras are silent.
    pub assume: Assume,
    /// How many photos are worked on at a time.
    pub hands: usize,
}

impl Import<'_> {
    /// Imports files and folders. What comes back as a photo is on the disk to stay, name included.
    ///
    /// The result does not depend on which hand was quicker: lines stand in order of the files, and of several equal
    /// files the first is the photo.
    #[must_use]
    pub fn run(&self, named: &[PathBuf], watch: &dyn Watch) -> Vec<Line> {
        self.take_in(&gather(named), watch)
    }

    /// As [`Self::run`], of files that were found already: whoever imports thousands takes them in by and by.
    #[must_use]
    pub fn take_in(&self, found: &[Found], watch: &dyn Watch) -> Vec<Line> {
        let shared = Shared {
            import: *self,
            found,
            next: AtomicUsize::new(0),
            stop: AtomicBool::new(false),
            budget: Budget::new(),
            state: Mutex::new(State {
                done: 0,
                outcomes: vec![Outcome::NotReached; found.len()],
                seen: BTreeMap::new(),
            }),
            watch,
        };
        std::thread::scope(|scope| {
            for _ in 1..self.hands.max(1) {
                scope.spawn(|| shared.work());
            }
            shared.work();
        });
        let state = shared.state.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut lines: Vec<Line> = found
            .iter()
            .zip(state.outcomes)
            .map(|(file, outcome)| Line { path: file.path.clone(), name: shown(&file.path).text, outcome })
            .collect();
        name_duplicates(&mut lines);
        let kept = lines.iter().filter_map(|line| match &line.outcome {
            Outcome::Photo(photo) => Some(photo.content),
            _ => None,
        });
        if let Err(error) = self.library.settle(kept) {
            let reason = Reason::NotKept(error.to_string());
            for line in lines.iter_mut().filter(|line| matches!(line.outcome, Outcome::Photo(_))) {
                line.outcome = Outcome::Refused(reason.clone());
            }
        }
        lines
    }
}

/// Of several photos with one content the first stays, and the others say which.
fn name_duplicates(lines: &mut [Line]) {
    let mut first: BTreeMap<Content, String> = BTreeMap::new();
    for line in lines {
        if let Outcome::Photo(photo) = &line.outcome {
            let content = photo.content;
            match first.get(&content) {
                Some(name) => line.outcome = Outcome::Duplicate { content, of: Some(name.clone()) },
                None => {
                    first.insert(content, line.name.clone());
                }
            }
        }
    }
}

struct State {
    done: usize,
    outcomes: Vec<Outcome>,
    /// What was made of a content, so that an equal file is not unpacked again.
    seen: BTreeMap<Content, (Option<Size>, Vec<String>)>,
}

struct Shared<'a> {
    import: Import<'a>,
    found: &'a [Found],
    next: AtomicUsize,
    stop: AtomicBool,
    budget: Budget,
    state: Mutex<State>,
    watch: &'a dyn Watch,
}

impl Shared<'_> {
    fn work(&self) {
        while !self.stop.load(Ordering::Relaxed) {
            let n = self.next.fetch_add(1, Ordering::Relaxed);
            let Some(file) = self.found.get(n) else { return };
            let outcome = match &file.refused {
                Some(reason) => Outcome::Refused(reason.clone()),
                None => self.take(&file.path).unwrap_or_else(Outcome::Refused),
            };
            let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
            state.outcomes[n] = outcome;
            state.done += 1;
            if self.watch.step(state.done, self.found.len(), &shown(&file.path).text) == Go::Stop {
                self.stop.store(true, Ordering::Relaxed);
            }
        }
    }

    fn take(&self, path: &Path) -> Result<Outcome, Reason> {
        let bytes = read_file(path)?;
        let kind = Kind::of(&bytes).ok_or(Reason::NoPicture)?;
        let content = Content::of(&bytes);
        if self.import.known.binary_search(&content).is_ok() {
            return Ok(Outcome::Duplicate { content, of: None });
        }
        let facts = exif::read(kind, &bytes, self.import.assume);
        let seen = self.state.lock().unwrap_or_else(PoisonError::into_inner).seen.get(&content).cloned();
        let (size, preview_notes) = match seen {
            Some(seen) => seen,
            None => self.keep(content, kind, &bytes, &facts)?,
        };
        let mut notes = Vec::new();
        let name = shown(path);
        if !name.replaced.is_empty() {
            notes.push(format!("the file's name held {}, which were taken out", name.replaced.join(", ")));
        }
        if !kind.fits(path) {
            notes.push(format!("the file's ending says otherwise, but it is a {}; it is kept as one", kind.word()));
        }
        notes.extend(preview_notes);
        notes.extend(facts.notes.iter().cloned());
        Ok(Outcome::Photo(Taken { content, kind, bytes: bytes.len() as u64, size, facts, notes }))
    }

    /// Keeps a file that was not seen before, after looking whether it is a picture at all.
    fn keep(
        &self,
        content: Content,
        kind: Kind,
        bytes: &[u8],
        facts: &Facts,
    ) -> Result<(Option<Size>, Vec<String>), Reason> {
        let library = self.import.library;
        let mut notes = Vec::new();
        let size = match picture::stated(kind, bytes) {
            Ok(stored) if picture::turn(kind, facts.orientation).lies_on_its_side() => Some(stored.size.turned()),
            Ok(stored) => Some(stored.size),
            Err(NoPicture::Refused(reason)) => return Err(reason),
            Err(NoPicture::NoPreview(why)) => {
                notes.push(why);
                None
            }
        };
        let not_kept = |error: crate::library::LibraryError| Reason::NotKept(error.to_string());
        library.keep(content, kind, bytes).map_err(not_kept)?;
        if size.is_some() && !library.has_thumbnails(content) {
            match library.make_thumbnails(content, kind, bytes, facts.orientation, &self.budget) {
                Ok(()) => {}
                Err(Thumbnails::Picture(NoPicture::NoPreview(why))) => notes.push(why),
                Err(Thumbnails::Picture(NoPicture::Refused(reason))) => notes.push(reason.to_string()),
                // The original is safe and the cache can be made later.
                Err(Thumbnails::Disk(error)) => notes.push(format!("no thumbnail was written: {error}")),
            }
        }
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.seen.insert(content, (size, notes.clone()));
        Ok((size, notes))
    }
}

fn read_file(path: &Path) -> Result<Vec<u8>, Reason> {
    let unreadable = |error: std::io::Error| Reason::Unreadable(error.to_string());
    let file = File::open(path).map_err(unreadable)?;
    let bytes = file.metadata().map_err(unreadable)?.len();
    let too_large = |bytes| Reason::TooLarge { bytes, most: MOST_FILE_BYTES };
    if bytes > MOST_FILE_BYTES {
        return Err(too_large(bytes));
    }
    let mut read = Vec::with_capacity(usize::try_from(bytes).unwrap_or(0) + 1);
    // A file may grow while it is read.
    file.take(MOST_FILE_BYTES + 1).read_to_end(&mut read).map_err(unreadable)?;
    match read.len() as u64 {
        0 => Err(Reason::Empty),
        bytes if bytes > MOST_FILE_BYTES => Err(too_large(bytes)),
        _ => Ok(read),
    }
}
