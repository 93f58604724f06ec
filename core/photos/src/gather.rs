//! Which files an import looks at: those named, and those in the folders named, in order of their names.

use std::fs::{self, FileType};
use std::path::{Component, Path, PathBuf};

use crate::reason::Reason;

/// The most files that one import takes.
pub const MOST_FILES: usize = 50_000;
/// The deepest folder that is looked into.
pub const MOST_DEEP: usize = 32;

/// A file that was found, or the reason why it is not looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Where.
    pub path: PathBuf,
    /// Why it is not looked at.
    pub refused: Option<Reason>,
}

/// The files named and those in the folders named. Nothing is opened; links are followed only where one was named
/// itself, since a link inside a folder may lead anywhere or back to where it came from.
#[must_use]
pub fn gather(named: &[PathBuf]) -> Vec<Found> {
    let mut found = Vec::new();
    for path in named {
        match fs::metadata(path) {
            Ok(at) if at.is_dir() => folder(path, 1, &mut found),
            Ok(at) => push(&mut found, path, special(at.file_type())),
            Err(error) => push(&mut found, path, Some(Reason::Unreadable(error.to_string()))),
        }
    }
    found
}

fn push(found: &mut Vec<Found>, path: &Path, refused: Option<Reason>) {
    // The first file too many says so; thousands of the same sentence help nobody.
    let refused = match found.len() {
        n if n < MOST_FILES => refused,
        n if n == MOST_FILES => Some(Reason::TooMany(MOST_FILES)),
        _ => return,
    };
    found.push(Found { path: path.to_owned(), refused });
}

fn folder(path: &Path, deep: usize, found: &mut Vec<Found>) {
    if deep > MOST_DEEP {
        return push(found, path, Some(Reason::TooDeep(MOST_DEEP)));
    }
    let mut entries = match fs::read_dir(path).and_then(|all| all.collect::<Result<Vec<_>, _>>()) {
        Ok(entries) => entries,
        Err(error) => return push(found, path, Some(Reason::Unreadable(error.to_string()))),
    };
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        if found.len() > MOST_FILES {
            return;
        }
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => folder(&entry.path(), deep + 1, found),
            Ok(kind) => push(found, &entry.path(), special(kind)),
            Err(error) => push(found, &entry.path(), Some(Reason::Unreadable(error.to_string()))),
        }
    }
}

/// Why a thing of this type is not opened.
fn special(kind: FileType) -> Option<Reason> {
    if kind.is_symlink() {
        return Some(Reason::Link);
    }
    if kind.is_file() {
        return None;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        if kind.is_fifo() {
            return Some(Reason::Special("pipe"));
        }
        if kind.is_socket() {
            return Some(Reason::Special("socket"));
        }
    }
    Some(Reason::Special("device"))
}

/// A file named inside a folder, as surveys name their pictures.
///
/// # Errors
/// The name is absolute or climbs out of the folder, or a link on the way leads out of it.
pub fn within(folder: &Path, name: &str) -> Result<PathBuf, Reason> {
    let plain = |part| matches!(part, Component::Normal(_) | Component::CurDir);
    if name.is_empty() || name.contains(['\0', '\\']) || !Path::new(name).components().all(plain) {
        return Err(Reason::Outside);
    }
    let path = folder.join(name);
    let unreadable = |error: std::io::Error| Reason::Unreadable(error.to_string());
    let (inside, real) = (folder.canonicalize().map_err(unreadable)?, path.canonicalize().map_err(unreadable)?);
    if real.starts_with(inside) { Ok(path) } else { Err(Reason::Outside) }
}
