//! The shared folder as `newel exchange … --json` prints it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use super::place::{ExchangePlace, Password, PlaceForm};

/// A document for programs: text keys, figures with their unit, derived schema.
macro_rules! document {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)? }) => {
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
        $(#[$meta])*
        pub struct $name {
            $($(#[$field_meta])* pub $field: $kind),*
        }
    };
}

/// A word out of a few.
macro_rules! word {
    ($(#[$meta:meta])* $name:ident { $($(#[$variant_meta:meta])* $variant:ident),* $(,)? }) => {
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
        #[serde(rename_all = "snake_case")]
        $(#[$meta])*
        pub enum $name {
            $($(#[$variant_meta])* $variant),*
        }
    };
}

word!(
    /// How this device stands to a team.
    ExchangeState {
        /// It shares with nobody.
        Alone,
        /// It asks to be let in.
        Waiting,
        /// It is in the team.
        Member,
        /// It was removed from the team.
        Removed,
    }
);

word!(
    /// Where the key of this device and the password of its place lie.
    KeysIn {
        /// In files of the store's folder that only their owner may read.
        File,
        /// In the keyring of the computer.
        Keyring,
    }
);

document!(
    /// How things stand with the shared folder.
    ExchangeStatus {
        /// Version of this shape: 1.
        schema_version: u32,
        /// How this device stands to the team.
        state: ExchangeState,
        /// This device, by its public key.
        device: String,
        /// Who works on it.
        person: String,
        /// What it is called.
        device_name: String,
        /// Where its key and the password of its place lie.
        keys: KeysIn,
        /// Where the team's files lie.
        address: Option<String>,
        /// The settings of that place, without what is secret.
        place: Option<ExchangePlace>,
        /// The team, by the SHA-256 of the first entry of its log.
        team: Option<String>,
        /// Whether its files are sealed, so that nobody outside the team can read them.
        sealed: Option<bool>,
        /// The devices of the team.
        members: Vec<MemberLine>,
        /// The devices that were removed from it.
        removed: Vec<RemovedLine>,
        /// The devices that ask to be let in.
        asking: Vec<AskingLine>,
        /// Changes that are here and do not count.
        waiting: Vec<WaitingLine>,
        /// What others gave that this release cannot use; it is kept and passed on.
        kept_aside: Vec<KeptAsideLine>,
        /// Changes, and what belongs to them, that are not in the folder yet.
        #[ts(type = "number")]
        unshared_items: u64,
        /// Photo files, smaller copies included, that are not in the folder yet.
        #[ts(type = "number")]
        unshared_photo_files: u64,
        /// How many bytes these have.
        #[ts(type = "number")]
        unshared_photo_bytes: u64,
        /// The sites that are kept here with the originals of their photos.
        kept_sites: Vec<String>,
        /// Whether every site is kept so.
        keeps_every_site: bool,
        /// When a round last came to its end, in UTC (RFC 3339).
        last_round: Option<String>,
        /// Since when none has, in UTC (RFC 3339).
        failing_since: Option<String>,
        /// Why, and what to do about it with the command.
        failure: Option<String>,
        /// The same for whoever sits at the window.
        failure_in_window: Option<String>,
        /// What there is to say of the team's clocks.
        clock: Option<String>,
    }
);

document!(
    /// A device of the team.
    MemberLine {
        /// Its public key.
        id: String,
        /// Who works on it, by its own word; nothing where this device has no key to read it.
        person: Option<String>,
        /// What it is called.
        device: Option<String>,
        /// Whether it is this device.
        this: bool,
        /// When it last wrote into the folder, by its own clock, in UTC (RFC 3339).
        last_shared: Option<String>,
    }
);

document!(
    /// A device that was removed.
    RemovedLine {
        /// Its public key.
        id: String,
        /// Who worked on it.
        person: Option<String>,
        /// What it is called.
        device: Option<String>,
    }
);

document!(
    /// A device that asks to be let in.
    AskingLine {
        /// Its public key.
        id: String,
        /// Who works on it, by its own word; nothing where it asks without an invitation of this team.
        person: Option<String>,
        /// What it is called.
        device: Option<String>,
        /// The device whose invitation it has.
        invited_by: Option<String>,
        /// The device that came with the same invitation before.
        used_by: Option<String>,
    }
);

word!(
    /// For what a change waits.
    WaitsFor {
        /// For somebody to let a device in: it is that device's, or builds on one of it.
        UnknownDevice,
        /// For nothing: it came, or builds on what came, after its device was removed.
        RemovedDevice,
        /// For another change on which it builds.
        MissingChange,
        /// It is damaged.
        Damaged,
    }
);

document!(
    /// Changes that are here and do not count.
    WaitingLine {
        /// For what they wait.
        waits_for: WaitsFor,
        /// The device.
        device: Option<String>,
        /// Who works on it, by its own word.
        person: Option<String>,
        /// What it is called.
        device_name: Option<String>,
        /// How many changes.
        #[ts(type = "number")]
        changes: u64,
        /// In which sites.
        sites: Vec<SiteWaits>,
    }
);

document!(
    /// How many changes of one site wait.
    SiteWaits {
        /// The site's id; `team` is the firm's own document.
        id: String,
        /// How many.
        #[ts(type = "number")]
        changes: u64,
    }
);

document!(
    /// What others gave that this release cannot use.
    KeptAsideLine {
        /// Why.
        why: String,
        /// How many items.
        #[ts(type = "number")]
        items: u64,
    }
);

document!(
    /// An invitation. The code lets one device ask; it is for one person's eyes.
    ExchangeInvitation {
        /// Version of this shape: 1.
        schema_version: u32,
        /// The code.
        code: String,
        /// Where the team's files lie, as this device names it.
        address: String,
    }
);

document!(
    /// What a round did.
    ExchangeRound {
        /// Version of this shape: 1.
        schema_version: u32,
        /// How this device stands to the team.
        state: ExchangeState,
        /// Whether it was stopped before its end.
        stopped: bool,
        /// Changes, and what belongs to them, that came.
        #[ts(type = "number")]
        took: u64,
        /// Those that were given.
        #[ts(type = "number")]
        gave: u64,
        /// Photo files, smaller copies included, that came whole.
        #[ts(type = "number")]
        photo_files_took: u64,
        /// Those that were put into the folder.
        #[ts(type = "number")]
        photo_files_gave: u64,
        /// Bytes of photos that were carried, either way.
        #[ts(type = "number")]
        photo_bytes: u64,
        /// What was set aside in the folder.
        set_aside: Vec<AsideLine>,
        /// Devices outside the team that write into the folder.
        strangers: Vec<String>,
        /// How many devices ask to be let in.
        asking: u32,
        /// Changes that are here and do not count.
        waiting: Vec<WaitingLine>,
        /// Files that were written again because they were missing or damaged.
        #[ts(type = "number")]
        mended: u64,
        /// Files that could not be read yet.
        #[ts(type = "number")]
        lacking: u64,
        /// What there is to say of the team's clocks.
        clock: Option<String>,
    }
);

document!(
    /// A file in the folder that was set aside: it is never used, and nothing else suffers from it.
    AsideLine {
        /// Its path within the folder.
        path: String,
        /// What is the matter with it.
        why: String,
    }
);
