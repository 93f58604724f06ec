//! What the camera wrote: time, position, direction, orientation, camera, focal length (CIPA DC-008, EXIF 2.32 and 3.0).

mod camera;
mod position;
mod time;
mod value;

use ::exif::{Exif, Reader};

use crate::kind::Kind;
use crate::segments;

pub use camera::{Camera, Orientation};
pub use position::{Heading, North, Position};
pub use time::{Clock, Offset, OffsetSource, Taken};

/// What the camera wrote, as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facts {
    /// When it was taken.
    pub taken: Option<Taken>,
    /// Where it was taken.
    pub position: Option<Position>,
    /// Which way the camera pointed.
    pub heading: Option<Heading>,
    /// How the picture must be turned to stand upright.
    pub orientation: Orientation,
    /// The camera.
    pub camera: Option<Camera>,
    /// Focal length, millimetres.
    pub focal_length_mm: Option<f64>,
    /// Focal length that gives the same angle on film 36 mm wide, millimetres.
    pub focal_length_35mm: Option<f64>,
    /// What could not be read and what was assumed, in sentences.
    pub notes: Vec<String>,
}

/// What is taken for granted where the camera is silent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Assume {
    /// Offset of local time from UTC where neither camera nor satellites tell it.
    pub offset: Option<Offset>,
}

/// Reads what the camera wrote. Never fails: what cannot be read is a note.
#[must_use]
pub fn read(kind: Kind, bytes: &[u8], assume: Assume) -> Facts {
    let mut facts = Facts::default();
    let Some(exif) = block(kind, bytes, &mut facts.notes) else {
        return facts;
    };
    let notes = &mut facts.notes;
    facts.orientation = camera::orientation(&exif, notes);
    facts.camera = camera::camera(&exif);
    facts.focal_length_mm = camera::focal_length(&exif);
    facts.focal_length_35mm = camera::focal_length_35mm(&exif);
    facts.position = position::position(&exif, notes);
    facts.heading = position::heading(&exif, notes);
    facts.taken = time::taken(&exif, assume, notes);
    facts
}

/// The block of fields, as far as it is whole.
pub(crate) fn block(kind: Kind, bytes: &[u8], notes: &mut Vec<String>) -> Option<Exif> {
    let mut reader = Reader::new();
    reader.continue_on_error(true);
    let read = if kind == Kind::Jpeg {
        let (block, cut) = segments::exif(bytes)?;
        if cut {
            notes.push("the camera's details (EXIF) are cut short; what is there was read".to_owned());
        }
        reader.read_raw(block.to_vec())
    } else {
        reader.read_from_container(&mut std::io::Cursor::new(bytes))
    };
    let mut faults = 0;
    let read = read.or_else(|error| error.distill_partial_result(|errors| faults = errors.len()));
    match read {
        Ok(exif) => {
            if faults > 0 {
                notes.push(format!("{faults} of the camera's details (EXIF) could not be read"));
            }
            Some(exif)
        }
        Err(::exif::Error::NotFound(_)) => None,
        Err(error) => {
            notes.push(format!("the camera's details (EXIF) could not be read: {error}"));
            None
        }
    }
}
