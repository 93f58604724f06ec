//! Blobs that are on their way here, block behind block in a file of their own.
//!
//! A block is not forced onto the disk: a killed program keeps it, and after a power cut the blob's own SHA-256 tells
//! whether all of it is there; where it is not, it is fetched anew. With the last block of an original all of it is forced
//! there. What comes without an interruption is digested on its way and need not be read again.

use std::collections::BTreeMap;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use exchange::engine::{Block, Blocks, Failure};
use exchange::layout::BLOCK_BYTES;
use exchange::pack::{Blob, Class};
use record::store::StoreError;
use sha2::{Digest, Sha256};

use super::ExchangeError;
use crate::hex::hex;

/// So much is written at a time, bytes: it is digested while the processor still has it at hand, and for a longer piece
/// Linux looks for memory in large parts that are rarely free, which takes twice the time of the writing.
const PIECE: usize = 256 << 10;

/// The folder of unfinished blobs.
pub(super) struct Parts {
    folder: PathBuf,
    coming: Mutex<BTreeMap<[u8; 32], Coming>>,
}

/// A blob that has been coming from its first block on.
struct Coming {
    file: File,
    next: u64,
    digest: Sha256,
    is_whole: bool,
}

impl Parts {
    /// Of a home folder.
    pub fn of(home: &Path) -> Self {
        Self { folder: home.join("exchange").join("incoming"), coming: Mutex::default() }
    }

    fn lock(&self) -> MutexGuard<'_, BTreeMap<[u8; 32], Coming>> {
        self.coming.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub fn path(&self, id: &[u8; 32]) -> PathBuf {
        self.folder.join(hex(id))
    }

    /// How many blocks of a blob are here.
    pub fn here(&self, blob: &Blob) -> u64 {
        let bytes = fs::metadata(self.path(&blob.id)).map_or(0, |found| found.len());
        if bytes == blob.bytes { blob.blocks.len() as u64 } else { (bytes / BLOCK_BYTES).min(blob.blocks.len() as u64) }
    }

    /// Keeps a block behind those before it.
    fn put(&self, block: &Block<'_>) -> io::Result<()> {
        // One block of a blob is kept at a time, so that nobody else looks for it meanwhile.
        let begun = self.lock().remove(&block.blob).filter(|coming| coming.next == block.number);
        let mut coming = match begun {
            Some(coming) => coming,
            None => {
                let mut file = self.file(&block.blob)?;
                let at = block.number * BLOCK_BYTES;
                file.set_len(at)?;
                file.seek(SeekFrom::Start(at))?;
                Coming { file, next: block.number, digest: Sha256::new(), is_whole: block.number == 0 }
            }
        };
        for piece in block.bytes.chunks(PIECE) {
            coming.file.write_all(piece)?;
            if coming.is_whole {
                coming.digest.update(piece);
            }
        }
        coming.next += 1;
        if !block.last {
            self.lock().insert(block.blob, coming);
            return Ok(());
        }
        if block.class == Class::Original {
            coming.file.sync_all()?;
            self.lock().insert(block.blob, coming);
        }
        Ok(())
    }

    fn file(&self, id: &[u8; 32]) -> io::Result<File> {
        fs::create_dir_all(&self.folder)?;
        let mut options = OpenOptions::new();
        options.create(true).truncate(false).write(true);
        // Photos of a firm's work are nobody else's business on this machine.
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        options.open(self.path(id))
    }

    /// The SHA-256 of an original that has come without an interruption and is on the disk; told once.
    pub fn digest(&self, id: &[u8; 32]) -> Option<[u8; 32]> {
        let coming = self.lock().remove(id).filter(|coming| coming.is_whole)?;
        Some(coming.digest.finalize().into())
    }

    pub fn open(&self, id: &[u8; 32]) -> io::Result<File> {
        match File::open(self.path(id)) {
            // A blob without a single byte has no block either.
            Err(why) if why.kind() == io::ErrorKind::NotFound => {
                self.file(id)?;
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

impl Blocks for Parts {
    fn keep(&self, block: Block<'_>) -> Result<(), Failure> {
        self.put(&block).map_err(|why| Failure::home(&ExchangeError::from(StoreError::Outside(why))))
    }
}
