//! The plan as plain data: what later crates draw, price and check. Lists are in a stated order; references are unique.

use survey::{Finding, Id};
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

mod control;
mod locks;

pub use crate::circuit::BranchKind;
pub use control::{ControlDevice, ControlLine, ControlPlan, SensorReach, TubeSpan, ZonePlan};
pub use locks::{Lock, LockEffect, LockPlan, SpacingEffect};

/// The version of the plan's shape.
pub const SCHEMA_VERSION: u32 = 1;

/// A whole plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Hash of the canonical planning inputs and the engine version, in lower-case hexadecimal.
    pub plan_id: String,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Rails that the brief names, in order of id.
    pub rails: Vec<RailPlan>,
    /// Drivers, in order of their first rail and chainage of their feed there.
    pub drivers: Vec<DriverPlan>,
    /// Circuits, in order of driver and output.
    pub circuits: Vec<Circuit>,
    /// Zones whose rails are lit, with their control, in order of id.
    pub zones: Vec<ZonePlan>,
    /// Control devices, by zone and along each control line.
    pub controls: Vec<ControlPlan>,
    /// Cable schedule, in order of reference.
    pub cables: Vec<Cable>,
    /// End caps of chains of modules, in the order of their circuits.
    pub end_caps: Vec<EndCapPlan>,
    /// Cut list over reels.
    pub reels: Vec<Reel>,
    /// Drilling schedule, by rail and chainage.
    pub drilling: Vec<Hole>,
    /// Parts, by kind and reference.
    pub parts: Vec<PartLine>,
    /// Tests with expected values.
    pub tests: Vec<TestLine>,
    /// What the planning itself has to say (rules add theirs outside).
    pub findings: Vec<Finding>,
    /// What was minimised.
    pub objective: Objective,
}

/// One rail of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct RailPlan {
    /// Id of the rail.
    pub id: Id,
    /// Its label.
    pub label: String,
    /// Length along the centreline.
    pub length: Length,
    /// Luminaires by chainage.
    pub luminaires: Vec<LuminairePlan>,
    /// The pattern that is planned, with its figures.
    pub pattern: Option<PatternFigures>,
    /// Figures of its linear modules, where it has any.
    pub lit: Option<LitFigures>,
    /// Other layouts that were worked out.
    pub alternatives: Vec<Alternative>,
    /// Holes that must be ready before drilling may start; empty where nothing holds the papers back.
    pub not_ready: Vec<String>,
    /// Nominal voltage of the rail's luminaires, where it has any.
    pub nominal: Option<Volts>,
    /// The target that the brief asked for.
    pub target: Option<Length>,
    /// What a person has fixed on it, holes by chainage before drivers by place, each with what it costs.
    pub locks: Vec<LockPlan>,
    /// What all of them together cost, where there are any.
    pub locks_together: Option<LockEffect>,
    /// Cost of feeding this rail, lower bound and gap. A driver that serves several rails is counted with the first of them.
    pub objective: Objective,
}

/// A luminaire of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct LuminairePlan {
    /// Its reference, unique in the plan: rail label, hyphen, number from the datum.
    pub id: String,
    /// Part of the catalogue.
    pub part: String,
    /// Chainage where it starts (for a point: its hole's centre).
    pub start: Length,
    /// Chainage where it ends (for a point: its hole's centre).
    pub end: Length,
    /// Whether the hole is there already or was fixed by a person.
    pub fixed: bool,
}

/// Figures of a layout.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternFigures {
    /// Which pattern.
    pub kind: PatternKind,
    /// Number of luminaires.
    pub count: u32,
    /// Least gap between neighbours.
    pub least_gap: Option<Length>,
    /// Greatest gap between neighbours.
    pub greatest_gap: Option<Length>,
    /// Mean gap between neighbours, in millimetres.
    pub mean_gap_mm: Option<f64>,
    /// Greatest departure of a gap from the target.
    pub worst_departure: Length,
    /// Chainage of the gap's start where that is.
    pub worst_at: Option<Length>,
    /// Sum of squared departures, in square millimetres.
    pub squares_mm2: f64,
}

/// Figures of a layout of linear modules.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LitFigures {
    /// Sum of the modules' lengths.
    pub lit: Length,
    /// Number of modules.
    pub pieces: u32,
    /// Clear lengths of slotted tube that modules could stand in.
    pub rooms: u32,
    /// Sum of those lengths.
    pub clear: Length,
    /// Clips that hold the modules.
    pub clips: u32,
}

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PatternKind {
    /// Equal bays get identical mirrored patterns.
    EvenPattern,
    /// Every gap as near the target as it can be.
    EvenSpacing,
}

/// Another layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Its figures.
    pub figures: PatternFigures,
    /// Hole centres by chainage.
    pub chainages: Vec<Length>,
}

/// A driver of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverPlan {
    /// Its reference (`D1`, `D2`, …).
    pub id: String,
    /// Part of the catalogue.
    pub part: String,
    /// The surveyed place, or `None` where none was found and the place is only proposed.
    pub place: Option<Id>,
    /// Words for a proposed place.
    pub proposed: Option<String>,
    /// The mains point that feeds it, if a route reaches one.
    pub mains_point: Option<Id>,
    /// The rails that it serves, in order of id; its cost stands with the first.
    pub rails: Vec<Id>,
    /// Its outputs that are used, rail by rail.
    pub outputs: Vec<OutputPlan>,
    /// Power drawn from it, worst case.
    pub load: Watts,
    /// Rated power.
    pub rated: Watts,
    /// Power that may be drawn, after derating and reserve.
    pub usable: Watts,
    /// Share left by derating, 0 to 1.
    pub derating: f64,
    /// Reserve, per cent.
    pub reserve_percent: u8,
}

/// An output of a driver.
#[derive(Clone, Debug, PartialEq)]
pub struct OutputPlan {
    /// Its reference (`D1.1`).
    pub id: String,
    /// References of the circuits that it feeds.
    pub circuits: Vec<String>,
    /// Current, worst case.
    pub amps: Amps,
    /// Greatest current of the output.
    pub limit: Amps,
}

/// One chain solved as a network in the worst case.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Its reference (`D1.1a`).
    pub id: String,
    /// The driver.
    pub driver: String,
    /// The output.
    pub output: String,
    /// The rail.
    pub rail: Id,
    /// The way in through which it enters the tube.
    pub way_in: Option<Id>,
    /// Whether the network has a solution.
    pub solved: bool,
    /// Why it has none.
    pub reason: Option<String>,
    /// Where the source is.
    pub source: Source,
    /// Nodes.
    pub nodes: Vec<Node>,
    /// Conductors and connections.
    pub branches: Vec<Branch>,
    /// Loads.
    pub loads: Vec<Load>,
    /// Nominal voltage.
    pub nominal: Volts,
    /// Least voltage over all loads.
    pub least_load_volts: Option<Volts>,
    /// Luminaire that has it.
    pub least_luminaire: Option<String>,
    /// Least voltage allowed by the rule for the drop: nominal less the allowed share.
    pub limit_by_drop: Volts,
    /// Least voltage allowed by the luminaire.
    pub limit_by_luminaire: Volts,
    /// Current from the source in the worst case.
    pub amps: Amps,
    /// Current from the source at the high end of the tolerance.
    pub amps_high: Amps,
    /// Greatest load voltage at the high end of the tolerance with all loads lit.
    pub greatest_load_volts_high: Option<Volts>,
    /// Conductor temperature that resistances are taken at, degrees Celsius.
    pub conductor_temperature: units::Celsius,
    /// Prospective current of a short at the far end.
    pub short: ShortCheck,
}

impl Circuit {
    /// The limit in force: the tighter of the two.
    #[must_use]
    pub fn limit(&self) -> Volts {
        self.limit_by_drop.max(self.limit_by_luminaire)
    }
}

/// A far-end short.
#[derive(Clone, Debug, PartialEq)]
pub struct ShortCheck {
    /// Prospective current at the far end, warm conductors, low end of the tolerance.
    pub prospective: Amps,
    /// Current that flows for longer than a moment: what the driver holds, or zero once a fuse has cleared.
    pub lasting: Amps,
    /// Least current-carrying capacity in its way.
    pub least_capacity: Amps,
    /// Whether it is limited or cleared within what every conductor stands.
    pub cleared: bool,
    /// One sentence.
    pub reason: String,
}

/// The source of a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Node of its plus terminal.
    pub plus: String,
    /// Node of its minus terminal.
    pub minus: String,
    /// Volts between them.
    pub volts: Volts,
}

/// A node of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Its id within the circuit.
    pub id: String,
    /// Volts above the source's minus terminal; `None` where unsolved.
    pub volts: Option<Volts>,
    /// The rail, where it lies in one.
    pub rail: Option<Id>,
    /// The chainage, where it lies in a rail.
    pub chainage: Option<Length>,
}

/// A conductor or connection.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// Node towards the source.
    pub from: String,
    /// Node away from the source.
    pub to: String,
    /// What it is.
    pub kind: BranchKind,
    /// `plus`, `minus`, `common` or `channel`.
    pub conductor: &'static str,
    /// Channel number from 1, for colour.
    pub channel: Option<u8>,
    /// Its length; zero for a connection.
    pub length: Length,
    /// Its area; zero for a connection.
    pub area: SquareMm,
    /// Its resistance.
    pub ohms: Ohms,
    /// Its current, from `from` to `to`; `None` where unsolved.
    pub amps: Option<Amps>,
}

/// A load of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The luminaire.
    pub luminaire: String,
    /// Channel number from 1, for colour.
    pub channel: Option<u8>,
    /// Node at its more positive terminal.
    pub from: String,
    /// Node at its more negative terminal.
    pub to: String,
    /// Its model with the value.
    pub model: catalogue::LoadModel,
    /// Volts across it; `None` where unsolved.
    pub volts: Option<Volts>,
    /// Its current; `None` where unsolved.
    pub amps: Option<Amps>,
}

/// Kinds of cables in the schedule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CableKind {
    /// Mains point to driver; laid by a licensed person, not part of the SELV drop.
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

/// A cable of the schedule.
#[derive(Clone, Debug, PartialEq)]
pub struct Cable {
    /// Its reference.
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
    pub area: SquareMm,
    /// Length along its way.
    pub route: Length,
    /// Loops, tails and slack.
    pub allowance: Length,
    /// Length to cut, or the sum of the two lengths above for a made-up lead.
    pub cut: Length,
    /// Made-up length, where it is bought so.
    pub made_up: Option<Length>,
    /// Current, worst case; `None` where unsolved or not computed (mains).
    pub amps: Option<Amps>,
    /// Drop along it, both conductors; `None` where not computed.
    pub drop: Option<Volts>,
    /// Volts between its conductors at its far end; `None` where not computed.
    pub end_volts: Option<Volts>,
    /// Connectors and seals, in words.
    pub connectors: String,
    /// Gland, in words; empty where none.
    pub gland: String,
    /// Ids of the routes it follows.
    pub routes: Vec<Id>,
    /// The stretch of rail between the two modules that a link lead joins; `None` for every other cable.
    pub along: Option<TubeSpan>,
}

/// The cap that closes the far end of a chain of modules.
#[derive(Clone, Debug, PartialEq)]
pub struct EndCapPlan {
    /// The circuit that ends there.
    pub circuit: String,
    /// Part of the catalogue; `None` where it lists none with so many poles.
    pub part: Option<String>,
    /// Poles: as many as the chain has conductors.
    pub poles: u8,
    /// The luminaire that it closes, the last of the chain.
    pub luminaire: String,
    /// The rail.
    pub rail: Id,
    /// Chainage of that luminaire's far end.
    pub chainage: Length,
}

/// Cuts from reels of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Reel {
    /// Part of the catalogue.
    pub part: String,
    /// Number of this reel from 1.
    pub number: u32,
    /// Length on the reel.
    pub length: Length,
    /// Cuts from it: cable reference and length.
    pub cuts: Vec<(String, Length)>,
    /// What is left.
    pub waste: Length,
    /// Fewest reels of this part that any cutting could do with (proven bound).
    pub lower_bound: u32,
}

/// A hole to drill, or one that is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// The rail.
    pub rail: Id,
    /// Reference of the hole, the same as its luminaire's.
    pub hole: String,
    /// Running dimension from the datum.
    pub chainage: Length,
    /// The straight it is in.
    pub straight: Id,
    /// Running dimension from the straight's own mark.
    pub from_mark: Length,
    /// Distance from the previous hole on this straight.
    pub spacing: Option<Length>,
    /// Diameter.
    pub diameter: Length,
    /// Offset around the tube from the underside's line, towards the walked side.
    pub girth: Length,
    /// Whether it is there already.
    pub existing: bool,
}

/// A line of the parts list.
#[derive(Clone, Debug, PartialEq)]
pub struct PartLine {
    /// Part of the catalogue.
    pub part: String,
    /// Its description.
    pub description: String,
    /// Quantity that the layout uses: pieces, or micrometres of length for parts by the metre, see `unit`.
    pub quantity: Quantity,
    /// Spares on top, same kind.
    pub spare: Quantity,
    /// Pieces to a pack.
    pub pack: u32,
    /// Packs (or reels) to order for quantity and spares.
    pub packs: u32,
}

/// Pieces or a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Pieces.
    Pieces(u32),
    /// A length.
    Length(Length),
}

/// A test with the value to expect.
#[derive(Clone, Debug, PartialEq)]
pub struct TestLine {
    /// What is tested (reference of circuit, luminaire, cable or driver).
    pub subject: String,
    /// Which test.
    pub kind: &'static str,
    /// Value to expect.
    pub expected: f64,
    /// Plus or minus, or for a least value zero.
    pub tolerance: f64,
    /// Unit.
    pub unit: &'static str,
    /// Whether `expected` is the least that passes, rather than the middle.
    pub is_floor: bool,
}

/// What was minimised: cost of feeds, material and labour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Objective {
    /// Cost of the plan.
    pub cost: Money,
    /// Proven lower bound.
    pub lower_bound: Money,
}

impl Objective {
    /// Cost less the bound; zero where the plan is proved the cheapest.
    #[must_use]
    pub fn gap(&self) -> Money {
        self.cost - self.lower_bound
    }
}
