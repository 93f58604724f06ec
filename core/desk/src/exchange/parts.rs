//! Blobs that are on their way here, block behind block in a file of their own.
//!
//! A block is not forced onto the disk: a killed program keeps it, and after a power cut the blob's own SHA-256 tells
//! whether all of it is there; where it is not, it is fetched anew.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use exchange::layout::BLOCK_BYTES;
use exchange::pack::Blob;

use crate::hex::hex;

/// The folder of unfinished blobs.
pub(super) struct Parts(PathBuf);

impl Parts {
    /// Of a home folder.
    pub fn of(home: &Path) -> Self {
        Self(home.join("exchange").join("incoming"))
    }

    pub fn path(&self, id: &[u8; 32]) -> PathBuf {
        self.0.join(hex(id))
    }

    /// How many blocks of a blob are here.
    pub fn here(&self, blob: &Blob) -> u64 {
        let bytes = fs::metadata(self.path(&blob.id)).map_or(0, |found| found.len());
        if bytes == blob.bytes { blob.blocks.len() as u64 } else { (bytes / BLOCK_BYTES).min(blob.blocks.len() as u64) }
    }

    /// Keeps a block behind those before it.
    pub fn put(&self, id: &[u8; 32], block: u64, bytes: &[u8]) -> io::Result<()> {
        fs::create_dir_all(&self.0)?;
        let mut options = OpenOptions::new();
        options.create(true).truncate(false).write(true);
        // Photos of a firm's work are nobody else's business on this machine.
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut file = options.open(self.path(id))?;
        let at = block * BLOCK_BYTES;
        file.set_len(at)?;
        file.seek(SeekFrom::Start(at))?;
        file.write_all(bytes)
    }

    pub fn open(&self, id: &[u8; 32]) -> io::Result<File> {
        match File::open(self.path(id)) {
            // A blob without a single byte has no block either.
            Err(why) if why.kind() == io::ErrorKind::NotFound => {
                self.put(id, 0, &[])?;
                File::open(self.path(id))
            }
            opened => opened,
        }
    }

    /// Forgets what is here of a blob; where that fails it is fetched over it.
    pub fn forget(&self, id: &[u8; 32]) {
        let _ = fs::remove_file(self.path(id));
    }
}
