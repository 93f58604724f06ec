//! The shared folder as the window shows it.

use serde::Serialize;
use ts_rs::TS;

use crate::wire::exchange::{ExchangeRound, ExchangeState, ExchangeStatus};

/// The page of the shared folder, after what was asked for.
#[derive(Clone, Debug, Serialize, TS)]
pub struct SharedPage {
    /// What was done, in words.
    pub said: Option<String>,
    /// The team, what waits, and what is not shared yet.
    pub status: ExchangeStatus,
    /// Whether somebody has said who works on this device: a team knows it by that.
    pub named: bool,
    /// What the head of the window says.
    pub sign: SharedSign,
    /// What the last round of this window did; absent before the first.
    pub last: Option<ExchangeRound>,
    /// The sites that are not in the archive, in the order of the list.
    pub sites: Vec<SharedSite>,
    /// Why nothing can be changed, in words; absent where it can.
    pub read_only: Option<String>,
}

/// How it stands with sharing, in little: told whenever it changes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct SharedSign {
    /// How this device stands to a team.
    pub state: ExchangeState,
    /// How far the round on its way has come; absent while none is.
    pub sharing: Option<SharedProgress>,
    /// Changes, and what belongs to them, that are not in the folder yet.
    #[ts(type = "number")]
    pub unshared_items: u64,
    /// Photo files, smaller copies included, that are not in the folder yet.
    #[ts(type = "number")]
    pub unshared_photo_files: u64,
    /// When a round last came to its end, in UTC (RFC 3339).
    pub last_round: Option<String>,
    /// Since when none has, in UTC (RFC 3339).
    pub failing_since: Option<String>,
    /// Why, and what to do.
    pub failure: Option<String>,
    /// Whether that passes by itself.
    pub passing: bool,
    /// Whether a person has stopped the last round.
    pub stopped: bool,
    /// How many devices ask to be let in.
    pub asking: u32,
    /// Whether the store is open for reading only: then nothing is shared from here.
    pub read_only: bool,
    /// How many rounds of this window have brought something: where it grows, what is on the screen is out of date.
    pub arrivals: u32,
}

/// How far a round has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, TS)]
pub struct SharedProgress {
    /// Items that came: changes, and what belongs to them.
    #[ts(type = "number")]
    pub took: u64,
    /// Items that were given.
    #[ts(type = "number")]
    pub gave: u64,
    /// Bytes of photos that were carried, either way.
    #[ts(type = "number")]
    pub photo_bytes: u64,
}

/// A site that may be kept with the originals of its photos.
#[derive(Clone, Debug, Serialize, TS)]
pub struct SharedSite {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub label: String,
    /// How many photos it has.
    pub photos: u32,
    /// Whether it is kept so on this device.
    pub kept: bool,
}
