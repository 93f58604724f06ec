//! A question about a number and the answer to it.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Figure, Mark};

/// A number that a person asks about.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "about", rename_all = "snake_case")]
pub enum Asked {
    /// The volts at a luminaire.
    LuminaireVolts {
        /// The luminaire.
        luminaire: String,
    },
    /// Where a luminaire's hole is, or where a module starts.
    Position {
        /// The luminaire.
        luminaire: String,
    },
    /// The length of a rail.
    RailLength {
        /// The rail.
        rail: String,
    },
    /// What the feeds of a rail cost.
    RailCost {
        /// The rail.
        rail: String,
    },
    /// What a lock of a rail costs.
    Lock {
        /// The rail.
        rail: String,
        /// Its place in the rail's list; one past the last for all of them together.
        index: u32,
    },
    /// Where a feature is and what it keeps clear.
    Feature {
        /// The rail.
        rail: String,
        /// The feature.
        feature: String,
    },
    /// What a driver carries.
    DriverLoad {
        /// The driver.
        driver: String,
    },
    /// The length and drop of a cable.
    Cable {
        /// The reference.
        reference: String,
    },
    /// The poles and the place of the cap that closes a chain of modules.
    EndCap {
        /// The circuit that ends there.
        circuit: String,
    },
    /// What a control device does, and what a sensor sees.
    Control {
        /// Its reference.
        device: String,
    },
    /// The rating of a mains point and what draws on it.
    Mains {
        /// The mains point.
        id: String,
    },
    /// A finding.
    Finding {
        /// Its place in the plan's list.
        index: u32,
    },
}

/// What a step of an explanation does to the figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum StepRole {
    /// Where the reckoning starts.
    Start,
    /// Added or taken away.
    Change,
    /// A number that went in.
    Given,
    /// What came out.
    Result,
}

/// One step of an explanation.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct Step {
    /// What happens.
    pub what: String,
    /// What it does.
    pub role: StepRole,
    /// The figure; absent where the step is words only.
    pub figure: Option<Figure>,
    /// The numbers put in and where they come from.
    pub note: String,
}

/// Why a number is what it is.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct Explanation {
    /// The number asked about; absent where there is none.
    pub figure: Option<Figure>,
    /// What it is and what is allowed.
    pub title: String,
    /// The verdict on it, where a rule gives one.
    pub mark: Option<Mark>,
    /// From the first figure to the last.
    pub steps: Vec<Step>,
    /// What is still open, and what to do about it.
    pub notes: Vec<Note>,
}

/// A remark under an explanation.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct Note {
    /// How serious it is.
    pub mark: Mark,
    /// What it says.
    pub text: String,
}
