//! Photos of a site as `newel photo … --json` prints them and as the window lists them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::survey::{Mark, PhotoPosition, Shows};

/// A document for programs: text keys, figures with their unit, derived schema.
macro_rules! document {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)? }) => {
        #[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
        $(#[$meta])*
        pub struct $name {
            $($(#[$field_meta])* pub $field: $kind),*
        }
    };
}

/// A word out of a few.
macro_rules! word {
    ($(#[$meta:meta])* $name:ident { $($(#[$variant_meta:meta])* $variant:ident),* $(,)? }) => {
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
        #[serde(rename_all = "snake_case")]
        $(#[$meta])*
        pub enum $name {
            $($(#[$variant_meta])* $variant),*
        }
    };
}

document!(
    /// The photos of a site, in the survey's order.
    PhotoList {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// The photos.
        photos: Vec<PhotoLine>,
        /// Photos taken far from the site, in clusters, the nearest first.
        away: Vec<PhotosAway>,
        /// Cameras whose clock seems wrong.
        clocks: Vec<ClockDrift>,
    }
);

document!(
    /// One photo of a site, with its mark-up.
    PhotoShown {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// The photo.
        photo: PhotoLine,
        /// Mark-up over the untouched original.
        marks: Vec<Mark>,
        /// Where the original lies on this device.
        original: Option<String>,
    }
);

word!(
    /// Where the picture of a photo is.
    PhotoState {
        /// Its original is on this device.
        Here,
        /// Its content is known, but the original is not on this device.
        Missing,
        /// The survey merely names it; nobody has added the file yet.
        Named,
    }
);

document!(
    /// A photo in the list.
    PhotoLine {
        /// Its id.
        id: String,
        /// The name of its file.
        file: String,
        /// SHA-256 of the file's bytes.
        content_sha256: Option<String>,
        /// Where the picture is.
        state: PhotoState,
        /// What the file is: JPEG, PNG, TIFF, WebP or HEIC.
        file_kind: Option<String>,
        /// Size of the file.
        #[ts(type = "number | null")]
        bytes: Option<u64>,
        /// Width of the upright picture.
        width_px: Option<u32>,
        /// Height of the upright picture.
        height_px: Option<u32>,
        /// Whether a picture of it can be shown on this device, as far as is known before it is made.
        has_picture: bool,
        /// The thumbnail of 320 pixels on this device, where there is one.
        thumbnail_320: Option<String>,
        /// The thumbnail of 1,600 pixels on this device, where there is one.
        thumbnail_1600: Option<String>,
        /// When it was taken (ISO 8601).
        taken: Option<String>,
        /// Where the offset of the camera's time from UTC comes from.
        offset_source: Option<OffsetSource>,
        /// Where it was taken.
        position: Option<PhotoPosition>,
        /// Which way the camera pointed.
        heading: Option<PhotoHeading>,
        /// The camera.
        camera: Option<String>,
        /// Focal length.
        focal_length_mm: Option<f64>,
        /// Focal length that gives the same angle on film 36 mm wide.
        focal_length_35mm_mm: Option<f64>,
        /// What it shows.
        shows: Shows,
        /// What it shows, in words.
        shows_text: String,
        /// Notes.
        note: String,
        /// How many marks are drawn over it.
        marks: u32,
        /// From the site's origin to where it was taken.
        from_site: Option<PhotoWay>,
        /// The rail next to it, and where on the rail.
        nearest: Option<PhotoNearest>,
        /// What could not be read in the file and what was assumed, in sentences.
        remarks: Vec<String>,
    }
);

word!(
    /// Where the offset of a camera's time from UTC comes from.
    OffsetSource {
        /// The camera wrote it.
        Camera,
        /// It follows from the satellites' time, to a quarter of an hour.
        Satellites,
        /// It was assumed when the photo was added.
        Assumed,
        /// Nobody knows it: the time is local time of an unknown place.
        Unknown,
    }
);

document!(
    /// A direction.
    PhotoHeading {
        /// Degrees clockwise from north.
        degrees: f64,
        /// Which north.
        north: North,
    }
);

word!(
    /// What a direction is counted from.
    North {
        /// True north.
        True,
        /// Magnetic north, which differs by the declination of the place.
        Magnetic,
        /// The camera does not say.
        NotStated,
    }
);

document!(
    /// The shortest way on the ellipsoid (WGS 84).
    PhotoWay {
        /// Its length.
        distance_m: f64,
        /// The direction in which it sets off, degrees clockwise from true north.
        bearing_deg: f64,
    }
);

document!(
    /// A rail by which a photo was taken, as its position has it.
    PhotoNearest {
        /// The rail.
        rail: String,
        /// What people call it.
        label: String,
        /// The chainage nearest to the photo.
        chainage_mm: f64,
        /// The least chainage that is as near within the uncertainty.
        least_chainage_mm: f64,
        /// The greatest.
        greatest_chainage_mm: f64,
        /// From the photo to that chainage.
        way: PhotoWay,
        /// Radius within which photo and site agree.
        uncertainty_m: f64,
        /// Whether the receiver stated no accuracy, so that it is assumed.
        accuracy_assumed: bool,
        /// Whether no other rail is as near within the uncertainty and this one is within reach.
        certain: bool,
        /// All of it in a sentence.
        sentence: String,
    }
);

document!(
    /// Photos that were taken together, far from the site.
    PhotosAway {
        /// The photos.
        photos: Vec<String>,
        /// From the site to the nearest of them.
        distance_m: f64,
        /// Its direction from the site, degrees clockwise from true north.
        bearing_deg: f64,
        /// The question in a sentence.
        sentence: String,
    }
);

document!(
    /// A camera whose clock seems wrong.
    ClockDrift {
        /// The camera.
        camera: String,
        /// Its photos.
        photos: Vec<String>,
        /// How far its clock is ahead, negative where it is behind.
        #[ts(type = "number")]
        ahead_s: i64,
        /// Against what.
        against: ClockAgainst,
        /// The question in a sentence.
        sentence: String,
    }
);

word!(
    /// What a camera's clock is compared with.
    ClockAgainst {
        /// The day of the survey.
        SurveyDay,
        /// The satellites' time.
        Satellites,
    }
);

document!(
    /// What became of files that were added to a site.
    PhotoImport {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// Whether it was stopped before the last file; what was added stays.
        stopped: bool,
        /// Photos that are new to the site.
        added: u32,
        /// Photos that the survey named and that have their file now.
        linked: u32,
        /// Photos of the site whose original was not on this device and is now.
        restored: u32,
        /// Files with the same bytes as another photo of the site.
        duplicates: u32,
        /// Files that were not taken in.
        refused: u32,
        /// Files that were not looked at, since it was stopped before.
        not_reached: u32,
        /// Every file, in order.
        files: Vec<ImportedFile>,
    }
);

document!(
    /// A file and what became of it.
    ImportedFile {
        /// Its path.
        path: String,
        /// What became of it.
        outcome: ImportOutcome,
        /// The photo that it is.
        photo: Option<String>,
        /// Why it was not taken in, or of which file it is a duplicate.
        reason: Option<String>,
        /// Everything else that a person should know about it, in sentences.
        remarks: Vec<String>,
    }
);

word!(
    /// What became of a file.
    ImportOutcome {
        /// It is a new photo of the site.
        Added,
        /// It is the file of a photo that the survey named.
        Linked,
        /// It is the original of a photo of the site, which was not on this device.
        Restored,
        /// The site has a photo with the same bytes.
        Duplicate,
        /// It was not taken in.
        Refused,
        /// It was not looked at.
        NotReached,
    }
);

document!(
    /// Copies for a client.
    PhotoCopies {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The site's id.
        id: String,
        /// Whether it was stopped before the last; what was written before stays.
        stopped: bool,
        /// Every photo that was asked for.
        copies: Vec<PhotoCopy>,
    }
);

document!(
    /// A copy, or why there is none.
    PhotoCopy {
        /// The photo.
        photo: String,
        /// The copy's path.
        copy: Option<String>,
        /// Why there is none.
        reason: Option<String>,
    }
);

document!(
    /// Mark-up as `newel photo mark` reads it.
    PhotoMarks {
        /// The marks, drawn in this order.
        #[schemars(length(max = 1000))]
        marks: Vec<Mark>,
    }
);
