//! The camera, how it was held and how it saw.

use ::exif::{Exif, Tag};

use super::value::{real, text, whole};

/// Which camera, as it names itself.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Camera {
    /// Its maker.
    pub make: Option<String>,
    /// Its model.
    pub model: Option<String>,
}

impl Camera {
    /// Maker and model in one, the maker once.
    #[must_use]
    pub fn text(&self) -> String {
        match (&self.make, &self.model) {
            (Some(make), Some(model)) if !model.to_lowercase().starts_with(&make.to_lowercase()) => {
                format!("{make} {model}")
            }
            (_, Some(name)) | (Some(name), None) => name.clone(),
            (None, None) => String::new(),
        }
    }
}

/// How a stored picture must be turned to stand upright: the value of the EXIF field, 1 to 8.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Orientation(u8);

impl Default for Orientation {
    fn default() -> Self {
        Self(1)
    }
}

impl Orientation {
    /// By its EXIF value; `None` outside 1 to 8.
    #[must_use]
    pub const fn new(value: u8) -> Option<Self> {
        if value >= 1 && value <= 8 { Some(Self(value)) } else { None }
    }

    /// The EXIF value, 1 to 8.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }

    /// Whether width and height change places.
    #[must_use]
    pub const fn lies_on_its_side(self) -> bool {
        self.0 >= 5
    }
}

pub(super) fn orientation(exif: &Exif, notes: &mut Vec<String>) -> Orientation {
    let Some(value) = whole(exif, Tag::Orientation) else {
        return Orientation::default();
    };
    u8::try_from(value).ok().and_then(Orientation::new).unwrap_or_else(|| {
        notes.push(format!("the orientation {value} means nothing (1 to 8 do); the picture is shown as stored"));
        Orientation::default()
    })
}

pub(super) fn camera(exif: &Exif) -> Option<Camera> {
    let camera = Camera { make: text(exif, Tag::Make), model: text(exif, Tag::Model) };
    (camera.make.is_some() || camera.model.is_some()).then_some(camera)
}

pub(super) fn focal_length(exif: &Exif) -> Option<f64> {
    real(exif, Tag::FocalLength).filter(|mm| *mm > 0.0)
}

pub(super) fn focal_length_35mm(exif: &Exif) -> Option<f64> {
    // EXIF gives zero the meaning "unknown".
    real(exif, Tag::FocalLengthIn35mmFilm).filter(|mm| *mm > 0.0)
}
