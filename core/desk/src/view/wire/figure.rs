//! A number as a person reads it, and a verdict.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A number as a person reads it.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct Figure {
    /// The number itself, unrounded.
    pub value: f64,
    /// Its unit; empty for a count.
    pub unit: String,
    /// Decimals to show.
    pub decimals: u8,
}

/// How far a part, a rail or a question satisfies a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Satisfied.
    Pass,
    /// Allowed, and worth a look.
    Caution,
    /// Something needed for the answer is missing.
    NotEvaluated,
    /// Not to be built as it is.
    Stop,
}
