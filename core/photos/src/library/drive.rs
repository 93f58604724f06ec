//! What the library asks of a drive when it writes: a seam at which a test stands a drive that loses power.

use std::fmt;
use std::fs::{self, File};
use std::io::{self, Read, Seek, Write};
use std::path::Path;

/// A file that is being written.
pub trait Writing: Read + Write + Seek + Send {
    /// Returns once its bytes outlast a power cut.
    ///
    /// # Errors
    /// The drive refuses; nothing is known of the bytes then.
    fn sync(&mut self) -> io::Result<()>;
}

/// Where files are written.
pub trait Drive: fmt::Debug + Send + Sync {
    /// Makes a folder, with those above it that are absent; one that is there is no fault.
    ///
    /// # Errors
    /// The drive refuses.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// Makes a file, empty where there was one, to be written and read back.
    ///
    /// # Errors
    /// The drive refuses.
    fn create(&self, file: &Path) -> io::Result<Box<dyn Writing>>;

    /// Gives a file another name at once, in place of whatever has that name.
    ///
    /// # Errors
    /// The drive refuses.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// It is not there, or the drive refuses.
    fn remove(&self, file: &Path) -> io::Result<()>;

    /// Returns once the names in a folder outlast a power cut.
    ///
    /// # Errors
    /// The drive refuses.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
}

/// The drives of this machine.
#[derive(Clone, Copy, Debug)]
pub struct System;

impl Writing for File {
    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

impl Drive for System {
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)
    }

    fn create(&self, file: &Path) -> io::Result<Box<dyn Writing>> {
        let file = File::options().create(true).truncate(true).read(true).write(true).open(file)?;
        Ok(Box::new(file))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        fs::remove_file(file)
    }

    #[cfg(unix)]
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        File::open(folder)?.sync_all()
    }

    /// Elsewhere a folder cannot be opened as a file; its names are kept by the file system's own journal.
    #[cfg(not(unix))]
    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }
}
