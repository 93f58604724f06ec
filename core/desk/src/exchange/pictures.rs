//! Photos as blobs: the original, and two smaller copies that travel before it.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};

use ::photos::{Content, Edge, LibraryError};
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

/// So many bytes a blob of a class may have.
pub(super) fn most_bytes(class: Class) -> u64 {
    if class == Class::Original { ::photos::MOST_FILE_BYTES } else { MOST_COPY_BYTES }
}

fn digits(id: &[u8; 32]) -> String {
    id.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn content(id: &[u8; 32]) -> Option<Content> {
    Content::parse(&digits(id))
}

fn edge(copy: &CopyRow) -> Option<Edge> {
    COPIES.into_iter().map(|(edge, _)| edge).find(|edge| edge.pixels() == copy.edge)
}

impl Sites {
    /// Some blobs of a class that are here and lie nowhere in the folder, each proved to be what its name says.
    pub(super) fn blobs_to_send(&mut self, class: Class) -> Result<Vec<([u8; 32], u64)>, ExchangeError> {
        loop {
            if class != Class::Original {
                self.make_copies()?;
            }
            let found = self.store().unsent(class.code(), MOST)?;
            let mut sound = Vec::new();
            for (id, bytes) in &found {
                if self.is_sound(id, *bytes)? { sound.push((*id, *bytes)) } else { self.lost(id)? }
            }
            if !sound.is_empty() || found.is_empty() {
                return Ok(sound);
            }
        }
    }

    /// Makes the copies of all photos whose originals are here and that have none yet.
    fn make_copies(&mut self) -> Result<(), ExchangeError> {
        loop {
            let files = self.store().photos_to_copy(MOST)?;
            if files.is_empty() {
                return Ok(());
            }
            for file in files {
                let made = self.copies_of_file(&file);
                self.store_mut().enter_copies(&file, &made)?;
            }
        }
    }

    /// The copies that can be made of an original; none where it is no picture that this program reads.
    fn copies_of_file(&self, file: &str) -> Vec<(CopyRow, u8, u64)> {
        let Some(photo) = Content::parse(file) else { return Vec::new() };
        let library = self.library();
        let made = COPIES.into_iter().filter_map(|(edge, class)| {
            let bytes = library.thumbnail(photo, edge).ok().and_then(|_| library.thumbnail_kept(photo, edge))?;
            let row = CopyRow { photo: photo.bytes(), edge: edge.pixels(), blob: Sha256::digest(&bytes).into() };
            Some((row, class.code(), bytes.len() as u64))
        });
        made.collect()
    }

    /// Whether a blob that is said to be here is, whole and unaltered.
    fn is_sound(&mut self, id: &[u8; 32], bytes: u64) -> Result<bool, ExchangeError> {
        if let Some(content) = content(id)
            && let Ok(original) = self.library().open_original(content)
        {
            return Ok(original.bytes == bytes);
        }
        Ok(self.copy_bytes(id)?.is_some_and(|copy| copy.len() as u64 == bytes))
    }

    /// The bytes of a copy as they were when it was entered.
    fn copy_bytes(&self, id: &[u8; 32]) -> Result<Option<Vec<u8>>, ExchangeError> {
        for copy in self.store().copies_of(id)? {
            let kept =
                content(&copy.photo).zip(edge(&copy)).and_then(|(photo, e)| self.library().thumbnail_kept(photo, e));
            if let Some(bytes) = kept.filter(|bytes| <[u8; 32]>::from(Sha256::digest(bytes)) == *id) {
                return Ok(Some(bytes));
            }
        }
        Ok(None)
    }

    /// Says that a blob is here no longer: an original that somebody altered or removed, a copy that was made anew.
    fn lost(&mut self, id: &[u8; 32]) -> Result<(), ExchangeError> {
        for copy in self.store().copies_of(id)? {
            self.store_mut().copy_again(&copy)?;
        }
        Ok(self.store_mut().blob_is_here(id, false)?)
    }

    /// Bytes of a blob that is here.
    pub(super) fn blob_bytes(&self, id: &[u8; 32], span: Span) -> Result<Vec<u8>, ExchangeError> {
        let most = usize::try_from(span.most).unwrap_or(usize::MAX);
        let original = content(id).and_then(|content| self.library().original(content));
        let Some(path) = original else {
            let copy = self
                .copy_bytes(id)?
                .ok_or(SiteError::Library(LibraryError::Missing(content(id).unwrap_or_else(|| Content::of(id)))))?;
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

    /// Takes a blob that came whole into the library; `false` where it is not what its name says.
    pub(super) fn take_whole(&mut self, id: &[u8; 32], parts: &Parts) -> Result<bool, ExchangeError> {
        let failed = |why| SiteError::Library(LibraryError::File { path: parts.path(id), why });
        let library = ::photos::Library::open(self.home()).map_err(SiteError::Library)?;
        let is_original = self.store().blob(id)?.is_none_or(|blob| blob.class == Class::Original.code());
        let copies = self.store().copies_of(id)?;
        let taken = if is_original {
            let content = content(id).unwrap_or_else(|| Content::of(id));
            parts.open(id).map_err(failed)?.sync_all().map_err(failed)?;
            match library.adopt(content, &parts.path(id)) {
                Ok(_) => true,
                Err(LibraryError::Altered(_)) => false,
                Err(why) => return Err(SiteError::Library(why).into()),
            }
        } else {
            let mut bytes = Vec::new();
            parts.open(id).and_then(|file| file.take(MOST_COPY_BYTES).read_to_end(&mut bytes)).map_err(failed)?;
            let mut whole = <[u8; 32]>::from(Sha256::digest(&bytes)) == *id;
            for (photo, edge) in copies.iter().filter_map(|copy| content(&copy.photo).zip(edge(copy))) {
                whole = whole && library.receive_thumbnail(photo, edge, &bytes).map_err(SiteError::Library)?;
            }
            whole
        };
        parts.forget(id);
        if taken {
            self.store_mut().blob_is_here(id, true)?;
        }
        Ok(taken)
    }
}
