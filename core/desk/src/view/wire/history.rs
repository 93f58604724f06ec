//! The history of a site as the window shows it.

use serde::Serialize;
use ts_rs::TS;

use crate::wire::sites::{DisagreementLine, SetAsideLine};

/// What was changed, and over what people disagree.
#[derive(Clone, Debug, Serialize, TS)]
pub struct HistoryPage {
    /// The changes, last first.
    pub changes: Vec<PastChange>,
    /// Changes that do not count, and why.
    pub set_aside: Vec<SetAsideLine>,
    /// Fields over which people disagree.
    pub disagreements: Vec<DisagreementLine>,
}

/// One change.
#[derive(Clone, Debug, Serialize, TS)]
pub struct PastChange {
    /// Its name, by which the site can be seen as it was with it.
    pub change: String,
    /// When, in UTC (RFC 3339).
    pub when: String,
    /// Who, by its own word.
    pub person: String,
    /// What the device is called, by its own word; empty where it was never heard of.
    pub device: String,
    /// Whether it was made on this device.
    pub here: bool,
    /// What, in words.
    pub sentence: String,
}
