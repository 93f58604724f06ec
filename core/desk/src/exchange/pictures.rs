//! Photos as blobs: the original, and two smaller copies that travel before it.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};

use ::photos::{Content, Edge, Library, LibraryError};
use exchange::pack::Class;
use exchange::place::Span;
use record::store::CopyRow;
use sha2::{Digest, Sha256};

use super::ExchangeError;
use super::parts::Parts;
use crate::sites::{SiteError, Sites};

/// The copies of a photo, each with its class.
const COPIES: [(Edge, Class); 2] = [(Edge::Small, Class::Thumbnail), (Edge::Large, Class::Screen)];
/// So many photos are looked at in one go.
const MOST: usize = 8;
/// A copy has some hundred kB; nothing larger is taken for one, bytes.
const MOST_COPY_BYTES: u64 = 16 << 20;

/// Blobs with their bytes.
type Found = Vec<([u8; 32], u64)>;
/// Copies with the class and the bytes of each.
type Copies = Vec<(CopyRow, u8, u64)>;

/// So many bytes a blob of a class may have.
pub(super) fn most_bytes(class: Class) -> u64 {
    if class == Class::Original { ::photos::MOST_FILE_BYTES } else { MOST_COPY_BYTES }
}

fn edge(copy: &CopyRow) -> Option<Edge> {
    COPIES.into_iter().map(|(edge, _)| edge).find(|edge| edge.pixels() == copy.edge)
}

impl Sites {
    /// Some blobs of a class that are here and lie nowhere in the folder, each proved to be what its name says. `None` where
    /// none was found so far and there is more to look at: nobody has to wait for the store until all copies are made.
    pub(super) fn blobs_to_send(&mut self, class: Class) -> Result<Option<Found>, ExchangeError> {
        let looked_at = if class == Class::Original { 0 } else { self.make_copies()? };
        let found = self.store().unsent(class.code(), MOST)?;
        let mut sound = Vec::new();
        for (id, bytes) in &found {
            if self.is_sound(id, *bytes)? { sound.push((*id, *bytes)) } else { self.lost(id)? }
        }
        let is_all = looked_at == 0 && found.is_empty();
        Ok(if sound.is_empty() && !is_all { None } else { Some(sound) })
    }

    /// Makes the copies of some photos whose originals are here and that have none yet; says how many it looked at.
    fn make_copies(&mut self) -> Result<usize, ExchangeError> {
        let files = self.store().photos_to_copy(MOST)?;
        for file in &files {
            match self.copies_of_file(file) {
                Ok(made) => self.store_mut().enter_copies(file, &made)?,
                // The original was altered or removed, and nothing is made of it until it is found again.
                Err((photo, LibraryError::Altered(_) | LibraryError::Missing(_))) => self.lost(&photo.bytes())?,
                Err((_, why)) => return Err(SiteError::Library(why).into()),
            }
        }
        Ok(files.len())
    }

    /// The copies of an original; none where it is no picture that this program reads.
    fn copies_of_file(&self, file: &str) -> Result<Copies, (Content, LibraryError)> {
        let (Some(photo), library) = (Content::parse(file), self.library()) else { return Ok(Vec::new()) };
        let copy = |(edge, class): (Edge, Class)| {
            let path = library.thumbnail(photo, edge)?;
            let bytes = std::fs::read(&path).map_err(|why| LibraryError::File { path, why })?;
            let row = CopyRow { photo: photo.bytes(), edge: edge.pixels(), blob: Sha256::digest(&bytes).into() };
            Ok((row, class.code(), bytes.len() as u64))
        };
        match COPIES.into_iter().map(copy).collect() {
            Err(LibraryError::NoPreview(_)) => Ok(Vec::new()),
            made => made.map_err(|why| (photo, why)),
        }
    }

    /// Whether a blob that is said to be here is, whole and unaltered.
    fn is_sound(&mut self, id: &[u8; 32], bytes: u64) -> Result<bool, ExchangeError> {
        match self.library().open_original(Content::from_bytes(*id)) {
            Ok(original) => return Ok(original.bytes == bytes),
            Err(LibraryError::Altered(_) | LibraryError::Missing(_)) => {}
            // What cannot be read now is not gone.
            Err(why) => return Err(SiteError::Library(why).into()),
        }
        Ok(self.copy_bytes(id)?.is_some_and(|copy| copy.len() as u64 == bytes))
    }

    /// The bytes of a copy as they were when it was entered.
    fn copy_bytes(&self, id: &[u8; 32]) -> Result<Option<Vec<u8>>, ExchangeError> {
        for copy in self.store().copies_of(id)? {
            let photo = Content::from_bytes(copy.photo);
            let kept = edge(&copy).and_then(|edge| self.library().thumbnail_kept(photo, edge));
            if let Some(bytes) = kept.filter(|bytes| <[u8; 32]>::from(Sha256::digest(bytes)) == *id) {
                return Ok(Some(bytes));
            }
        }
        Ok(None)
    }

    /// Says that a blob is not here: an original that somebody altered or removed, a copy that was made anew.
    fn lost(&mut self, id: &[u8; 32]) -> Result<(), ExchangeError> {
        for copy in self.store().copies_of(id)? {
            self.store_mut().copy_again(&copy)?;
        }
        Ok(self.store_mut().blobs_are_here(&[*id], false)?)
    }

    /// Photos that count as away and of which the library has a file nevertheless: put back from a backup, or taken in just
    /// before the program was killed.
    pub(super) fn perhaps_found(&self) -> Result<Vec<Content>, ExchangeError> {
        let away: BTreeSet<String> = self.store().photos_away()?.into_iter().collect();
        if away.is_empty() {
            return Ok(Vec::new());
        }
        // A library that cannot be listed shows nothing to be found.
        let there = self.library().contents().unwrap_or_default();
        Ok(there.into_iter().filter(|photo| away.contains(&photo.to_string())).collect())
    }

    /// Says that a photo is here again, if its file is what its name says.
    pub(super) fn look_again(&mut self, photo: Content) -> Result<(), ExchangeError> {
        if let Ok(original) = self.library().open_original(photo) {
            self.store_mut().found_again(&photo.bytes(), original.bytes)?;
        }
        Ok(())
    }

    /// Bytes of a blob that is here.
    pub(super) fn blob_bytes(&self, id: &[u8; 32], span: Span) -> Result<Vec<u8>, ExchangeError> {
        let most = usize::try_from(span.most).unwrap_or(usize::MAX);
        let content = Content::from_bytes(*id);
        let Some(path) = self.library().original(content) else {
            let copy = self.copy_bytes(id)?.ok_or(SiteError::Library(LibraryError::Missing(content)))?;
            let from = usize::try_from(span.from).unwrap_or(usize::MAX).min(copy.len());
            return Ok(copy[from..copy.len().min(from.saturating_add(most))].to_vec());
        };
        let read = (|| {
            let mut file = File::open(&path)?;
            file.seek(SeekFrom::Start(span.from))?;
            let mut bytes = Vec::new();
            file.take(span.most).read_to_end(&mut bytes)?;
            Ok(bytes)
        })();
        read.map_err(|why| SiteError::Library(LibraryError::File { path, why }).into())
    }

    /// Takes blobs that came whole into the library; says which of them are what their names say. The names of all are made
    /// durable together, and entered together after that.
    pub(super) fn take_whole(&mut self, ids: Vec<[u8; 32]>, parts: &Parts) -> Result<Vec<[u8; 32]>, ExchangeError> {
        let library = Library::open(self.home()).map_err(SiteError::Library)?;
        let (mut taken, mut originals) = (Vec::new(), Vec::new());
        for id in &ids {
            let is_original = self.store().blob(id)?.is_none_or(|blob| blob.class == Class::Original.code());
            let is_taken = if is_original {
                let is_taken = take_original(&library, id, parts)?;
                originals.extend(is_taken.then_some(Content::from_bytes(*id)));
                is_taken
            } else {
                self.take_copy(&library, id, parts)?
            };
            taken.extend(is_taken.then_some(*id));
        }
        library.settle(originals.into_iter()).map_err(SiteError::Library)?;
        for id in &ids {
            parts.forget(id);
        }
        self.store_mut().blobs_are_here(&taken, true)?;
        Ok(taken)
    }

    fn take_copy(&self, library: &Library, id: &[u8; 32], parts: &Parts) -> Result<bool, ExchangeError> {
        let mut bytes = Vec::new();
        parts
            .open(id)
            .and_then(|file| file.take(MOST_COPY_BYTES).read_to_end(&mut bytes))
            .map_err(failed(id, parts))?;
        let mut whole = <[u8; 32]>::from(Sha256::digest(&bytes)) == *id;
        let copies = self.store().copies_of(id)?;
        for (copy, edge) in copies.iter().filter_map(|copy| Some((copy, edge(copy)?))) {
            let photo = Content::from_bytes(copy.photo);
            whole = whole && library.receive_thumbnail(photo, edge, &bytes).map_err(SiteError::Library)?;
        }
        Ok(whole)
    }
}

fn failed(id: &[u8; 32], parts: &Parts) -> impl Fn(std::io::Error) -> ExchangeError {
    let path = parts.path(id);
    move |why| SiteError::Library(LibraryError::File { path: path.clone(), why }).into()
}

/// Gives an original that is on the disk its place in the library.
fn take_original(library: &Library, id: &[u8; 32], parts: &Parts) -> Result<bool, ExchangeError> {
    let found = parts.digest(id).map(Content::from_bytes);
    if found.is_none() {
        // Nobody knows whether an earlier run of the program has forced all of it there.
        parts.open(id).and_then(|file| file.sync_all()).map_err(failed(id, parts))?;
    }
    match library.adopt(Content::from_bytes(*id), &parts.path(id), found) {
        Ok(_) => Ok(true),
        Err(LibraryError::Altered(_)) => Ok(false),
        Err(why) => Err(SiteError::Library(why).into()),
    }
}
