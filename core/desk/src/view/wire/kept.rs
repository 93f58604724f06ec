//! What a person keeps in its place on a rail.

use serde::Serialize;
use ts_rs::TS;

/// Something that is kept in its place, as the brief names it.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum KeptThing {
    /// A hole.
    Hole {
        /// Its running dimension from the datum [mm].
        at_mm: f64,
    },
    /// A driver.
    Driver {
        /// The driver place.
        place: String,
        /// Its part, where that is kept too.
        part: Option<String>,
    },
}

/// One line of the table of locks.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct LockRow {
    /// What is kept; absent in the row that tells what all of them cost together.
    pub lock: Option<KeptThing>,
    /// The same in words.
    pub what: String,
    /// What that costs more than the plan without it, in words.
    pub cost: String,
    /// Worst departure of a gap from the target [mm]; absent where no hole is locked.
    pub departure_mm: Option<f64>,
    /// The same without the lock [mm].
    pub departure_without_mm: Option<f64>,
}
