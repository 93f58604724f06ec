//! Rails of the plan with their luminaires and patterns.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use units::Length;

use super::{Lock, LockEffect, Objective};

/// One rail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedRail")]
#[ts(rename = "PlannedRail")]
pub struct Rail {
    /// Id of the rail.
    pub id: String,
    /// Its label.
    pub label: String,
    /// Length along the centreline.
    pub length_mm: f64,
    /// Whether drilling may start: nothing in `not_ready`, and no stop about the rail.
    pub drilling_ready: bool,
    /// What must be ready before drilling may start.
    pub not_ready: Vec<String>,
    /// Nominal voltage of its luminaires.
    pub nominal_v: Option<f64>,
    /// The spacing that the brief asked for.
    pub target_mm: Option<f64>,
    /// Luminaires by chainage.
    pub luminaires: Vec<Luminaire>,
    /// Figures of the layout that is planned.
    pub pattern: Option<Pattern>,
    /// Figures of its linear modules, where it has any.
    pub lit: Option<Lit>,
    /// Other layouts that were worked out.
    pub alternatives: Vec<Alternative>,
    /// What a person has fixed on it, holes by chainage before drivers by place, each with what it costs.
    pub locks: Vec<Lock>,
    /// What all of them together cost; null where there are none.
    pub locks_together: Option<LockEffect>,
    /// What was minimised on this rail. A driver that serves several rails is counted with the first of them.
    pub objective: Objective,
}

impl From<&plan::RailPlan> for Rail {
    fn from(from: &plan::RailPlan) -> Self {
        Self {
            id: from.id.to_string(),
            label: from.label.clone(),
            length_mm: from.length.to_mm(),
            drilling_ready: from.not_ready.is_empty(),
            not_ready: from.not_ready.clone(),
            nominal_v: from.nominal.map(units::Volts::get),
            target_mm: from.target.map(Length::to_mm),
            luminaires: from.luminaires.iter().map(Luminaire::from).collect(),
            pattern: from.pattern.as_ref().map(Pattern::from),
            lit: from.lit.as_ref().map(Lit::from),
            alternatives: from.alternatives.iter().map(Alternative::from).collect(),
            locks: from.locks.iter().map(Lock::from).collect(),
            locks_together: from.locks_together.map(LockEffect::from),
            objective: from.objective.into(),
        }
    }
}

/// A luminaire.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedLuminaire")]
#[ts(rename = "PlannedLuminaire")]
pub struct Luminaire {
    /// Its reference, unique in the plan.
    pub id: String,
    /// Part of the catalogue.
    pub part: String,
    /// Chainage where it starts (for a point: its hole's centre).
    pub start_mm: f64,
    /// Chainage where it ends (for a point: its hole's centre).
    pub end_mm: f64,
    /// Whether the hole is there already or was fixed by a person.
    pub fixed: bool,
}

impl From<&plan::LuminairePlan> for Luminaire {
    fn from(from: &plan::LuminairePlan) -> Self {
        Self {
            id: from.id.clone(),
            part: from.part.clone(),
            start_mm: from.start.to_mm(),
            end_mm: from.end.to_mm(),
            fixed: from.fixed,
        }
    }
}

/// Figures of a layout.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Pattern {
    /// `even_pattern` or `even_spacing`.
    pub kind: PatternKind,
    /// Number of luminaires.
    pub count: u32,
    /// Least gap between neighbours.
    pub least_gap_mm: Option<f64>,
    /// Greatest gap between neighbours.
    pub greatest_gap_mm: Option<f64>,
    /// Mean gap between neighbours.
    pub mean_gap_mm: Option<f64>,
    /// Greatest departure of a gap from the target.
    pub worst_departure_mm: f64,
    /// Chainage of the gap's start where that is.
    pub worst_at_mm: Option<f64>,
    /// Sum of squared departures.
    pub squares_mm2: f64,
}

impl From<&plan::PatternFigures> for Pattern {
    fn from(from: &plan::PatternFigures) -> Self {
        Self {
            kind: match from.kind {
                plan::PatternKind::EvenPattern => PatternKind::EvenPattern,
                plan::PatternKind::EvenSpacing => PatternKind::EvenSpacing,
            },
            count: from.count,
            least_gap_mm: from.least_gap.map(Length::to_mm),
            greatest_gap_mm: from.greatest_gap.map(Length::to_mm),
            mean_gap_mm: from.mean_gap_mm,
            worst_departure_mm: from.worst_departure.to_mm(),
            worst_at_mm: from.worst_at.map(Length::to_mm),
            squares_mm2: from.squares_mm2,
        }
    }
}

/// Figures of a layout of linear modules.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Lit {
    /// Sum of the modules' lengths.
    pub lit_mm: f64,
    /// Number of modules.
    pub pieces: u32,
    /// Clear lengths of slotted tube that modules could stand in.
    pub rooms: u32,
    /// Sum of those lengths.
    pub clear_mm: f64,
    /// Clips that hold the modules.
    pub clips: u32,
}

impl From<&plan::LitFigures> for Lit {
    fn from(from: &plan::LitFigures) -> Self {
        Self {
            lit_mm: from.lit.to_mm(),
            pieces: from.pieces,
            rooms: from.rooms,
            clear_mm: from.clear.to_mm(),
            clips: from.clips,
        }
    }
}

/// Kinds of pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum PatternKind {
    /// Equal bays get identical mirrored patterns.
    EvenPattern,
    /// Every gap as near the target as it can be.
    EvenSpacing,
}

/// Another layout.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Alternative {
    /// Its figures.
    pub figures: Pattern,
    /// Hole centres.
    pub chainages_mm: Vec<f64>,
}

impl From<&plan::Alternative> for Alternative {
    fn from(from: &plan::Alternative) -> Self {
        Self { figures: (&from.figures).into(), chainages_mm: from.chainages.iter().map(|c| c.to_mm()).collect() }
    }
}
