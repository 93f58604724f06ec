//! What the photo index keeps of a file beside its row: what the survey has no place for, and what was assumed.

use ::photos::Taken;
use ::photos::exif::{self, OffsetSource as Source};
use serde::{Deserialize, Serialize};

use crate::wire::photos::{North, OffsetSource, PhotoHeading};

/// As JSON in the index; what another release left out or added is no fault.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Facts {
    /// Width of the upright picture.
    pub width_px: Option<u32>,
    /// Its height.
    pub height_px: Option<u32>,
    /// When it was taken, by the camera's own clock.
    pub taken: Option<String>,
    /// Where the offset of that time comes from.
    pub offset_source: Option<OffsetSource>,
    /// How far that clock was ahead of the satellites'.
    pub ahead_of_satellites_s: Option<i64>,
    /// Which way the camera pointed, from whichever north.
    pub heading: Option<PhotoHeading>,
    /// Focal length.
    pub focal_length_mm: Option<f64>,
    /// The same on film 36 mm wide.
    pub focal_length_35mm_mm: Option<f64>,
    /// Remarks on the file.
    pub remarks: Vec<String>,
}

impl Facts {
    /// Of a photo that was taken in.
    pub fn of(taken: &Taken) -> Self {
        let facts = &taken.facts;
        let time = facts.taken.as_ref();
        Self {
            width_px: taken.size.map(|size| size.width),
            height_px: taken.size.map(|size| size.height),
            taken: time.map(exif::Taken::text),
            offset_source: time.map(|time| source(time.offset_source)),
            ahead_of_satellites_s: time.and_then(|time| time.ahead_of_satellites_s),
            heading: facts.heading.map(heading),
            focal_length_mm: facts.focal_length_mm,
            focal_length_35mm_mm: facts.focal_length_35mm,
            remarks: taken.notes.clone(),
        }
    }

    /// From the index; nothing where it cannot be read.
    pub fn read(json: &str) -> Self {
        serde_json::from_str(json).unwrap_or_default()
    }

    /// For the index.
    pub fn written(&self) -> String {
        // Texts and finite numbers, which cannot fail.
        serde_json::to_string(self).unwrap_or_default()
    }
}

fn source(source: Source) -> OffsetSource {
    match source {
        Source::Camera => OffsetSource::Camera,
        Source::Satellites => OffsetSource::Satellites,
        Source::Assumed => OffsetSource::Assumed,
        Source::Unknown => OffsetSource::Unknown,
    }
}

fn heading(heading: exif::Heading) -> PhotoHeading {
    let north = match heading.north {
        exif::North::True => North::True,
        exif::North::Magnetic => North::Magnetic,
        exif::North::NotStated => North::NotStated,
    };
    PhotoHeading { degrees: heading.degrees, north }
}
