//! Photographs, and mark-up kept as data over the untouched original.

use crate::wire::mirror::{Mirror, kinds, record};
use crate::wire::scalar::{Deg, Id, Latitude, Longitude, Mm, MmSigned, Moment, Sha256};
use crate::wire::shape;

record!(
    /// One photograph.
    Photo = survey::Photo {
        /// Its id, unique among photographs.
        id: Id = id,
        /// File name as taken, relative to the survey file.
        file: String = file,
        /// SHA-256 of the file's bytes; absent while the survey merely names it.
        #[serde(default)]
        content_sha256: Option<Sha256> = content,
        /// What it shows.
        shows: Shows = shows,
        /// When it was taken, as written by the camera.
        #[serde(default)]
        taken: Option<Moment> = taken,
        /// Where it was taken.
        #[serde(default)]
        position: Option<PhotoPosition> = position,
        /// Which way the camera pointed, degrees clockwise from true north.
        #[serde(default)]
        heading_deg: Option<Deg> = heading,
        /// The camera.
        #[serde(default)]
        camera: Option<String> = camera,
        /// Notes.
        #[serde(default)]
        note: String = note,
        /// Mark-up over the untouched original.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        marks: Vec<Mark> = marks,
    }
);

kinds!(
    /// What a photograph shows.
    #[schemars(transform = shape::bare_word)]
    Shows = survey::Shows {
        /// A rail.
        Rail {
            /// The rail.
            rail: Id = rail,
            /// The chainage, where known.
            #[serde(default)]
            chainage_mm: Option<Mm> = chainage,
        },
        /// A mains point.
        MainsPoint {
            /// Its id.
            id: Id = 0,
        },
        /// A route.
        Route {
            /// Its id.
            id: Id = 0,
        },
        /// A defect, in words.
        Defect {
            /// The words.
            words: String = 0,
        },
        /// The site in general.
        General {},
    }
);

record!(
    /// Where a photograph was taken.
    PhotoPosition = survey::PhotoPosition {
        /// Latitude, degrees north.
        latitude_deg: Latitude = latitude,
        /// Longitude, degrees east.
        longitude_deg: Longitude = longitude,
        /// Altitude.
        #[serde(default)]
        altitude_mm: Option<MmSigned> = altitude,
        /// Stated accuracy.
        #[serde(default)]
        accuracy_mm: Option<Mm> = accuracy,
    }
);

/// A place in a picture: thousandths of its width and height from the upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
pub struct Spot {
    /// Thousandths of the width.
    #[schemars(range(max = 1000))]
    pub x_permille: u16,
    /// Thousandths of the height.
    #[schemars(range(max = 1000))]
    pub y_permille: u16,
}

impl Mirror for Spot {
    type Plain = (u16, u16);
    fn from_plain(plain: &Self::Plain) -> Self {
        Self { x_permille: plain.0, y_permille: plain.1 }
    }
    fn into_plain(self) -> Self::Plain {
        (self.x_permille, self.y_permille)
    }
}

kinds!(
    /// Mark-up.
    Mark = survey::Mark {
        /// An arrow.
        Arrow {
            /// Tail.
            from: Spot = from,
            /// Head.
            to: Spot = to,
        },
        /// A line with a dimension.
        Dimension {
            /// One end.
            from: Spot = from,
            /// Other end.
            to: Spot = to,
            /// What it measures.
            length_mm: Mm = length,
        },
        /// A box.
        Frame {
            /// A corner.
            from: Spot = from,
            /// The opposite corner.
            to: Spot = to,
        },
        /// Words.
        Words {
            /// Where they stand.
            at: Spot = at,
            /// The words.
            text: String = text,
        },
    }
);
