//! Photos of the open site: listing and adding them, putting clocks right, and what is written for others. What a photo
//! shows, its note and its marks are edits like all others.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use ::photos::{Library, photo_log};

use super::running::{Running, stop};
use super::site::{looked_at, may_change, open};
use super::{Desk, Window};
use crate::edit::OpenSite;
use crate::outputs::write_file;
use crate::photos::{Asked, Drawn, Go, Offset, Tell, Watch, client_copies, geojson, marked_copy};
use crate::planned::Planned;
use crate::sites::{SiteError, Sites};
use crate::view::wire::{AddProgress, CopiesTell, Opened, PhotosPage, Refusal};
use crate::wire::photos::{PhotoCopies, PhotoImport};

impl Window {
    /// Every photo of the open site as it is shown, those taken elsewhere, and clocks that seem wrong.
    ///
    /// # Errors
    /// No site is open, or the store fails.
    pub fn photos(&self) -> Result<PhotosPage, Refusal> {
        let shelf = self.with_store(|desk, sites| Ok(sites.shelf_of(looked_at(desk)?.survey.clone())?))?;
        // Thousands of files are looked for without the store, so that an edit does not wait for them.
        Ok(shelf.page())
    }

    /// Takes files, and all that is in folders, into the open site; `tell` hears how far it is. Between batches others use
    /// the store, and may open another site meanwhile. `offset` is assumed where neither a camera nor the satellites say how
    /// local time stands to UTC.
    ///
    /// # Errors
    /// No site is open, it may not be changed, photos are being added already, the offset is none, or the store fails; then
    /// what was added before stays.
    pub fn add_photos(
        &self,
        paths: &[PathBuf],
        offset: Option<&str>,
        tell: impl Fn(AddProgress) + Sync,
    ) -> Result<PhotoImport, Refusal> {
        let accepted = "accepted: an offset from UTC such as +02:00, -03:30 or Z";
        let offset = offset.map(|text| Offset::parse(text).ok_or_else(|| Refusal::of(format!("{text:?}; {accepted}"))));
        let offset = offset.transpose()?;
        let running =
            Running::begin(&self.adding, "photos are being added already; wait until that is done, or stop it")?;
        let (site, mut adding) = self.with_store(|desk, sites| {
            may_change(desk)?;
            let site = open(desk)?.id().to_owned();
            let adding = sites.adding(&site, paths, offset)?;
            Ok((site, adding))
        })?;
        // From here on it can be stopped, though looking through the folders may take a while.
        tell(AddProgress { done: 0, all: 0, name: String::new(), kept: 0 });
        let told = Told { tell: &tell, stop: &running.stop, kept: AtomicU32::new(0) };
        while adding.work(&told) {
            self.with_store(|desk, sites| {
                let kept = adding.keep(sites);
                reopen(desk, sites, &site)?;
                Ok(kept?)
            })?;
            self.show_open();
            let (done, all) = adding.reached();
            told.keeps(done, all);
        }
        Ok(adding.done())
    }

    /// Stops adding photos after the files in hand; what was added stays. Where none are being added nothing happens.
    pub fn cancel_photos(&self) {
        stop(&self.adding);
    }

    /// Stops writing copies after the photo in hand; what was written stays. Where none are being written nothing happens.
    pub fn cancel_copies(&self) {
        stop(&self.copying);
    }

    /// Takes what a clock was ahead away from the times of photos, seconds; negative where it was behind.
    ///
    /// # Errors
    /// There is no such photo, none of them has a time, or the site may not be changed.
    pub fn shift_clock(&self, photos: &[String], seconds: i64) -> Result<Opened, Refusal> {
        some(photos)?;
        self.change(|open, sites| open.correct_clock(sites, photos, seconds))
    }

    /// Writes a JPEG of a photo with its marks drawn on it, and says so.
    ///
    /// # Errors
    /// There is no such photo, no picture can be made of it, or the file cannot be written or lies among the sites.
    pub fn render_marked(&self, photo: &str, path: &str) -> Result<String, Refusal> {
        let (site, library) = self.to_write(path)?;
        let bytes = marked_copy(&site.survey, &library, photo)?;
        write(path, &bytes)?;
        Ok(format!("The marked copy is in {path}."))
    }

    /// Writes copies for a client into a folder; `hear` is told how far it is. With `marks` drawn on them they tell nothing
    /// else.
    ///
    /// # Errors
    /// There is no such photo, copies are being written already, or the folder cannot be written or lies among the sites.
    pub fn export_client(
        &self,
        photos: &[String],
        tell: CopiesTell,
        marks: bool,
        folder: &str,
        hear: impl Fn(AddProgress) + Sync,
    ) -> Result<PhotoCopies, Refusal> {
        some(photos)?;
        let running =
            Running::begin(&self.copying, "copies are being written already; wait until that is done, or stop it")?;
        let (site, library) = self.to_write(folder)?;
        let CopiesTell { position, camera, owner } = tell;
        let drawn = if marks { Drawn::Marks } else { Drawn::Nothing };
        let tell = Tell { position, camera, owner };
        let asked = Asked { photos, tell, drawn, into: Path::new(folder) };
        let told = Told { tell: &hear, stop: &running.stop, kept: AtomicU32::new(0) };
        Ok(client_copies(&site.survey, &library, asked, &told)?)
    }

    /// Writes the photo log as CSV, and says so.
    ///
    /// # Errors
    /// The file cannot be written or lies among the sites.
    pub fn export_photo_log(&self, path: &str) -> Result<String, Refusal> {
        let (site, _) = self.to_write(path)?;
        write(path, photo_log(&site.survey).as_bytes())?;
        Ok(format!("The photo log is in {path}."))
    }

    /// Writes rails, mains points and photo positions as GeoJSON, and says so.
    ///
    /// # Errors
    /// The file cannot be written or lies among the sites.
    pub fn export_geojson(&self, path: &str) -> Result<String, Refusal> {
        let (site, _) = self.to_write(path)?;
        write(path, geojson(&site.survey).as_bytes())?;
        Ok(format!("Rails and photo positions are in {path}."))
    }

    /// The site as it is shown and its library, for something that is written to a place. The store is let go, since copies
    /// take their time.
    fn to_write(&self, place: &str) -> Result<(Arc<Planned>, Library), Refusal> {
        self.with_store(|desk, sites| {
            sites.outside(Path::new(place))?;
            Ok((looked_at(desk)?, sites.library()))
        })
    }
}

/// What was kept went past the open site, which must know of it before its next edit. Where it cannot be opened again it
/// stays closed.
fn reopen(desk: &mut Desk, sites: &mut Sites, site: &str) -> Result<(), SiteError> {
    if desk.open.as_ref().is_some_and(|open| open.id() == site) {
        desk.open = None;
        desk.open = Some(OpenSite::open(sites, site, sites.catalogue_to_plan_with()?)?);
    }
    Ok(())
}

fn write(path: &str, bytes: &[u8]) -> Result<(), SiteError> {
    Ok(write_file(Path::new(path), bytes)?)
}

/// The use cases below take no photo at all for every one.
fn some(photos: &[String]) -> Result<(), Refusal> {
    if photos.is_empty() { Err(Refusal::of("no photo is chosen; choose one first")) } else { Ok(()) }
}

/// Passes on how far it is, and whether the person has had enough.
struct Told<'a, F> {
    tell: &'a F,
    stop: &'a AtomicBool,
    /// So many files lie in the site.
    kept: AtomicU32,
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

impl<F: Fn(AddProgress) + Sync> Told<'_, F> {
    /// What was worked on lies in the site.
    fn keeps(&self, done: usize, all: usize) {
        self.kept.store(count(done), Ordering::Relaxed);
        (self.tell)(AddProgress { done: count(done), all: count(all), name: String::new(), kept: count(done) });
    }
}

impl<F: Fn(AddProgress) + Sync> Watch for Told<'_, F> {
    fn step(&self, done: usize, all: usize, name: &str) -> Go {
        let kept = self.kept.load(Ordering::Relaxed);
        (self.tell)(AddProgress { done: count(done), all: count(all), name: name.to_owned(), kept });
        if self.stop.load(Ordering::Relaxed) { Go::Stop } else { Go::On }
    }
}
