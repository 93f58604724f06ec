//! From a file's bytes to upright pictures in sRGB.

mod colour;
mod decode;
mod encode;
#[cfg(feature = "heic")]
mod heic;
mod resize;
mod upright;

use crate::budget::Budget;
use crate::exif::Orientation;
use crate::kind::Kind;
use crate::reason::Reason;

pub(crate) use decode::Stored;
pub(crate) use encode::{Colour, Packing, jpeg};

/// Width and height, pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Size {
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

impl Size {
    /// The size with its long edge at most `edge`, never enlarged.
    #[must_use]
    pub fn within(self, edge: u32) -> Self {
        let long = self.width.max(self.height);
        if long <= edge {
            return self;
        }
        let scaled = |side: u32| {
            let side = (u64::from(side) * u64::from(edge) * 2 + u64::from(long)) / (u64::from(long) * 2);
            u32::try_from(side).unwrap_or(edge).max(1)
        };
        Self { width: scaled(self.width), height: scaled(self.height) }
    }

    /// Width and height changed over.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

/// A picture of three bytes (red, green, blue) for each pixel, row by row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Its size.
    pub size: Size,
    /// Its bytes.
    pub rgb: Vec<u8>,
}

/// Why there is no preview.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NoPicture {
    /// The file is none that can be used at all.
    Refused(Reason),
    /// The file is kept; a sentence says why it cannot be shown.
    NoPreview(String),
}

/// The size that a file states, as stored (not turned); refuses what is no picture.
///
/// # Errors
/// The file is no picture, or claims what it cannot hold.
pub(crate) fn stated(kind: Kind, bytes: &[u8]) -> Result<Stored, NoPicture> {
    decode::stated(kind, bytes)
}

/// An upright picture in sRGB with its long edge at most `edge` (`None`: full resolution).
///
/// # Errors
/// The file is no picture, claims what it cannot hold, or cannot be shown.
pub(crate) fn upright(
    kind: Kind,
    bytes: &[u8],
    orientation: Orientation,
    edge: Option<u32>,
    budget: &Budget,
) -> Result<Picture, NoPicture> {
    let stored = stated(kind, bytes)?;
    // The picture, the rows that are scaled in one direction, and what the decoder itself needs.
    let Some(_part) = budget.take(stored.memory) else {
        return Err(NoPicture::NoPreview(format!(
            "no preview can be made: {} x {} pixels need more memory than Newel takes; the file is kept as it is",
            stored.size.width, stored.size.height
        )));
    };
    let (picture, profile) = decode::decode(kind, bytes)?;
    let orientation = turn(kind, orientation);
    let picture = match edge {
        Some(edge) => resize::resize(picture, stored.size.within(edge)),
        None => picture,
    };
    let picture = colour::to_srgb(picture, profile.as_deref());
    Ok(upright::upright(picture, orientation))
}

/// How an unpacked picture is still to be turned. A HEIC says so beside its EXIF and is unpacked upright; its EXIF value
/// is for readers of the details alone (ISO/IEC 23008-12, annex A; from memory).
pub(crate) fn turn(kind: Kind, orientation: Orientation) -> Orientation {
    if kind == Kind::Heic { Orientation::default() } else { orientation }
}

/// Whether this build unpacks pictures of a kind.
pub(crate) const fn is_unpacked(kind: Kind) -> bool {
    !matches!(kind, Kind::Heic) || cfg!(feature = "heic")
}

/// The same picture with its long edge at most `edge`.
pub(crate) fn smaller(picture: &Picture, edge: u32) -> Picture {
    resize::resize(picture.clone(), picture.size.within(edge))
}
