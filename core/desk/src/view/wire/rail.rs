//! One rail: what is on it, what is planned on it, and the volts along it.

use serde::Serialize;
use ts_rs::TS;

use super::{ControlMark, EndCap, Figure, LinkSpan, LockRow, Mark};

/// One rail, straightened out.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct RailPage {
    /// Identity in the survey.
    pub id: String,
    /// The surveyor's label.
    pub label: String,
    /// Length along the tube [mm].
    pub length_mm: f64,
    /// Outside diameter or greatest width of the tube [mm].
    pub outside_mm: Option<f64>,
    /// What a person wants to know at a glance: tube, material, what is fitted, voltage, zone.
    pub facts: Vec<String>,
    /// How the datum is marked.
    pub datum: String,
    /// Why the drilling papers wait; empty when they are ready.
    pub drilling_waits: Vec<String>,
    /// The worst verdict among the rail's findings.
    pub mark: Mark,
    /// Straights and bends in order.
    pub pieces: Vec<PieceSpan>,
    /// What is on the rail, by chainage.
    pub features: Vec<FeatureRow>,
    /// What is planned on it, by chainage.
    pub luminaires: Vec<LuminaireRow>,
    /// Where power enters.
    pub feeds: Vec<FeedMark>,
    /// The volts along the rail, chain by chain.
    pub chains: Vec<ChainLine>,
    /// The limits of those volts.
    pub limits: Vec<VoltLimit>,
    /// Link leads between its modules.
    pub links: Vec<LinkSpan>,
    /// Caps that close its chains of modules.
    pub end_caps: Vec<EndCap>,
    /// Control devices that stand on it, by chainage.
    pub controls: Vec<ControlMark>,
    /// Cables that serve this rail.
    pub cables: Vec<CableRow>,
    /// What feeding it costs, in words; empty where nothing is fed.
    pub cost: String,
    /// What feeding it costs, with the least that is proved to be possible.
    pub objective: Bounded,
    /// How evenly its points lie; absent where it has none.
    pub pattern: Option<PatternLine>,
    /// What a person has fixed on it, with what that costs.
    pub locks: Vec<LockRow>,
    /// The other layout that was weighed, in words; empty where there is none.
    pub alternatives: Vec<String>,
}

/// A cost with the least that is proved to be possible.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct Bounded {
    /// The cost.
    pub cost: Figure,
    /// Nothing costs less than this.
    pub lower_bound: Figure,
}

/// How evenly the points of a rail lie.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, TS)]
pub struct PatternLine {
    /// The spacing asked for [mm].
    pub target_mm: f64,
    /// Greatest departure of a gap from it [mm].
    pub worst_departure_mm: f64,
    /// The hole before that gap [mm].
    pub worst_at_mm: Option<f64>,
}

/// What a piece of rail is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PieceShape {
    /// A straight.
    Straight,
    /// A bend.
    Bend,
}

/// A straight or a bend by chainage.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct PieceSpan {
    /// Identity within the rail.
    pub id: String,
    /// Straight or bend.
    pub shape: PieceShape,
    /// Where it starts [mm].
    pub start_mm: f64,
    /// Where it ends [mm].
    pub end_mm: f64,
    /// A short name for the drawing.
    pub name: String,
    /// What was measured.
    pub detail: String,
}

/// How a feature is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FeatureShape {
    /// A post or bracket below the rail.
    Post,
    /// A joint.
    Joint,
    /// A joint that moves.
    MovementJoint,
    /// Where a cable can enter the tube.
    WayIn,
    /// A hole that is already there.
    Hole,
    /// A clamp of the infill.
    Clamp,
    /// A low point where water gathers.
    LowPoint,
    /// Damage.
    Damage,
    /// A bend; drawn with the pieces, listed with the features.
    Bend,
}

/// One line of the table of features.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct FeatureRow {
    /// Identity in the survey.
    pub id: String,
    /// How to draw it.
    pub shape: FeatureShape,
    /// Distance from the datum [mm].
    pub chainage_mm: f64,
    /// What it is, in words.
    pub what: String,
    /// A short name for the drawing; empty where the shape says enough.
    pub name: String,
    /// Width along the rail [mm], where it has one.
    pub width_mm: Option<f64>,
    /// Length kept clear on each side [mm].
    pub keep_clear_mm: Option<f64>,
    /// Whether a cable passes along the bore.
    pub bore: String,
    /// Whether that was proved.
    pub bore_mark: Mark,
    /// The surveyor's note.
    pub note: String,
}

/// A planned luminaire with its hole.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct LuminaireRow {
    /// Identity in the plan.
    pub id: String,
    /// The part.
    pub part: String,
    /// Where it starts [mm].
    pub start_mm: f64,
    /// Where it ends [mm].
    pub end_mm: f64,
    /// The hole's running dimension from the datum [mm]; absent for a module.
    pub hole_mm: Option<f64>,
    /// From the straight's own mark [mm].
    pub from_mark_mm: Option<f64>,
    /// From the hole before it [mm].
    pub spacing_mm: Option<f64>,
    /// Diameter of the hole [mm].
    pub diameter_mm: Option<f64>,
    /// Along the girth from the line under the tube, towards the walked side [mm].
    pub girth_mm: Option<f64>,
    /// Whether the hole was there already or a person fixed it.
    pub fixed: bool,
    /// Volts in the worst case; absent where the network has no solution.
    pub volts: Option<f64>,
    /// The driver that feeds it.
    pub driver: Option<String>,
}

/// Where a lead enters this rail from a driver.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct FeedMark {
    /// The driver.
    pub driver: String,
    /// The driver's part.
    pub part: String,
    /// The driver place where it stands; absent where none was surveyed.
    pub place: Option<String>,
    /// Where the lead enters [mm].
    pub chainage_mm: f64,
    /// The lead's reference in the cable schedule.
    pub lead: Option<String>,
    /// What the leads do, in words.
    pub leads_text: String,
    /// The mains lead, in words; empty where there is none.
    pub mains_text: String,
    /// Labels of the other rails that the driver serves.
    pub also_serves: Vec<String>,
    /// What the driver carries.
    pub load: Figure,
    /// What it may carry here, after derating and reserve, where stated; else its rating.
    pub rated: Figure,
}

/// A chain's voltages along one rail.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct ChainLine {
    /// The circuit.
    pub circuit: String,
    /// Whether its network has a solution; if not, why not.
    pub unsolved: Option<String>,
    /// By chainage.
    pub points: Vec<VoltPoint>,
}

/// The volts at one place.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct VoltPoint {
    /// The luminaire.
    pub luminaire: String,
    /// The channel of a colour chain; empty otherwise.
    pub channel: String,
    /// Distance from the datum [mm].
    pub chainage_mm: f64,
    /// Volts across the luminaire, worst case.
    pub volts: f64,
}

/// The least voltage allowed by one rule.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct VoltLimit {
    /// What sets it.
    pub name: String,
    /// Volts.
    pub volts: f64,
    /// Whether it is the one that binds.
    pub governs: bool,
}

/// One line of the cable schedule.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct CableRow {
    /// Reference.
    pub reference: String,
    /// What it is for.
    pub kind: String,
    /// From and to.
    pub between: String,
    /// Cores and area, as written on a drum.
    pub cores: String,
    /// Length to cut or made-up length to order [mm].
    pub length_mm: f64,
    /// Amps.
    pub amps: Option<f64>,
    /// Drop along it [V].
    pub drop_volts: Option<f64>,
    /// Volts at its end.
    pub end_volts: Option<f64>,
}
