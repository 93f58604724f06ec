//! The photo library: import, EXIF, thumbnails, place against the rails, mark-up, copies for a client.
//!
//! Originals are kept byte for byte under the SHA-256 of their content; thumbnails are a cache beside them.

mod budget;
mod client;
mod content;
pub mod exif;
mod gather;
mod geojson;
mod import;
mod kind;
mod library;
mod log;
mod mark;
mod name;
mod picture;
pub mod place;
mod reason;
mod segments;

pub use budget::{MOST_FILE_BYTES, MOST_PICTURE_BYTES, bound};
pub use client::{Copy, Tell, for_client};
pub use content::Content;
pub use gather::{Found, MOST_DEEP, MOST_FILES, gather, within};
pub use geojson::map;
pub use import::{Go, Import, Line, Outcome, Taken, Unwatched, Watch};
pub use kind::Kind;
pub use library::{Drive, Edge, Library, LibraryError, Original, System, Writing};
pub use log::photo_log;
pub use mark::{draw, marked};
pub use name::{Shown, clean, shown};
pub use picture::{Picture, Size};
pub use reason::Reason;
