//! Photographs: where they belong, when and where they were taken, and mark-up kept as data.

use units::{Degrees, Length};

use crate::Id;

/// One photograph. The original file is never altered.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Photo {
    /// Its id.
    pub id: Id,
    /// File name as taken, relative to the survey file.
    pub file: String,
    /// SHA-256 of the file's bytes, 64 hexadecimal digits in lower case: which picture it is, whatever its name. Absent
    /// while the survey merely names it.
    pub content: Option<String>,
    /// What it shows.
    pub shows: Shows,
    /// When it was taken, as written by the camera (ISO 8601, with offset where the camera wrote one).
    pub taken: Option<String>,
    /// Where it was taken.
    pub position: Option<PhotoPosition>,
    /// Which way the camera pointed, degrees clockwise from true north.
    pub heading: Option<Degrees>,
    /// The camera.
    pub camera: Option<String>,
    /// Notes.
    pub note: String,
    /// Mark-up over the untouched original.
    pub marks: Vec<Mark>,
}

/// What a photograph shows.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Shows {
    /// A rail at a chainage.
    Rail {
        /// The rail.
        rail: Id,
        /// The chainage, where known.
        chainage: Option<Length>,
    },
    /// A mains point.
    MainsPoint(Id),
    /// A route.
    Route(Id),
    /// A defect, in words.
    Defect(String),
    /// The site in general.
    General,
}

/// Where a photograph was taken.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PhotoPosition {
    /// Latitude, degrees north.
    pub latitude: Degrees,
    /// Longitude, degrees east.
    pub longitude: Degrees,
    /// Altitude.
    pub altitude: Option<Length>,
    /// Stated accuracy.
    pub accuracy: Option<Length>,
}

/// Mark-up; coordinates are thousandths of the picture's width and height from its upper left corner.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Mark {
    /// An arrow.
    Arrow {
        /// Tail.
        from: (u16, u16),
        /// Head.
        to: (u16, u16),
    },
    /// A line with a dimension.
    Dimension {
        /// One end.
        from: (u16, u16),
        /// Other end.
        to: (u16, u16),
        /// What it measures.
        length: Length,
    },
    /// A box.
    Frame {
        /// A corner.
        from: (u16, u16),
        /// The opposite corner.
        to: (u16, u16),
    },
    /// Words.
    Words {
        /// Where they stand.
        at: (u16, u16),
        /// The words.
        text: String,
    },
}
