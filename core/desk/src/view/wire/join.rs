//! What joins, closes and watches: link leads, end caps and control devices on a rail.

use serde::Serialize;
use ts_rs::TS;

/// A link lead between two modules, or a piece of one.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct LinkSpan {
    /// Its reference in the cable schedule.
    pub reference: String,
    /// Where it starts along the rail [mm].
    pub from_mm: f64,
    /// Where it ends [mm].
    pub to_mm: f64,
    /// Its cores.
    pub cores: u8,
}

/// The cap that closes a chain of modules.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct EndCap {
    /// The circuit that ends there.
    pub circuit: String,
    /// Distance from the datum [mm].
    pub chainage_mm: f64,
    /// Its poles.
    pub poles: u8,
}

/// A control device that stands on a rail.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct ControlMark {
    /// Its reference.
    pub device: String,
    /// What it is, in words.
    pub what: String,
    /// Distance from the datum [mm].
    pub chainage_mm: f64,
    /// The stretch of rail that a presence sensor sees; absent for what watches nothing.
    pub reach: Option<Stretch>,
}

/// A stretch of rail.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, TS)]
pub struct Stretch {
    /// Lower chainage [mm].
    pub from_mm: f64,
    /// Higher chainage [mm].
    pub to_mm: f64,
}
