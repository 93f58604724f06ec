//! The photos of stored sites: adding files, finding where they belong, mark-up, copies, lists. The library of originals
//! and thumbnails lies beside the database in the home folder.

mod add;
mod change;
mod clock;
mod copies;
mod facts;
mod find;
mod link;
mod list;
mod place;
mod say;

use ::photos::Library;

use crate::sites::Sites;

pub use ::photos::exif::Offset;
pub use ::photos::{Go, Tell, Unwatched, Watch};
pub use add::Adding;
pub use clock::{Batch, seconds};
pub use copies::Drawn;
pub(crate) use copies::{Asked, client_copies, geojson, marked_copy};
pub use place::{Chainage, Place, chainage};

impl Sites {
    /// The photos of this home folder.
    pub(crate) fn library(&self) -> Library {
        Library::at(self.home())
    }
}
