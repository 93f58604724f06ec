//! Where the files of a team lie: a folder, a drive on the web, an object store. One trait, one behaviour suite for all
//! (`tests/places`).
//!
//! Paths are relative, of lower-case ASCII letters, digits, `.` and `-`, with `/` between folder and name; nothing else is
//! ever asked of a place, so that shares that mind no case or allow few characters serve as well.

mod folder;

pub use folder::Folder;

/// One file in a listing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Its name within the folder that was listed, as the place has it: it may be anything that a stranger put there.
    pub name: String,
    /// Its size in bytes.
    pub bytes: u64,
    /// Whether it is a plain file; links, folders and devices are not, and are never followed.
    pub plain: bool,
}

/// Which bytes of a file to read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The first byte.
    pub from: u64,
    /// So many at most; fewer come where the file ends.
    pub most: u64,
}

/// What failed, as far as somebody acts on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The file is not there.
    Missing,
    /// The place cannot be reached now: no network, no answer in time. Later it may.
    Away,
    /// The place refuses who asks: a wrong password, no right to write.
    Refused,
    /// The place is full, or a quota is.
    Full,
    /// The address leads to something that is no such place.
    Wrong,
    /// What lies there cannot be read as a file: a link, a folder, a damaged sector.
    Unreadable,
}

/// Why a place did not do what was asked.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {why}")]
pub struct PlaceError {
    /// What kind of failure it is.
    pub trouble: Trouble,
    /// The place and path, without a password.
    pub place: String,
    /// What happened and what to do about it, as one clause without a full stop.
    pub why: String,
}

/// Whether a path may be asked of a place: nothing in it leads out of the place or is hidden there.
#[must_use]
pub fn is_proper(path: &str) -> bool {
    path.split('/').all(|part| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', ':']))
}

/// A place that keeps files. Its methods block; they are called from several threads at once. Retries after a passing
/// fault, time-outs and the limits of a server are the place's own affair.
pub trait Place: Send + Sync {
    /// The files directly within a folder, in no order; a folder that is not there holds none. What the place itself has
    /// left unfinished is left out.
    ///
    /// # Errors
    /// The place cannot be reached or refuses.
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError>;

    /// Bytes of a file. Never more than asked for, whatever size the file has.
    ///
    /// # Errors
    /// The file is [`Trouble::Missing`] or no plain file, or the place cannot be reached or refuses.
    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError>;

    /// The same into a buffer, in place of what that held before; it may hold anything after a failure.
    ///
    /// # Errors
    /// As [`Place::read`].
    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        *bytes = self.read(path, span)?;
        Ok(())
    }

    /// Writes a whole file, with the folders above it. Readers see all of it or none; once this returns it stays. Files
    /// never change, so where one of this path is there already, it may be left or replaced by the same bytes; a file of
    /// another length is replaced, since it is damaged.
    ///
    /// # Errors
    /// The place cannot be reached, refuses or is full; then the path is as it was before.
    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError>;

    /// Removes a file; one that is not there is no fault.
    ///
    /// # Errors
    /// The place cannot be reached or refuses.
    fn delete(&self, path: &str) -> Result<(), PlaceError>;
}
