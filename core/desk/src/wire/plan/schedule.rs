//! Schedules: cables, reels, holes, parts, tests.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use units::{Amps, Length, Volts};

use super::TubeSpan;

/// A cable.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Cable {
    /// Its reference.
    #[serde(rename = "ref")]
    pub reference: String,
    /// What it is.
    pub kind: CableKind,
    /// Part of the catalogue.
    pub part: Option<String>,
    /// The circuit it belongs to.
    pub circuit: Option<String>,
    /// From where, in words.
    pub from: String,
    /// To where, in words.
    pub to: String,
    /// Cores.
    pub cores: u8,
    /// Area of each core.
    pub area_mm2: f64,
    /// Length along its way.
    pub route_mm: f64,
    /// Loops, tails and slack.
    pub allowance_mm: f64,
    /// Length to cut.
    pub cut_mm: f64,
    /// Made-up length, where it is bought so.
    pub made_up_mm: Option<f64>,
    /// Current, worst case; null where unsolved or not computed.
    pub amps: Option<f64>,
    /// Drop along it, both conductors.
    pub drop_volts: Option<f64>,
    /// Volts between its conductors at its far end.
    pub end_volts: Option<f64>,
    /// Connectors and seals, in words.
    pub connectors: String,
    /// Gland, in words.
    pub gland: String,
    /// Ids of the routes it follows.
    pub routes: Vec<String>,
    /// The stretch of rail between the two modules that a link lead joins; null for every other cable.
    pub along: Option<TubeSpan>,
}

/// Kinds of cables.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum CableKind {
    /// Mains point to driver.
    Mains,
    /// Driver output to where the chain starts.
    Extension,
    /// From an extension lead or a decoder to the first module of a chain.
    Luminaire,
    /// Along a chain.
    Run,
    /// Between modules.
    Link,
    /// Control cable.
    Control,
}

impl From<&plan::Cable> for Cable {
    fn from(from: &plan::Cable) -> Self {
        use plan::CableKind as Plain;
        Self {
            reference: from.reference.clone(),
            kind: match from.kind {
                Plain::Mains => CableKind::Mains,
                Plain::Extension => CableKind::Extension,
                Plain::Luminaire => CableKind::Luminaire,
                Plain::Run => CableKind::Run,
                Plain::Link => CableKind::Link,
                Plain::Control => CableKind::Control,
            },
            part: from.part.clone(),
            circuit: from.circuit.clone(),
            from: from.from.clone(),
            to: from.to.clone(),
            cores: from.cores,
            area_mm2: from.area.get(),
            route_mm: from.route.to_mm(),
            allowance_mm: from.allowance.to_mm(),
            cut_mm: from.cut.to_mm(),
            made_up_mm: from.made_up.map(Length::to_mm),
            amps: from.amps.map(Amps::get),
            drop_volts: from.drop.map(Volts::get),
            end_volts: from.end_volts.map(Volts::get),
            connectors: from.connectors.clone(),
            gland: from.gland.clone(),
            routes: from.routes.iter().map(ToString::to_string).collect(),
            along: from.along.as_ref().map(TubeSpan::from),
        }
    }
}

/// The cap that closes the far end of a chain of modules.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedEndCap")]
#[ts(rename = "PlannedEndCap")]
pub struct EndCap {
    /// The circuit that ends there.
    pub circuit: String,
    /// Part of the catalogue; null where it lists none with so many poles.
    pub part: Option<String>,
    /// Poles.
    pub poles: u8,
    /// The luminaire that it closes, the last of the chain.
    pub luminaire: String,
    /// The rail.
    pub rail: String,
    /// Chainage of that luminaire's far end.
    pub chainage_mm: f64,
}

impl From<&plan::EndCapPlan> for EndCap {
    fn from(from: &plan::EndCapPlan) -> Self {
        Self {
            circuit: from.circuit.clone(),
            part: from.part.clone(),
            poles: from.poles,
            luminaire: from.luminaire.clone(),
            rail: from.rail.to_string(),
            chainage_mm: from.chainage.to_mm(),
        }
    }
}

/// Cuts from one reel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Reel {
    /// Part of the catalogue.
    pub part: String,
    /// Number of this reel from 1.
    pub number: u32,
    /// Length on the reel.
    pub length_mm: f64,
    /// Cuts from it.
    pub cuts: Vec<Cut>,
    /// What is left.
    pub waste_mm: f64,
    /// Fewest reels of this part that any cutting could do with.
    pub lower_bound: u32,
}

/// One cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Cut {
    /// The cable it is for.
    pub cable: String,
    /// Its length.
    pub length_mm: f64,
}

impl From<&plan::Reel> for Reel {
    fn from(from: &plan::Reel) -> Self {
        let cut = |(cable, length): &(String, Length)| Cut { cable: cable.clone(), length_mm: length.to_mm() };
        Self {
            part: from.part.clone(),
            number: from.number,
            length_mm: from.length.to_mm(),
            cuts: from.cuts.iter().map(cut).collect(),
            waste_mm: from.waste.to_mm(),
            lower_bound: from.lower_bound,
        }
    }
}

/// A hole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Hole {
    /// The rail.
    pub rail: String,
    /// Reference of the hole, the same as its luminaire's.
    pub hole: String,
    /// Running dimension from the datum.
    pub chainage_mm: f64,
    /// The straight it is in.
    pub straight: String,
    /// Running dimension from the straight's own mark.
    pub from_mark_mm: f64,
    /// Distance from the previous hole on this straight.
    pub spacing_mm: Option<f64>,
    /// Diameter.
    pub diameter_mm: f64,
    /// Offset around the tube from the underside's line, towards the walked side.
    pub girth_mm: f64,
    /// Whether it is there already.
    pub existing: bool,
}

impl From<&plan::Hole> for Hole {
    fn from(from: &plan::Hole) -> Self {
        Self {
            rail: from.rail.to_string(),
            hole: from.hole.clone(),
            chainage_mm: from.chainage.to_mm(),
            straight: from.straight.to_string(),
            from_mark_mm: from.from_mark.to_mm(),
            spacing_mm: from.spacing.map(Length::to_mm),
            diameter_mm: from.diameter.to_mm(),
            girth_mm: from.girth.to_mm(),
            existing: from.existing,
        }
    }
}

/// A line of the parts list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct PartLine {
    /// Part of the catalogue.
    pub part: String,
    /// Its description.
    pub description: String,
    /// Quantity that the layout uses, in `unit`.
    pub quantity: f64,
    /// Spares on top, in `unit`.
    pub spare: f64,
    /// `piece` or `m`.
    pub unit: String,
    /// Pieces to a pack.
    pub pack: u32,
    /// Packs (or reels) to order for quantity and spares.
    pub packs: u32,
}

impl From<&plan::PartLine> for PartLine {
    fn from(from: &plan::PartLine) -> Self {
        let number = |quantity: plan::Quantity| match quantity {
            plan::Quantity::Pieces(pieces) => f64::from(pieces),
            plan::Quantity::Length(length) => length.to_m(),
        };
        let unit = match from.quantity {
            plan::Quantity::Pieces(_) => "piece",
            plan::Quantity::Length(_) => "m",
        };
        Self {
            part: from.part.clone(),
            description: from.description.clone(),
            quantity: number(from.quantity),
            spare: number(from.spare),
            unit: unit.to_owned(),
            pack: from.pack,
            packs: from.packs,
        }
    }
}

/// A test.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct TestLine {
    /// What is tested.
    pub subject: String,
    /// Which test.
    pub kind: String,
    /// Value to expect.
    pub expected: f64,
    /// Plus or minus; 0 for a floor.
    pub tolerance: f64,
    /// Unit.
    pub unit: String,
    /// Whether `expected` is the least that passes, rather than the middle.
    pub is_floor: bool,
}

impl From<&plan::TestLine> for TestLine {
    fn from(from: &plan::TestLine) -> Self {
        Self {
            subject: from.subject.clone(),
            kind: from.kind.to_owned(),
            expected: from.expected,
            tolerance: from.tolerance,
            unit: from.unit.to_owned(),
            is_floor: from.is_floor,
        }
    }
}
