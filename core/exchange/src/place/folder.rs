//! A local or mounted folder.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use super::{Entry, Place, PlaceError, Span, Trouble, is_proper};

/// How names begin of files that are being written.
const UNFINISHED: &str = ".unfinished-";

/// Numbers the files that this process writes.
static NEXT: AtomicU64 = AtomicU64::new(0);

/// A folder on a drive of this machine or of the network.
#[derive(Clone, Debug)]
pub struct Folder {
    root: PathBuf,
    /// Tells what this process writes from what others write meanwhile.
    mark: String,
}

impl Folder {
    /// A folder that is there already; it is never made, since an unmounted share would otherwise be taken for an empty
    /// one. `fresh` are random bytes, which tell this process's unfinished files from those of others.
    ///
    /// # Errors
    /// There is no such folder.
    pub fn open(root: &Path, fresh: [u8; 8]) -> Result<Self, PlaceError> {
        let mark = fresh.iter().map(|byte| format!("{byte:02x}")).collect();
        let folder = Self { root: root.to_owned(), mark };
        match fs::metadata(root) {
            Ok(found) if found.is_dir() => Ok(folder),
            Ok(_) => Err(folder.error(root, Trouble::Wrong, "it is a file; name a folder".to_owned())),
            Err(why) if why.kind() == ErrorKind::NotFound => {
                let why = "there is no such folder; connect the drive, or make the folder first".to_owned();
                Err(folder.error(root, Trouble::Away, why))
            }
            Err(why) => Err(folder.failed(root)(why)),
        }
    }

    fn error(&self, path: &Path, trouble: Trouble, why: String) -> PlaceError {
        PlaceError { trouble, place: path.display().to_string(), why }
    }

    fn failed(&self, path: &Path) -> impl Fn(io::Error) -> PlaceError + use<'_> {
        let path = path.to_owned();
        move |error| {
            let (trouble, advice) = match error.kind() {
                // Where the root is gone, so is the drive; a file alone is merely missing.
                ErrorKind::NotFound if self.root.is_dir() => (Trouble::Missing, "look whether someone removed it"),
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
                    (Trouble::Refused, "ask whoever runs the share for the right to read and write in it")
                }
                ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
                    (Trouble::Full, "make room there; nothing is lost meanwhile")
                }
                ErrorKind::NotADirectory | ErrorKind::IsADirectory | ErrorKind::InvalidData => {
                    (Trouble::Unreadable, "it is no plain file; move it elsewhere")
                }
                _ => (Trouble::Away, "connect the drive again; the next round goes on where this one ended"),
            };
            self.error(&path, trouble, format!("{error}; {advice}"))
        }
    }

    /// The path of a file, where no folder on the way to it is a link.
    fn path(&self, path: &str) -> Result<PathBuf, PlaceError> {
        let mut whole = self.root.clone();
        if !is_proper(path) {
            return Err(self.error(&whole, Trouble::Wrong, format!("{path:?} is no path of a team's folder")));
        }
        for part in path.split('/') {
            if whole != self.root && fs::symlink_metadata(&whole).is_ok_and(|found| found.is_symlink()) {
                return Err(self.error(&whole, Trouble::Unreadable, "it is a link; put a folder there".to_owned()));
            }
            whole.push(part);
        }
        Ok(whole)
    }

    fn write(&self, to: &Path, bytes: &[u8]) -> io::Result<()> {
        let folder = to.parent().unwrap_or(&self.root);
        self.make(folder)?;
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let fresh = folder.join(format!("{UNFINISHED}{}-{n}", self.mark));
        let written = File::create_new(&fresh).and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_all()?;
            drop(file);
            fs::rename(&fresh, to)?;
            keep_names(folder)
        });
        if written.is_err() {
            // What cannot be removed is never taken for data.
            let _ = fs::remove_file(&fresh);
        }
        written
    }

    /// Makes a folder durably within the root, which must be there.
    fn make(&self, folder: &Path) -> io::Result<()> {
        if folder.is_dir() {
            return Ok(());
        }
        let above = folder.parent().filter(|_| folder != self.root).ok_or(ErrorKind::NotFound)?;
        self.make(above)?;
        match fs::create_dir(folder) {
            Err(why) if why.kind() != ErrorKind::AlreadyExists => Err(why),
            _ => keep_names(above),
        }
    }
}

impl Place for Folder {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        let path = self.path(folder)?;
        let failed = self.failed(&path);
        if fs::symlink_metadata(&path).is_ok_and(|found| found.is_symlink()) {
            return Err(self.error(&path, Trouble::Unreadable, "it is a link; put a folder there".to_owned()));
        }
        let found = match fs::read_dir(&path) {
            Ok(found) => found,
            Err(why) if why.kind() == ErrorKind::NotFound && self.root.is_dir() => return Ok(Vec::new()),
            Err(why) => return Err(failed(why)),
        };
        let mut entries = Vec::new();
        for entry in found {
            let entry = entry.map_err(&failed)?;
            let name = entry.file_name().to_string_lossy().into_owned();
            if name.starts_with(UNFINISHED) {
                continue;
            }
            match entry.metadata() {
                Ok(found) => entries.push(Entry { name, bytes: found.len(), plain: found.is_file() }),
                // Removed between the listing and the look at it.
                Err(why) if why.kind() == ErrorKind::NotFound => {}
                Err(why) => return Err(failed(why)),
            }
        }
        Ok(entries)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        let mut bytes = Vec::new();
        self.read_into(path, span, &mut bytes)?;
        Ok(bytes)
    }

    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        let path = self.path(path)?;
        let failed = self.failed(&path);
        let found = fs::symlink_metadata(&path).map_err(&failed)?;
        if !found.is_file() {
            return Err(failed(ErrorKind::InvalidData.into()));
        }
        let mut file = File::open(&path).map_err(&failed)?;
        if span.from > 0 {
            file.seek(SeekFrom::Start(span.from)).map_err(&failed)?;
        }
        bytes.clear();
        // One byte more finds the end without growing.
        let room = found.len().saturating_sub(span.from).saturating_add(1).min(span.most);
        bytes.reserve(usize::try_from(room).unwrap_or_default());
        file.take(span.most).read_to_end(bytes).map_err(&failed)?;
        Ok(())
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        let path = self.path(path)?;
        if fs::symlink_metadata(&path).is_ok_and(|at| at.is_file() && at.len() == bytes.len() as u64)
            && fs::read(&path).is_ok_and(|there| there == bytes)
        {
            return Ok(());
        }
        self.write(&path, bytes).map_err(self.failed(&path))
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        let path = self.path(path)?;
        match fs::remove_file(&path) {
            Err(why) if why.kind() != ErrorKind::NotFound || !self.root.is_dir() => Err(self.failed(&path)(why)),
            _ => Ok(()),
        }
    }
}

/// Makes the names in a folder durable, which writing the files does not do by itself. Some shares open no folder as a
/// file; they keep names without being asked.
fn keep_names(folder: &Path) -> io::Result<()> {
    match File::open(folder).and_then(|folder| folder.sync_all()) {
        Err(why) if matches!(why.kind(), ErrorKind::StorageFull | ErrorKind::QuotaExceeded) => Err(why),
        _ => Ok(()),
    }
}
