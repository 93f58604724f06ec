//! Drivers of the plan.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A driver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedDriver")]
#[ts(rename = "PlannedDriver")]
pub struct Driver {
    /// Its reference.
    pub id: String,
    /// Part of the catalogue.
    pub part: String,
    /// The surveyed place; null where the place is only proposed.
    pub place: Option<String>,
    /// Words for a proposed place.
    pub proposed: Option<String>,
    /// The mains point that feeds it.
    pub mains_point: Option<String>,
    /// Ids of the rails that it serves; its cost stands with the first.
    pub rails: Vec<String>,
    /// Its outputs that are used, rail by rail.
    pub outputs: Vec<Output>,
    /// Power drawn from it, worst case.
    pub load_w: f64,
    /// Rated power.
    pub rated_w: f64,
    /// Power that may be drawn, after derating and reserve.
    pub usable_w: f64,
    /// Share left by derating, 0 to 1.
    pub derating: f64,
    /// Reserve.
    pub reserve_percent: u8,
}

impl From<&plan::DriverPlan> for Driver {
    fn from(from: &plan::DriverPlan) -> Self {
        Self {
            id: from.id.clone(),
            part: from.part.clone(),
            place: from.place.as_ref().map(ToString::to_string),
            proposed: from.proposed.clone(),
            mains_point: from.mains_point.as_ref().map(ToString::to_string),
            rails: from.rails.iter().map(ToString::to_string).collect(),
            outputs: from.outputs.iter().map(Output::from).collect(),
            load_w: from.load.get(),
            rated_w: from.rated.get(),
            usable_w: from.usable.get(),
            derating: from.derating,
            reserve_percent: from.reserve_percent,
        }
    }
}

/// An output of a driver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Output {
    /// Its reference.
    pub id: String,
    /// References of the circuits that it feeds.
    pub circuits: Vec<String>,
    /// Current, worst case.
    pub amps: f64,
    /// Greatest current of the output.
    pub limit_amps: f64,
}

impl From<&plan::OutputPlan> for Output {
    fn from(from: &plan::OutputPlan) -> Self {
        Self {
            id: from.id.clone(),
            circuits: from.circuits.clone(),
            amps: from.amps.get(),
            limit_amps: from.limit.get(),
        }
    }
}
