//! A copy for a client: the picture, upright and with its time, and nothing about place, camera or person unless asked.

mod fields;
mod png;
mod webp;

use crate::budget::Budget;
use crate::exif::{self, Assume};
use crate::kind::Kind;
use crate::library::LibraryError;
use crate::picture::{self, Colour, NoPicture, Packing};
use crate::segments::{self, Ending, SOS, is_aside};

/// What a copy tells besides the picture and its time. Nothing of it unless asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tell {
    /// Where it was taken and which way the camera pointed.
    pub position: bool,
    /// The camera with its serial number.
    pub camera: bool,
    /// Who owns the camera, who took the picture and whose it is.
    pub owner: bool,
}

/// A copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Copy {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// What it is.
    pub kind: Kind,
}

/// A copy of a photo for a client. Pixels of JPEG, PNG and WebP are passed on as they are; a TIFF, whose fields and
/// pixels are interwoven, becomes a JPEG, and so does a HEIC.
///
/// # Errors
/// The file is no picture, or a HEIC where this build does not unpack it.
pub fn for_client(bytes: &[u8], tell: Tell) -> Result<Copy, LibraryError> {
    let none = |why: &str| LibraryError::NoPreview(why.to_owned());
    let kind = Kind::of(bytes).ok_or_else(|| none("this is no picture"))?;
    let block = fields::kept(kind, bytes, tell);
    let bytes = match kind {
        Kind::Jpeg => jpeg(bytes, block.as_deref()).ok_or_else(|| none("the picture's data is damaged")),
        Kind::Png => png::png(bytes, block.as_deref()).ok_or_else(|| none("the picture's data is damaged")),
        Kind::WebP => webp::webp(bytes, block.as_deref()).ok_or_else(|| none("the picture's data is damaged")),
        Kind::Tiff => return encoded(kind, bytes),
        Kind::Heic if kind.is_unpacked() => return encoded(kind, bytes),
        Kind::Heic => Err(none("this build can make no copy of a HEIC without its details; send a JPEG of it instead")),
    }?;
    Ok(Copy { bytes, kind })
}

/// How pictures are packed anew at full resolution.
pub(crate) const FULL: Packing = Packing { quality: 92, colour: Colour::Halved };

fn encoded(kind: Kind, bytes: &[u8]) -> Result<Copy, LibraryError> {
    let orientation = exif::read(kind, bytes, Assume::default()).orientation;
    let picture = picture::upright(kind, bytes, orientation, None, &Budget::new()).map_err(|why| match why {
        NoPicture::Refused(reason) => LibraryError::NoPreview(reason.to_string()),
        NoPicture::NoPreview(why) => LibraryError::NoPreview(why),
    })?;
    let bytes = picture::jpeg(&picture, FULL).map_err(LibraryError::NoPreview)?;
    Ok(Copy { bytes, kind: Kind::Jpeg })
}

/// The segments that the picture needs, one block of fields, the scans up to the end marker: maker's notes, small
/// pictures, comments and what is appended stay behind.
fn jpeg(bytes: &[u8], block: Option<&[u8]>) -> Option<Vec<u8>> {
    let header = segments::header(bytes);
    let first_scan = header.last().filter(|s| s.marker == SOS)?;
    let mut copy = vec![0xff, 0xd8];
    if let Some(block) = block {
        let length = u16::try_from(block.len() + 8).ok()?;
        copy.extend_from_slice(&[0xff, 0xe1]);
        copy.extend_from_slice(&length.to_be_bytes());
        copy.extend_from_slice(b"Exif\0\0");
        copy.extend_from_slice(block);
    }
    for segment in &header {
        let body = &bytes[segment.body.clone()];
        // Colours depend on these two.
        let colours = (segment.marker == 0xe2 && body.starts_with(b"ICC_PROFILE\0"))
            || (segment.marker == 0xee && body.starts_with(b"Adobe"));
        if !is_aside(segment.marker) || colours {
            copy.extend_from_slice(&bytes[segment.whole.clone()]);
        }
    }
    let (parts, ending) = segments::scans(bytes, first_scan.whole.end);
    for part in parts {
        copy.extend_from_slice(&bytes[part]);
    }
    if ending == Ending::CutShort {
        copy.extend_from_slice(&[0xff, 0xd9]);
    }
    Some(copy)
}
