//! What a round tells while it goes on, and in the end.

use std::collections::BTreeMap;

use crate::DeviceId;

/// Something that was set aside: it is never applied, and nothing else suffers from it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Aside {
    /// Its path within the folder, as it stands there.
    pub path: String,
    /// What is the matter with it.
    pub why: String,
}

/// How far a round has come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    /// Items of a device were taken in.
    Took {
        /// Whose feed.
        device: DeviceId,
        /// How many, those that were here already included.
        items: u64,
    },
    /// Items of this device are in the folder.
    Gave(u64),
    /// Blocks of a blob were carried into the folder or out of it.
    Carried {
        /// The blob.
        id: [u8; 32],
        /// Bytes of it done.
        done: u64,
        /// Its size in bytes.
        bytes: u64,
    },
    /// Something was set aside.
    SetAside(Aside),
}

/// What a round did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    /// Items that were taken in, by whose feed they stood in.
    pub took: BTreeMap<DeviceId, u64>,
    /// Items of this device that were put into the folder.
    pub gave: u64,
    /// Blobs that were put into the folder.
    pub blobs_gave: u64,
    /// Blobs that came whole.
    pub blobs_took: u64,
    /// What was set aside.
    pub aside: Vec<Aside>,
    /// Devices that nobody let in, whose heads wait.
    pub strangers: Vec<DeviceId>,
    /// Whether this device still waits to be let in.
    pub waits: bool,
    /// Whether this device was removed from the team.
    pub removed: bool,
    /// Whether the log of members has changed.
    pub team_changed: bool,
    /// Files that were written again because they were missing or damaged.
    pub mended: u64,
    /// Objects that could not be read yet.
    pub lacking: u64,
}
