//! The plan document: the contract that others test against. Field names carry their unit; lists are in the order that
//! the plan states.

mod circuit;
mod control;
mod finding;
mod lock;
mod power;
mod rail;
mod schedule;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use ts_rs::TS;

pub use circuit::{Branch, BranchKind, Circuit, Load, LoadKind, Node, ShortCheck, Source};
pub use control::{Control, Device, Line, SensorReach, Setting, TubeSpan, Zone};
pub use finding::{Figure, Finding, Subject, Verdict};
pub use lock::{Lock, LockEffect, LockKind};
pub use power::{Driver, Output};
pub use rail::{Alternative, Luminaire, Pattern, PatternKind, Rail};
pub use schedule::{Cable, CableKind, Cut, EndCap, Hole, PartLine, Reel, TestLine};

/// A whole plan with everything that was found about it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlanDocument")]
#[ts(rename = "PlanDocument")]
pub struct Plan {
    /// Version of this shape.
    pub schema_version: u32,
    /// Hash of the canonical planning inputs and the engine version.
    pub plan_id: String,
    /// Version of the engine.
    pub engine_version: String,
    /// Whether site or catalogue are made up.
    pub invented: bool,
    /// Currency of every cost (ISO 4217).
    pub currency: String,
    /// Rails that the brief names, in order of id.
    pub rails: Vec<Rail>,
    /// Drivers, in order of their first rail.
    pub drivers: Vec<Driver>,
    /// Circuits, each one chain solved as a network in the worst case.
    pub circuits: Vec<Circuit>,
    /// Zones whose rails are lit, with their control, in order of id.
    pub zones: Vec<Zone>,
    /// Control devices, by zone and along each control line.
    pub controls: Vec<Control>,
    /// Cable schedule.
    pub cables: Vec<Cable>,
    /// End caps of chains of modules, in the order of their circuits.
    pub end_caps: Vec<EndCap>,
    /// Cut list over reels.
    pub reels: Vec<Reel>,
    /// Drilling schedule, by rail and chainage.
    pub drilling: Vec<Hole>,
    /// Parts.
    pub parts: Vec<PartLine>,
    /// Tests with expected values.
    pub tests: Vec<TestLine>,
    /// Findings of the survey, the planning and the rules, worst first.
    pub findings: Vec<Finding>,
    /// What was minimised, over all rails.
    pub objective: Objective,
}

/// Cost of feeds, material and labour that was minimised.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Objective {
    /// Cost of the plan, in the currency of the plan.
    pub cost: f64,
    /// Proven lower bound, in the currency of the plan.
    pub lower_bound: f64,
    /// Cost less the bound; 0 where the plan is proved the cheapest.
    pub gap: f64,
}

/// An amount of money as a number.
fn amount(money: units::Money) -> f64 {
    money.to_ten_thousandths() as f64 / 1e4
}

impl From<plan::Objective> for Objective {
    fn from(from: plan::Objective) -> Self {
        Self { cost: amount(from.cost), lower_bound: amount(from.lower_bound), gap: amount(from.gap()) }
    }
}

impl Plan {
    /// The document of a plan with all findings about it.
    #[must_use]
    pub fn of(
        survey: &survey::Survey,
        catalogue: &catalogue::Catalogue,
        plan: &plan::Plan,
        all: &[survey::Finding],
    ) -> Self {
        let mut findings: Vec<&survey::Finding> = all.iter().collect();
        findings.sort_by(|a, b| a.order(b));
        findings.dedup();
        Self {
            schema_version: plan::SCHEMA_VERSION,
            plan_id: plan.plan_id.clone(),
            engine_version: plan.engine_version.to_owned(),
            invented: survey.site.invented || catalogue.invented,
            currency: catalogue.currency.clone(),
            rails: plan.rails.iter().map(Rail::from).collect(),
            drivers: plan.drivers.iter().map(Driver::from).collect(),
            circuits: plan.circuits.iter().map(Circuit::from).collect(),
            zones: plan.zones.iter().map(Zone::from).collect(),
            controls: plan.controls.iter().map(Control::from).collect(),
            cables: plan.cables.iter().map(Cable::from).collect(),
            end_caps: plan.end_caps.iter().map(EndCap::from).collect(),
            reels: plan.reels.iter().map(Reel::from).collect(),
            drilling: plan.drilling.iter().map(Hole::from).collect(),
            parts: plan.parts.iter().map(PartLine::from).collect(),
            tests: plan.tests.iter().map(TestLine::from).collect(),
            findings: findings.into_iter().map(Finding::from).collect(),
            objective: plan.objective.into(),
        }
    }
}
