//! Mark-up rendered onto a copy, at full resolution; the original stays as it is.

mod pen;
mod words;

use survey::Mark;

use crate::budget::Budget;
use crate::client::FULL;
use crate::exif::{self, Assume};
use crate::kind::Kind;
use crate::library::LibraryError;
use crate::picture::{self, NoPicture, Picture};
use pen::Pen;

/// A JPEG of a photo, upright, with its marks drawn on it, and without a word about camera, place or person.
///
/// # Errors
/// No picture can be made of the file.
pub fn marked(bytes: &[u8], marks: &[Mark]) -> Result<Vec<u8>, LibraryError> {
    let none = |why: String| LibraryError::NoPreview(why);
    let kind = Kind::of(bytes).ok_or_else(|| none("this is no picture".to_owned()))?;
    let orientation = exif::read(kind, bytes, Assume::default()).orientation;
    let mut picture = picture::upright(kind, bytes, orientation, None, &Budget::new()).map_err(|why| match why {
        NoPicture::Refused(reason) => none(reason.to_string()),
        NoPicture::NoPreview(why) => none(why),
    })?;
    draw(&mut picture, marks);
    picture::jpeg(&picture, FULL).map_err(none)
}

/// Draws marks onto an upright picture; lines and words grow with it.
pub fn draw(picture: &mut Picture, marks: &[Mark]) {
    let mut pen = Pen::of(picture);
    for mark in marks {
        match mark {
            Mark::Arrow { from, to } => pen.arrow(*from, *to),
            Mark::Dimension { from, to, length } => {
                pen.dimension(*from, *to);
                let middle = (from.0.midpoint(to.0), from.1.midpoint(to.1));
                pen.words(middle, &length.to_string(), words::Anchor::Middle);
            }
            Mark::Frame { from, to } => pen.frame(*from, *to),
            Mark::Words { at, text } => pen.words(*at, text, words::Anchor::Start),
        }
    }
}
