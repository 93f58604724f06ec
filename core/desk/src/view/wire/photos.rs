//! What crosses about photos beside what the command line prints too.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::wire::photos::{ClockDrift, OffsetSource, PhotoHeading, PhotoNearest, PhotoState, PhotoWay, PhotosAway};

/// What is known of a site's photos beside its survey, which the page has already: of thousands of photos every word counts.
#[derive(Clone, Debug, Serialize, TS)]
pub struct PhotosPage {
    /// The site's id.
    pub id: String,
    /// Their files, in the survey's order.
    pub files: Vec<PhotoFile>,
    /// Photos taken far from the site, in clusters, the nearest first.
    pub away: Vec<PhotosAway>,
    /// Cameras whose clock seems wrong.
    pub clocks: Vec<ClockDrift>,
}

/// The file of a photo.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct PhotoFile {
    /// The photo's id.
    pub id: String,
    /// Where the picture is.
    pub state: PhotoState,
    /// What the file is: JPEG, PNG, TIFF, WebP or HEIC.
    pub file_kind: Option<String>,
    /// Size of the file.
    #[ts(type = "number | null")]
    pub bytes: Option<u64>,
    /// Width of the upright picture.
    pub width_px: Option<u32>,
    /// Height of the upright picture.
    pub height_px: Option<u32>,
    /// Whether a picture of it can be shown on this device, as far as is known before it is made.
    pub has_picture: bool,
    /// Where the offset of the camera's time from UTC comes from.
    pub offset_source: Option<OffsetSource>,
    /// Which way the camera pointed, from whichever north.
    pub heading: Option<PhotoHeading>,
    /// Focal length.
    pub focal_length_mm: Option<f64>,
    /// Focal length that gives the same angle on film 36 mm wide.
    pub focal_length_35mm_mm: Option<f64>,
    /// From the site's origin to where it was taken.
    pub from_site: Option<PhotoWay>,
    /// The rail next to it, and where on the rail.
    pub nearest: Option<PhotoNearest>,
    /// What could not be read in the file and what was assumed, in sentences.
    pub remarks: Vec<String>,
}

/// How far an import has come: the event `photo-progress`; or the writing of copies: `copies-progress`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct AddProgress {
    /// Files that were worked on.
    pub done: u32,
    /// All of them; 0 until they are known.
    pub all: u32,
    /// The file that was worked on last.
    pub name: String,
    /// So many of them lie in the site by now.
    pub kept: u32,
}

/// What copies for a client tell; whatever is not named here is left out.
#[derive(Clone, Copy, Debug, Deserialize, TS)]
pub struct CopiesTell {
    /// Where they were taken and which way the camera pointed.
    pub position: bool,
    /// The camera with its serial number.
    pub camera: bool,
    /// Who owns the camera and took the picture.
    pub owner: bool,
}
