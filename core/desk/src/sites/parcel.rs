//! A site in one self-contained file with its history and its photos, for e-mail or a stick.

use std::io::{BufReader, BufWriter, Read, Seek, Write};
use std::path::Path;

use photos::Content;
use record::store::PhotoRow;

use super::{SiteError, Sites};
use crate::hex::hex;
use crate::outputs::write_file_with;
use crate::wire::sites::{DeviceLine, PhotoAside, SiteArrival, SiteSent};

/// How such a file begins; a survey file begins otherwise.
pub const PARCEL_START: &[u8] = b"Newel site";

impl Sites {
    /// Writes a site with its whole history and the originals of its photos as one file. The file appears whole or not
    /// at all.
    ///
    /// # Errors
    /// There is no such site, the database fails, or the file cannot be written.
    pub fn send_file(&mut self, asked: &str, path: &Path) -> Result<SiteSent, SiteError> {
        self.outside(path)?;
        let mut sent = None;
        write_file_with(path, |file| {
            let mut out = BufWriter::new(file);
            sent = Some(self.send(asked, &mut out)?);
            out.flush().map_err(|why| SiteError::Store(record::store::StoreError::Outside(why)))
        })?;
        sent.ok_or_else(|| SiteError::NoId(asked.to_owned()))
    }

    /// Writes a site with its whole history and the originals of its photos. Photos that are removed from the site stay
    /// here, and so does what is not on this device or was altered on the disk; the latter are named.
    ///
    /// # Errors
    /// As [`Self::send_file`].
    pub fn send(&mut self, asked: &str, out: &mut dyn Write) -> Result<SiteSent, SiteError> {
        let document = self.document(asked)?;
        // A site that this release cannot read travels as well, without its photos.
        let photos = self.store_mut().site(&document)?.reading().survey.map(|survey| survey.photos).unwrap_or_default();
        let library = self.library();
        let (mut rows, mut left_out) = (Vec::<PhotoRow>::new(), Vec::new());
        for photo in photos {
            let Some(content) = photo.content.as_deref().and_then(Content::parse) else { continue };
            let name = content.to_string();
            if rows.iter().any(|row| row.file == name) {
                continue;
            }
            match library.open_original(content) {
                Ok(original) => rows.push(PhotoRow {
                    bytes: i64::try_from(original.bytes).unwrap_or(i64::MAX),
                    ..self.row_of(&name, &photo.file, original.kind.word())?
                }),
                Err(why) => left_out.push(PhotoAside { file: photo.file, why: why.to_string() }),
            }
        }
        self.store_mut().export_to(out, &document, &rows, &mut |row| {
            let original = Content::parse(&row.file).and_then(|content| library.original(content));
            let path = original.ok_or(std::io::ErrorKind::NotFound)?;
            Ok(Box::new(BufReader::new(std::fs::File::open(path)?)) as Box<dyn Read>)
        })?;
        let photos = u32::try_from(rows.len()).unwrap_or(u32::MAX);
        Ok(SiteSent { schema_version: 1, id: document, photos, photos_left_out: left_out })
    }

    /// The row of a content in the photo index; a bare one where the index was lost.
    fn row_of(&mut self, content: &str, name: &str, kind: &str) -> Result<PhotoRow, SiteError> {
        let row = self.store_mut().photo(content)?;
        Ok(row.unwrap_or_else(|| PhotoRow {
            file: content.to_owned(),
            name: name.to_owned(),
            kind: kind.to_owned(),
            bytes: 0,
            added_ms: 0,
            facts: "{}".to_owned(),
        }))
    }

    /// Takes in a file made by [`Self::send`]; what an unknown device wrote waits, named, and so does a photo that was
    /// damaged on the way.
    ///
    /// # Errors
    /// The file is of another kind, or its history is cut short or altered; then nothing is taken in.
    pub fn receive<R: Read + Seek>(&mut self, file: &mut R) -> Result<SiteArrival, SiteError> {
        let home = self.home().to_owned();
        let mut library = None;
        let arrival = self.store_mut().import_from(file, &mut |row, bytes| {
            let content = Content::parse(&row.file).ok_or("its name is no SHA-256")?;
            // The folder is made when the first photo comes.
            let library = match &mut library {
                Some(library) => library,
                none => none.insert(photos::Library::open(&home).map_err(|why| why.to_string())?),
            };
            if library.open_original(content).is_ok() {
                return Ok(());
            }
            library.receive_from(content, bytes).map(|_| ()).map_err(|why| match why {
                photos::LibraryError::Altered(_) => {
                    "it was damaged or cut short on the way; ask for it again".to_owned()
                }
                why => why.to_string(),
            })
        })?;
        let unknown = arrival.unknown.into_iter().map(|row| DeviceLine {
            id: hex(&row.device.0),
            device: row.name,
            person: row.person,
            known: row.known,
            this: false,
        });
        let aside = arrival.photos_aside.into_iter().map(|(file, why)| PhotoAside { file, why });
        Ok(SiteArrival {
            schema_version: 1,
            sites: arrival.documents,
            new_changes: u32::try_from(arrival.fresh).unwrap_or(u32::MAX),
            unknown_devices: unknown.collect(),
            photos: u32::try_from(arrival.photos).unwrap_or(u32::MAX),
            photos_set_aside: aside.collect(),
        })
    }
}
