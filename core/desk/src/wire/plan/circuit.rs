//! Circuits: networks complete enough to be rebuilt in any circuit simulator.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use units::{Amps, Length, Volts};

/// One chain solved as a network in the worst case.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Circuit {
    /// Its reference.
    pub id: String,
    /// The driver.
    pub driver: String,
    /// The output.
    pub output: String,
    /// The rail.
    pub rail: String,
    /// The way in through which it enters the tube.
    pub way_in: Option<String>,
    /// Whether the network has a solution.
    pub solved: bool,
    /// Why it has none.
    pub reason: Option<String>,
    /// The source.
    pub source: Source,
    /// Nodes.
    pub nodes: Vec<Node>,
    /// Conductors and connections.
    pub branches: Vec<Branch>,
    /// Loads.
    pub loads: Vec<Load>,
    /// Nominal voltage.
    pub nominal_v: f64,
    /// Least voltage over all loads.
    pub least_load_volts: Option<f64>,
    /// The luminaire that has it.
    pub least_luminaire: Option<String>,
    /// Least voltage allowed by the rule for the drop.
    pub limit_by_drop_volts: f64,
    /// Least voltage allowed by the luminaire.
    pub limit_by_luminaire_volts: f64,
    /// The limit in force, the tighter of the two.
    pub limit_volts: f64,
    /// Current from the source, worst case.
    pub amps: f64,
    /// Current from the source at the high end of the tolerance.
    pub amps_high: f64,
    /// Greatest load voltage at the high end of the tolerance.
    pub greatest_load_volts_high: Option<f64>,
    /// Conductor temperature that resistances are taken at.
    pub conductor_temperature_c: f64,
    /// A short at the far end.
    pub short: ShortCheck,
}

/// A far-end short.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct ShortCheck {
    /// Prospective current.
    pub prospective_amps: f64,
    /// Current that flows for longer than a moment.
    pub lasting_amps: f64,
    /// Least current-carrying capacity in its way.
    pub least_capacity_amps: f64,
    /// Whether it is limited or cleared within what every conductor stands.
    pub cleared: bool,
    /// One sentence.
    pub reason: String,
}

/// The source of a circuit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Source {
    /// Node of its plus terminal.
    pub plus: String,
    /// Node of its minus terminal.
    pub minus: String,
    /// Volts between them.
    pub volts: f64,
}

/// A node.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Node {
    /// Its id within the circuit.
    pub id: String,
    /// Volts above the source's minus terminal; null where unsolved.
    pub volts: Option<f64>,
    /// The rail, where it lies in one.
    pub rail: Option<String>,
    /// The chainage, where it lies in a rail.
    pub chainage_mm: Option<f64>,
}

/// A conductor or connection.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Branch {
    /// Node towards the source.
    pub from: String,
    /// Node away from the source.
    pub to: String,
    /// What it is.
    pub kind: BranchKind,
    /// `plus`, `minus`, `common` or `channel`.
    pub conductor: String,
    /// Channel number from 1, for colour.
    pub channel: Option<u8>,
    /// Its length; 0 for a connection.
    pub length_mm: f64,
    /// Its area; 0 for a connection.
    pub area_mm2: f64,
    /// Its resistance.
    pub ohms: f64,
    /// Its current, from `from` to `to`; null where unsolved.
    pub amps: Option<f64>,
}

/// Kinds of branches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum BranchKind {
    /// Inside the source.
    Source,
    /// Extension lead.
    Lead,
    /// In-tube section.
    Run,
    /// A module's through-conductor.
    Module,
    /// A luminaire's own branch.
    Tap,
    /// A plug or cut joint in series.
    Plug,
}

/// A load.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Load {
    /// The luminaire.
    pub luminaire: String,
    /// Channel number from 1, for colour.
    pub channel: Option<u8>,
    /// Node at its more positive terminal.
    pub from: String,
    /// Node at its more negative terminal.
    pub to: String,
    /// How it draws current: `current` in A, `power` in W, `resistance` in ohm.
    pub model: LoadKind,
    /// Value of the model.
    pub value: f64,
    /// Unit of the value.
    pub unit: String,
    /// Volts across it; null where unsolved.
    pub volts: Option<f64>,
    /// Its current; null where unsolved.
    pub amps: Option<f64>,
}

/// How a load draws current.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum LoadKind {
    /// The same current, in amperes.
    Current,
    /// The same power, in watts.
    Power,
    /// A resistance, in ohms.
    Resistance,
}

impl From<&plan::Circuit> for Circuit {
    fn from(from: &plan::Circuit) -> Self {
        Self {
            id: from.id.clone(),
            driver: from.driver.clone(),
            output: from.output.clone(),
            rail: from.rail.to_string(),
            way_in: from.way_in.as_ref().map(ToString::to_string),
            solved: from.solved,
            reason: from.reason.clone(),
            source: Source {
                plus: from.source.plus.clone(),
                minus: from.source.minus.clone(),
                volts: from.source.volts.get(),
            },
            nodes: from.nodes.iter().map(Node::from).collect(),
            branches: from.branches.iter().map(Branch::from).collect(),
            loads: from.loads.iter().map(Load::from).collect(),
            nominal_v: from.nominal.get(),
            least_load_volts: from.least_load_volts.map(Volts::get),
            least_luminaire: from.least_luminaire.clone(),
            limit_by_drop_volts: from.limit_by_drop.get(),
            limit_by_luminaire_volts: from.limit_by_luminaire.get(),
            limit_volts: from.limit().get(),
            amps: from.amps.get(),
            amps_high: from.amps_high.get(),
            greatest_load_volts_high: from.greatest_load_volts_high.map(Volts::get),
            conductor_temperature_c: from.conductor_temperature.get(),
            short: ShortCheck {
                prospective_amps: from.short.prospective.get(),
                lasting_amps: from.short.lasting.get(),
                least_capacity_amps: from.short.least_capacity.get(),
                cleared: from.short.cleared,
                reason: from.short.reason.clone(),
            },
        }
    }
}

impl From<&plan::Node> for Node {
    fn from(from: &plan::Node) -> Self {
        Self {
            id: from.id.clone(),
            volts: from.volts.map(Volts::get),
            rail: from.rail.as_ref().map(ToString::to_string),
            chainage_mm: from.chainage.map(Length::to_mm),
        }
    }
}

impl From<&plan::Branch> for Branch {
    fn from(from: &plan::Branch) -> Self {
        use plan::BranchKind as Plain;
        Self {
            from: from.from.clone(),
            to: from.to.clone(),
            kind: match from.kind {
                Plain::Source => BranchKind::Source,
                Plain::Lead => BranchKind::Lead,
                Plain::Run => BranchKind::Run,
                Plain::Module => BranchKind::Module,
                Plain::Tap => BranchKind::Tap,
                Plain::Plug => BranchKind::Plug,
            },
            conductor: from.conductor.to_owned(),
            channel: from.channel,
            length_mm: from.length.to_mm(),
            area_mm2: from.area.get(),
            ohms: from.ohms.get(),
            amps: from.amps.map(Amps::get),
        }
    }
}

impl From<&plan::Load> for Load {
    fn from(from: &plan::Load) -> Self {
        let (model, value, unit) = match from.model {
            catalogue::LoadModel::Current(amps) => (LoadKind::Current, amps.get(), "A"),
            catalogue::LoadModel::Power(watts) => (LoadKind::Power, watts.get(), "W"),
            catalogue::LoadModel::Resistance(ohms) => (LoadKind::Resistance, ohms.get(), "ohm"),
        };
        Self {
            luminaire: from.luminaire.clone(),
            channel: from.channel,
            from: from.from.clone(),
            to: from.to.clone(),
            model,
            value,
            unit: unit.to_owned(),
            volts: from.volts.map(Volts::get),
            amps: from.amps.map(Amps::get),
        }
    }
}
