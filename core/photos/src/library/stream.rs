//! Originals that go out and come in piece by piece, so that none is ever in memory whole.

use std::fs::File;
use std::io::{self, Read, Seek, Write};
use std::path::Path;

use sha2::{Digest, Sha256};

use super::{Library, LibraryError};
use crate::budget::MOST_FILE_BYTES;
use crate::content::Content;
use crate::kind::Kind;

/// So much of a file is in memory at a time, bytes.
const PIECE: usize = 256 << 10;

/// An original, opened and proved to be what it was when it was taken in.
#[derive(Debug)]
pub struct Original {
    /// The file, at its start.
    pub file: File,
    /// Its size in bytes.
    pub bytes: u64,
    /// What it is.
    pub kind: Kind,
}

impl Library {
    /// Opens an original and proves it, a piece at a time.
    ///
    /// # Errors
    /// It is not here, cannot be read or was altered.
    pub fn open_original(&self, content: Content) -> Result<Original, LibraryError> {
        let path = self.original(content).ok_or(LibraryError::Missing(content))?;
        let failed = |why| LibraryError::File { path: path.clone(), why };
        let kind = path.extension().and_then(|ending| Kind::of_extension(&ending.to_string_lossy()));
        let mut file = File::open(&path).map_err(failed)?;
        let (digest, bytes) = fed(&mut file, &mut io::sink()).map_err(|why| failed(why.into()))?;
        file.rewind().map_err(failed)?;
        match kind {
            Some(kind) if Content::finished(digest) == content => Ok(Original { file, bytes, kind }),
            _ => Err(LibraryError::Altered(content)),
        }
    }

    /// Keeps an original that comes from elsewhere piece by piece, durably, after proving that it is what its name says.
    ///
    /// # Errors
    /// It is something else, larger than any that is taken in, or the disk refuses.
    pub fn receive_from(&self, content: Content, from: &mut dyn Read) -> Result<Kind, LibraryError> {
        let unfinished = Self::unfinished(&self.originals);
        let received = self.receive_into(&unfinished, content, from);
        if received.is_err() {
            // What cannot be removed now is cleared away at the next opening.
            let _ = self.drive.remove(&unfinished);
        }
        received
    }

    /// Takes in a file that lies on the same drive and was synced, by giving it its place, where it is what its name says;
    /// [`Library::settle`] then makes that durable. `found` is what it was found to be while it was written; where nobody
    /// knows, it is read.
    ///
    /// # Errors
    /// It is something else, larger than any that is taken in, or the disk refuses.
    pub fn adopt(&self, content: Content, file: &Path, found: Option<Content>) -> Result<Kind, LibraryError> {
        let failed = |why| LibraryError::File { path: file.to_owned(), why };
        let mut opened = File::open(file).map_err(failed)?;
        let (found, bytes) = match found {
            Some(found) => (found, opened.metadata().map_err(failed)?.len()),
            None => {
                let (digest, bytes) = fed(&mut opened, &mut io::sink()).map_err(|why| failed(why.into()))?;
                opened.rewind().map_err(failed)?;
                (Content::finished(digest), bytes)
            }
        };
        let mut head = [0; 16];
        let read = opened.read(&mut head).map_err(failed)?;
        let kind = Kind::of(&head[..read]).filter(|_| bytes <= MOST_FILE_BYTES && found == content);
        let kind = kind.ok_or(LibraryError::Altered(content))?;
        self.put_in_place(file, content, kind)?;
        Ok(kind)
    }

    fn receive_into(&self, unfinished: &Path, content: Content, from: &mut dyn Read) -> Result<Kind, LibraryError> {
        let failed = |why| LibraryError::File { path: unfinished.to_owned(), why };
        let mut file = self.drive.create(unfinished).map_err(failed)?;
        let fed = fed(&mut from.take(MOST_FILE_BYTES + 1), &mut file);
        let (digest, bytes) = match fed {
            Ok(fed) => fed,
            // What cannot be read is not there; what cannot be written is the disk's own fault.
            Err(Fed::Read(_)) => return Err(LibraryError::Altered(content)),
            Err(Fed::Written(why)) => return Err(failed(why)),
        };
        let mut head = [0; 16];
        file.rewind().map_err(failed)?;
        let read = file.read(&mut head).map_err(failed)?;
        let kind = Kind::of(&head[..read]).filter(|_| bytes <= MOST_FILE_BYTES && Content::finished(digest) == content);
        let kind = kind.ok_or(LibraryError::Altered(content))?;
        file.sync().map_err(failed)?;
        drop(file);
        self.put_in_place(unfinished, content, kind)?;
        self.settle(std::iter::once(content))?;
        Ok(kind)
    }

    fn put_in_place(&self, unfinished: &Path, content: Content, kind: Kind) -> Result<(), LibraryError> {
        let place = self.place(content, kind);
        let failed = |why| LibraryError::File { path: place.clone(), why };
        place.parent().map_or(Ok(()), |shelf| self.drive.make_folder(shelf)).map_err(failed)?;
        self.drive.rename(unfinished, &place).map_err(failed)
    }
}

/// Why a file did not get through.
enum Fed {
    /// It could not be read.
    Read(io::Error),
    /// It could not be written.
    Written(io::Error),
}

impl From<Fed> for io::Error {
    fn from(fed: Fed) -> Self {
        match fed {
            Fed::Read(why) | Fed::Written(why) => why,
        }
    }
}

/// Copies to the end and digests on the way; says how many bytes there were.
fn fed(from: &mut dyn Read, to: &mut dyn Write) -> Result<(Sha256, u64), Fed> {
    let (mut digest, mut bytes, mut piece) = (Sha256::new(), 0, vec![0; PIECE]);
    loop {
        match from.read(&mut piece) {
            Ok(0) => return Ok((digest, bytes)),
            Ok(read) => {
                digest.update(&piece[..read]);
                to.write_all(&piece[..read]).map_err(Fed::Written)?;
                bytes += read as u64;
            }
            Err(why) if why.kind() == io::ErrorKind::Interrupted => {}
            Err(why) => return Err(Fed::Read(why)),
        }
    }
}
