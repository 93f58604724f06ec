//! The photos on disk: originals under the name of their content, thumbnails beside them.
//!
//! ```text
//! photos/originals/ba/ba7816bf….jpg       byte for byte as they came; written under another name, synced, renamed
//! photos/thumbnails/ba/ba7816bf…-320.jpg  a cache; what is missing or damaged is made again
//! ```

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use crate::budget::Budget;
use crate::content::Content;
use crate::exif::{self, Assume, Orientation};
use crate::kind::Kind;
use crate::picture::{self, Colour, NoPicture, Packing, Picture};

mod drive;
mod proof;
mod stream;

pub use drive::{Drive, System, Writing};
pub use stream::Original;

/// Sizes of thumbnails by their long edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// 320 pixels, for lists.
    Small,
    /// 1,600 pixels, for looking at.
    Large,
}

impl Edge {
    /// Pixels of the long edge.
    #[must_use]
    pub const fn pixels(self) -> u32 {
        match self {
            Self::Small => 320,
            Self::Large => 1600,
        }
    }

    /// A small picture has all its colour in few pixels, so none of it is thinned out.
    const fn packing(self) -> Packing {
        match self {
            Self::Small => Packing { quality: 90, colour: Colour::Whole },
            Self::Large => Packing { quality: 82, colour: Colour::Halved },
        }
    }
}

/// Why the library could not do it.
#[derive(Debug, thiserror::Error)]
pub enum LibraryError {
    /// A file or folder of the library cannot be read or written.
    #[error("{} cannot be used: {why}", path.display())]
    File {
        /// The path.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// There is no such original here.
    #[error("the photo {0} is not on this device; fetch it from the shared folder")]
    Missing(Content),
    /// An original is not what its name says.
    #[error("the photo {0} was altered on the disk; put it back from a backup")]
    Altered(Content),
    /// No picture can be made of it.
    #[error("{0}")]
    NoPreview(String),
}

/// The photos of one store.
#[derive(Debug)]
pub struct Library {
    originals: PathBuf,
    thumbnails: PathBuf,
    drive: Arc<dyn Drive>,
}

/// Numbers the files that this process writes, whichever library they belong to.
static NEXT: AtomicU64 = AtomicU64::new(0);

/// How names of files begin that are being written.
const UNFINISHED: &str = ".unfinished-";

impl Library {
    /// The library in a store's folder, for reading only: nothing is made where it is absent.
    #[must_use]
    pub fn at(home: &Path) -> Self {
        Self::on(home, Arc::new(System))
    }

    fn on(home: &Path, drive: Arc<dyn Drive>) -> Self {
        let photos = home.join("photos");
        Self { originals: photos.join("originals"), thumbnails: photos.join("thumbnails"), drive }
    }

    /// Opens the library in a store's folder, made where it is absent.
    ///
    /// # Errors
    /// The folder cannot be written.
    pub fn open(home: &Path) -> Result<Self, LibraryError> {
        Self::open_on(home, Arc::new(System))
    }

    /// As [`Library::open`], writing by a drive of the caller's.
    ///
    /// # Errors
    /// The folder cannot be written.
    pub fn open_on(home: &Path, drive: Arc<dyn Drive>) -> Result<Self, LibraryError> {
        let library = Self::on(home, drive);
        let failed = |path: &Path| {
            let path = path.to_owned();
            |why| LibraryError::File { path, why }
        };
        for folder in [&library.originals, &library.thumbnails] {
            library.drive.make_folder(folder).map_err(failed(folder))?;
        }
        // An earlier opening may have been killed between making a folder and keeping its name.
        for folder in [&home.join("photos"), home] {
            library.drive.sync_folder(folder).map_err(failed(folder))?;
        }
        Ok(library)
    }

    /// Removes an original with its thumbnails; one that is not here is no fault.
    ///
    /// # Errors
    /// It is here and cannot be removed.
    pub fn remove(&self, content: Content) -> Result<(), LibraryError> {
        for edge in [Edge::Small, Edge::Large] {
            // A thumbnail that stays is of no use and does no harm.
            let _ = self.drive.remove(&self.thumbnail_place(content, edge));
        }
        match self.original(content) {
            Some(path) => self.drive.remove(&path).map_err(|why| LibraryError::File { path, why }),
            None => Ok(()),
        }
    }

    /// Clears away what a crash left half written. For the one process that writes to the store, before it imports.
    ///
    /// # Errors
    /// The folder cannot be written.
    pub fn sweep(&self) -> Result<(), LibraryError> {
        for folder in [&self.originals, &self.thumbnails] {
            let failed = |why| LibraryError::File { path: folder.clone(), why };
            for entry in fs::read_dir(folder).map_err(failed)? {
                let entry = entry.map_err(failed)?;
                if entry.file_name().to_string_lossy().starts_with(UNFINISHED) {
                    self.drive.remove(&entry.path()).map_err(failed)?;
                }
            }
        }
        Ok(())
    }

    /// Where an original stands, if it is here.
    #[must_use]
    pub fn original(&self, content: Content) -> Option<PathBuf> {
        Kind::ALL.into_iter().map(|kind| self.place(content, kind)).find(|path| path.is_file())
    }

    /// Where a thumbnail stands, if it is there; [`Library::thumbnail`] also proves that it is whole, and makes it again.
    #[must_use]
    pub fn thumbnail_there(&self, content: Content, edge: Edge) -> Option<PathBuf> {
        let path = self.thumbnail_place(content, edge);
        fs::metadata(&path).is_ok_and(|at| at.len() > 0).then_some(path)
    }

    /// The bytes of an original, proved to be what they were.
    ///
    /// # Errors
    /// It is not here, cannot be read or was altered.
    pub fn read(&self, content: Content) -> Result<Vec<u8>, LibraryError> {
        let path = self.original(content).ok_or(LibraryError::Missing(content))?;
        let bytes = fs::read(&path).map_err(|why| LibraryError::File { path, why })?;
        if Content::of(&bytes) == content { Ok(bytes) } else { Err(LibraryError::Altered(content)) }
    }

    /// The contents of all originals, in order.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub fn contents(&self) -> Result<Vec<Content>, LibraryError> {
        let mut all = Vec::new();
        let failed = |path: &Path, why| LibraryError::File { path: path.to_owned(), why };
        for shelf in fs::read_dir(&self.originals).map_err(|why| failed(&self.originals, why))? {
            let shelf = shelf.map_err(|why| failed(&self.originals, why))?.path();
            if !shelf.is_dir() {
                continue;
            }
            for file in fs::read_dir(&shelf).map_err(|why| failed(&shelf, why))? {
                let path = file.map_err(|why| failed(&shelf, why))?.path();
                all.extend(path.file_stem().and_then(|stem| Content::parse(&stem.to_string_lossy())));
            }
        }
        all.sort_unstable();
        all.dedup();
        Ok(all)
    }

    /// A thumbnail, upright and in sRGB; made again where it is missing or damaged.
    ///
    /// # Errors
    /// The original is not here, or no picture can be made of it.
    pub fn thumbnail(&self, content: Content, edge: Edge) -> Result<PathBuf, LibraryError> {
        let path = self.thumbnail_place(content, edge);
        if whole(&path) {
            return Ok(path);
        }
        let bytes = self.read(content)?;
        let kind = Kind::of(&bytes).ok_or(LibraryError::Altered(content))?;
        let orientation = exif::read(kind, &bytes, Assume::default()).orientation;
        match self.make_thumbnails(content, kind, &bytes, orientation, &Budget::new()) {
            Ok(()) => Ok(path),
            Err(Thumbnails::Picture(NoPicture::NoPreview(why))) => Err(LibraryError::NoPreview(why)),
            Err(Thumbnails::Picture(NoPicture::Refused(reason))) => Err(LibraryError::NoPreview(reason.to_string())),
            Err(Thumbnails::Disk(error)) => Err(error),
        }
    }

    /// The bytes of a thumbnail that is there and whole.
    #[must_use]
    pub fn thumbnail_kept(&self, content: Content, edge: Edge) -> Option<Vec<u8>> {
        let path = self.thumbnail_place(content, edge);
        whole(&path).then(|| fs::read(path).ok()).flatten()
    }

    /// Keeps a thumbnail that another device made; `false` where it is none, cut short or altered.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn receive_thumbnail(&self, content: Content, edge: Edge, bytes: &[u8]) -> Result<bool, LibraryError> {
        if !proof::is_whole(bytes) {
            return Ok(false);
        }
        self.write(&self.thumbnails, &self.thumbnail_place(content, edge), bytes, Durable::No)?;
        Ok(true)
    }

    /// The bytes of a thumbnail, as [`Library::thumbnail`] keeps it; where it cannot be kept it is made for this once.
    ///
    /// # Errors
    /// As [`Library::thumbnail`].
    pub fn thumbnail_bytes(&self, content: Content, edge: Edge) -> Result<Vec<u8>, LibraryError> {
        let unkept = match self.thumbnail(content, edge) {
            Ok(path) => return fs::read(&path).map_err(|why| LibraryError::File { path, why }),
            Err(error @ LibraryError::File { .. }) => error,
            Err(other) => return Err(other),
        };
        let bytes = self.read(content)?;
        let kind = Kind::of(&bytes).ok_or(LibraryError::Altered(content))?;
        let orientation = exif::read(kind, &bytes, Assume::default()).orientation;
        picture::upright(kind, &bytes, orientation, Some(edge.pixels()), &Budget::new())
            .ok()
            .and_then(|picture| picture::jpeg(&picture, edge.packing()).ok())
            .map(proof::proved)
            .ok_or(unkept)
    }

    /// Keeps an original. Once this returns, a power cut may at most lose the name, never leave half the bytes under it;
    /// [`Library::settle`] then keeps the name too.
    pub(crate) fn keep(&self, content: Content, kind: Kind, bytes: &[u8]) -> Result<(), LibraryError> {
        let path = self.place(content, kind);
        // An earlier copy stands only if it is whole: a damaged one is replaced.
        if fs::metadata(&path).is_ok_and(|at| at.len() == bytes.len() as u64)
            && fs::read(&path).is_ok_and(|there| there == bytes)
        {
            return Ok(());
        }
        self.write(&self.originals, &path, bytes, Durable::Yes)
    }

    /// Keeps an original that came from elsewhere, durably, after proving that it is what its name says.
    ///
    /// # Errors
    /// It is something else, or the disk refuses.
    pub fn receive(&self, content: Content, bytes: &[u8]) -> Result<(), LibraryError> {
        let kind = Kind::of(bytes).filter(|_| Content::of(bytes) == content).ok_or(LibraryError::Altered(content))?;
        self.keep(content, kind, bytes)?;
        self.settle(std::iter::once(content))
    }

    /// Makes the names of kept originals durable.
    ///
    /// # Errors
    /// The disk refuses.
    pub fn settle(&self, contents: impl Iterator<Item = Content>) -> Result<(), LibraryError> {
        let mut shelves: Vec<PathBuf> = contents.map(|content| shelf(&self.originals, content)).collect();
        shelves.sort_unstable();
        shelves.dedup();
        shelves.push(self.originals.clone());
        for path in shelves {
            self.drive.sync_folder(&path).map_err(|why| LibraryError::File { path, why })?;
        }
        Ok(())
    }

    /// Whether both thumbnails are there.
    pub(crate) fn has_thumbnails(&self, content: Content) -> bool {
        [Edge::Small, Edge::Large].into_iter().all(|edge| whole(&self.thumbnail_place(content, edge)))
    }

    pub(crate) fn make_thumbnails(
        &self,
        content: Content,
        kind: Kind,
        bytes: &[u8],
        orientation: Orientation,
        budget: &Budget,
    ) -> Result<(), Thumbnails> {
        let large = picture::upright(kind, bytes, orientation, Some(Edge::Large.pixels()), budget)
            .map_err(Thumbnails::Picture)?;
        let small = picture::smaller(&large, Edge::Small.pixels());
        for (edge, picture) in [(Edge::Large, &large), (Edge::Small, &small)] {
            self.write_thumbnail(content, edge, picture)?;
        }
        Ok(())
    }

    fn write_thumbnail(&self, content: Content, edge: Edge, picture: &Picture) -> Result<(), Thumbnails> {
        let file = picture::jpeg(picture, edge.packing())
            .map_err(|why| Thumbnails::Picture(NoPicture::NoPreview(format!("no preview can be made: {why}"))))?;
        let path = self.thumbnail_place(content, edge);
        self.write(&self.thumbnails, &path, &proof::proved(file), Durable::No).map_err(Thumbnails::Disk)
    }

    /// Writes under another name and renames, so that a name never stands over half a file.
    fn write(&self, folder: &Path, path: &Path, bytes: &[u8], durable: Durable) -> Result<(), LibraryError> {
        let unfinished = Self::unfinished(folder);
        let written = (|| {
            if let Some(shelf) = path.parent() {
                self.drive.make_folder(shelf)?;
            }
            let mut file = self.drive.create(&unfinished)?;
            file.write_all(bytes)?;
            if durable == Durable::Yes {
                file.sync()?;
            }
            drop(file);
            self.drive.rename(&unfinished, path)
        })();
        written.map_err(|why| {
            // What cannot be removed now is cleared away at the next opening.
            let _ = self.drive.remove(&unfinished);
            LibraryError::File { path: path.to_owned(), why }
        })
    }

    /// The name of a file that is being written.
    fn unfinished(folder: &Path) -> PathBuf {
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        folder.join(format!("{UNFINISHED}{}-{number}", std::process::id()))
    }

    fn place(&self, content: Content, kind: Kind) -> PathBuf {
        shelf(&self.originals, content).join(format!("{content}.{}", kind.extension()))
    }

    fn thumbnail_place(&self, content: Content, edge: Edge) -> PathBuf {
        shelf(&self.thumbnails, content).join(format!("{content}-{}.jpg", edge.pixels()))
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Durable {
    Yes,
    No,
}

/// Why thumbnails were not made.
pub(crate) enum Thumbnails {
    /// The picture.
    Picture(NoPicture),
    /// The disk.
    Disk(LibraryError),
}

fn shelf(folder: &Path, content: Content) -> PathBuf {
    folder.join(&content.to_string()[..2])
}

/// Whether a thumbnail is what was written; it is not synced, so a power cut may have left any of it.
fn whole(path: &Path) -> bool {
    fs::read(path).is_ok_and(|bytes| proof::is_whole(&bytes))
}
