//! The bytes of one photo within a file, read block by block.

use std::io::{self, Read, Seek, SeekFrom};

use super::{BLOCK, BLOCK_HEAD};

/// So many bytes a photo takes in a file, the heads of its blocks included; `None` where there is no such file.
pub(super) fn room(bytes: u64) -> Option<u64> {
    bytes.checked_add(bytes.div_ceil(BLOCK as u64).checked_mul(BLOCK_HEAD)?)
}

/// Reads the bytes of one photo and passes over the heads of its blocks: what they say is known beforehand, and the
/// photo's own SHA-256 proves the bytes.
pub(super) struct Blocks<'a, R> {
    file: &'a mut R,
    left: u64,
    in_block: u64,
}

impl<'a, R: Read + Seek> Blocks<'a, R> {
    /// The photo of so many bytes that begins here.
    pub(super) fn at(file: &'a mut R, start: u64, bytes: u64) -> io::Result<Self> {
        file.seek(SeekFrom::Start(start))?;
        Ok(Self { file, left: bytes, in_block: 0 })
    }
}

impl<R: Read + Seek> Read for Blocks<'_, R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.left == 0 || into.is_empty() {
            return Ok(0);
        }
        if self.in_block == 0 {
            self.file.seek_relative(BLOCK_HEAD as i64)?;
            self.in_block = self.left.min(BLOCK as u64);
        }
        let most = usize::try_from(self.in_block).unwrap_or(BLOCK).min(into.len());
        let read = self.file.read(&mut into[..most])?;
        self.left -= read as u64;
        self.in_block -= read as u64;
        if read == 0 {
            // The file is cut short; there is no more to come.
            self.left = 0;
        }
        Ok(read)
    }
}
