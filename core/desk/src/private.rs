//! Files that only their owner may read, from their first byte on.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Makes a file that is not there yet.
pub fn create(path: &Path, text: &str) -> io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut made = options.open(path)?;
    made.write_all(text.as_bytes())?;
    made.sync_all()
}

/// Writes a file beside and moves it over the old one, so that no power cut leaves half of it.
pub fn replace(path: &Path, text: &str) -> io::Result<()> {
    let fresh = beside(path);
    gone(&fresh)?;
    create(&fresh, text)?;
    fs::rename(&fresh, path)?;
    keep_names(path)
}

/// Removes a file, and what a crash left of one that was to replace it; one that is not there is no fault.
pub fn remove(path: &Path) -> io::Result<()> {
    gone(path)?;
    gone(&beside(path))?;
    keep_names(path)
}

/// Where a file is written before it takes the place of another.
fn beside(path: &Path) -> PathBuf {
    let mut fresh = path.as_os_str().to_owned();
    fresh.push(".new");
    fresh.into()
}

fn gone(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(why) if why.kind() != ErrorKind::NotFound => Err(why),
        _ => Ok(()),
    }
}

/// Makes the folder remember which files are in it.
fn keep_names(path: &Path) -> io::Result<()> {
    match path.parent() {
        Some(folder) if cfg!(unix) => File::open(folder)?.sync_all(),
        _ => Ok(()),
    }
}
