//! What leaves the library: copies with their mark-up drawn on them, copies for a client, the log and the map.

use std::path::Path;

use ::photos::{Content, Go, Library, Tell, Watch, for_client, map, marked, photo_log};
use survey::{Photo, Survey};

use super::find;
use super::list::content;
use crate::outputs::write_file;
use crate::sites::{SiteError, Sites};
use crate::wire::photos::{PhotoCopies, PhotoCopy};

/// Whether mark-up is drawn on copies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn {
    /// It is, and the copy carries no detail at all.
    Marks,
    /// It is not.
    Nothing,
}

impl Sites {
    /// A JPEG of a photo at full resolution with its mark-up drawn on it, and no word about place, camera or person.
    ///
    /// # Errors
    /// There is no such site or photo, its original is not here, or no picture can be made of it.
    pub fn render_photo(&mut self, asked: &str, photo: &str) -> Result<Vec<u8>, SiteError> {
        marked_copy(&self.survey(asked, None)?, &self.library(), photo)
    }

    /// Writes copies for a client into a folder, which is made where it is missing, under names that say nothing. A photo
    /// of which there can be no copy is named with the reason, and the others are written. What was written before `watch`
    /// stops it stays.
    ///
    /// # Errors
    /// There is no such site or photo, or the folder cannot be written.
    pub fn client_copies(
        &mut self,
        asked_site: &str,
        photos: &[String],
        tell: Tell,
        drawn: Drawn,
        into: &Path,
        watch: &dyn Watch,
    ) -> Result<PhotoCopies, SiteError> {
        self.outside(into)?;
        let asked = Asked { photos, tell, drawn, into };
        client_copies(&self.survey(asked_site, None)?, &self.library(), asked, watch)
    }

    /// The photo log of a site as CSV (RFC 4180).
    ///
    /// # Errors
    /// There is no such site, or it cannot be read.
    pub fn photo_log(&mut self, asked: &str) -> Result<String, SiteError> {
        Ok(photo_log(&self.survey(asked, None)?))
    }

    /// Rails, mains points and photo positions of a site as GeoJSON (RFC 7946).
    ///
    /// # Errors
    /// There is no such site, or it cannot be read.
    pub fn geojson(&mut self, asked: &str) -> Result<String, SiteError> {
        Ok(geojson(&self.survey(asked, None)?))
    }
}

/// Copies that are asked for.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    /// The photos; every one where none is named.
    pub photos: &'a [String],
    /// What they tell.
    pub tell: Tell,
    /// What is drawn on them.
    pub drawn: Drawn,
    /// The folder.
    pub into: &'a Path,
}

/// As [`Sites::render_photo`], without the store.
pub(crate) fn marked_copy(survey: &Survey, library: &Library, photo: &str) -> Result<Vec<u8>, SiteError> {
    let photo = find::photo(survey, photo)?;
    Ok(marked(&library.read(original(photo)?)?, &photo.marks)?)
}

/// As [`Sites::geojson`], without the store.
pub(crate) fn geojson(survey: &Survey) -> String {
    map(survey) + "\n"
}

/// As [`Sites::client_copies`], without the store.
pub(crate) fn client_copies(
    survey: &Survey,
    library: &Library,
    asked: Asked<'_>,
    watch: &dyn Watch,
) -> Result<PhotoCopies, SiteError> {
    let Asked { photos, tell, drawn, into } = asked;
    std::fs::create_dir_all(into).map_err(|why| SiteError::File {
        path: into.to_owned(),
        why: format!("cannot be made: {why}"),
        accepted: "a folder that can be written to",
    })?;
    let mut copies = Vec::new();
    let photos = find::photos(survey, photos)?;
    let (mut go, mut stopped) = (Go::On, false);
    for (n, photo) in photos.iter().enumerate() {
        if go == Go::Stop {
            let reason = Some(format!("{}: stopped before it", photo.file));
            copies.push(PhotoCopy { photo: photo.id.to_string(), copy: None, reason });
            stopped = true;
            continue;
        }
        let copy = original(photo).and_then(|content| Ok(library.read(content)?)).and_then(|bytes| match drawn {
            Drawn::Marks => Ok((marked(&bytes, &photo.marks)?, "jpg")),
            Drawn::Nothing => Ok(for_client(&bytes, tell).map(|copy| (copy.bytes, copy.kind.extension()))?),
        });
        let mut line = PhotoCopy { photo: photo.id.to_string(), copy: None, reason: None };
        match copy {
            Ok((bytes, ending)) => {
                // The name that the camera or its owner gave stays here as well.
                let path = into.join(format!("photo-{:03}.{ending}", n + 1));
                write_file(&path, &bytes)?;
                line.copy = Some(path.to_string_lossy().into_owned());
            }
            Err(why) => line.reason = Some(format!("{}: {why}", photo.file)),
        }
        copies.push(line);
        go = watch.step(n + 1, photos.len(), &photo.file);
    }
    Ok(PhotoCopies { schema_version: 1, id: survey.site.id.to_string(), stopped, copies })
}

fn original(photo: &Photo) -> Result<Content, SiteError> {
    content(photo).ok_or_else(|| SiteError::OnlyNamed(photo.file.clone()))
}
