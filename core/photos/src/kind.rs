//! What a file is, told by its first bytes and never by its name.

use std::path::Path;

/// Kinds of pictures that are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// TIFF.
    Tiff,
    /// WebP.
    WebP,
    /// HEIF with HEVC inside, as phones write it.
    Heic,
}

impl Kind {
    /// By the first bytes; `None` where they open no picture of a kind that is read.
    ///
    /// # Source
    /// ITU-T T.81 B.1.1.3; PNG (third edition) 5.2; TIFF 6.0 section 2; RFC 9649 section 2.3; ISO/IEC 14496-12 4.3 and
    /// 23008-12 (brands; from memory).
    #[must_use]
    pub fn of(bytes: &[u8]) -> Option<Self> {
        match bytes {
            [0xff, 0xd8, 0xff, ..] => Some(Self::Jpeg),
            [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => Some(Self::Png),
            [b'I', b'I', 42, 0, ..] | [b'M', b'M', 0, 42, ..] => Some(Self::Tiff),
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some(Self::WebP),
            [_, _, _, _, b'f', b't', b'y', b'p', brand @ ..] => {
                let brand = brand.first_chunk::<4>()?;
                [b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1"].contains(&brand).then_some(Self::Heic)
            }
            _ => None,
        }
    }

    /// Whether this build makes pictures of it: of HEIC only with the feature `heic`.
    #[must_use]
    pub const fn is_unpacked(self) -> bool {
        crate::picture::is_unpacked(self)
    }

    /// By the ending under which an original is kept.
    #[must_use]
    pub fn of_extension(ending: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.extension() == ending)
    }

    /// All of them.
    pub const ALL: [Self; 5] = [Self::Jpeg, Self::Heic, Self::Png, Self::Tiff, Self::WebP];

    /// The ending under which the original is kept.
    #[must_use]
    pub const fn extension(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
            Self::Tiff => "tif",
            Self::WebP => "webp",
            Self::Heic => "heic",
        }
    }

    /// Its name for people.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Tiff => "TIFF",
            Self::WebP => "WebP",
            Self::Heic => "HEIC",
        }
    }

    /// Whether a file's ending agrees with what it holds.
    #[must_use]
    pub fn fits(self, name: &Path) -> bool {
        let ending = name.extension().map(|e| e.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
        match self {
            Self::Jpeg => ["jpg", "jpeg", "jpe", "jfif"].contains(&ending.as_str()),
            Self::Png => ending == "png",
            Self::Tiff => ["tif", "tiff"].contains(&ending.as_str()),
            Self::WebP => ending == "webp",
            Self::Heic => ["heic", "heif", "hif"].contains(&ending.as_str()),
        }
    }
}
