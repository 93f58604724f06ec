//! What crosses about photos beside what the command line prints too.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

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
