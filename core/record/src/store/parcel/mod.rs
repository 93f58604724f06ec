//! One self-contained file with a site, its whole history and its photos, for e-mail or a stick.
//!
//! A first line names the format; then records of a kind byte, a length (4 bytes, big end first) and the bytes:
//!
//! ```text
//! D A C K …  devices, their certificates, changes, contents: the history
//! P …        one for each photo that follows: SHA-256, name, kind, length, when added, what was read in it
//! S          the SHA-256 of everything before: the history is taken in whole or not at all
//! B …        the photos' bytes in that order, in blocks of 1 MiB and one last shorter one each
//! ```
//!
//! and last, without a kind, the SHA-256 of everything before. The first release wrote neither `P`, `S` nor `B`, and
//! passes over kinds that it does not know; so it reads the history of a file of today, and today's release its files.
//! Where a photo lies follows from the lengths under the seal alone: a damaged block spoils its own photo and no other.

mod blocks;
mod read;
mod write;

use super::DeviceRow;

const FIRST_LINE: &[u8] = b"Newel site, format 1\n";
/// Of a photo so many bytes lie in one block.
const BLOCK: usize = 1 << 20;
/// Before each block: its kind, its length, and the length of its one part.
const BLOCK_HEAD: u64 = 9;

/// The history that is held in memory while a file is written or read, bytes: a greater one is refused. Photos pass
/// through in pieces, so this bounds what sending and receiving need.
pub const MOST_HISTORY_BYTES: u64 = 256 << 20;

/// What an import brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival {
    /// The documents.
    pub documents: Vec<String>,
    /// Changes that were not here before.
    pub fresh: usize,
    /// Devices that nobody here has vouched for; their changes are kept but set aside.
    pub unknown: Vec<DeviceRow>,
    /// Photos that were taken in.
    pub photos: usize,
    /// Photos that were not, each by its name with the reason; everything else was taken in.
    pub photos_aside: Vec<(String, String)>,
}
