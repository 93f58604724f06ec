//! What a person has fixed on a rail, and what that costs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use units::Length;

use super::amount;

/// A lock of the brief with what it costs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedLock")]
#[ts(rename = "PlannedLock")]
pub struct Lock {
    /// What is kept where a person put it.
    pub kind: LockKind,
    /// Running dimension of a hole from the datum; null for a driver.
    pub chainage_mm: Option<f64>,
    /// The driver place; null for a hole.
    pub place: Option<String>,
    /// The driver's part, where that is fixed too.
    pub part: Option<String>,
    /// What this lock alone changes.
    #[serde(flatten)]
    #[ts(flatten)]
    pub effect: LockEffect,
}

/// What can be locked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
pub enum LockKind {
    /// A hole.
    Hole,
    /// A driver.
    Driver,
}

/// What locks change: the plan with them against the plan without, everything else being equal.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct LockEffect {
    /// Cost of feeds with the lock less the cost without it, in the currency of the plan; null where no scheme keeps every
    /// limit with it, or without it, or where it was not worked out. Never below 0 for a driver; a hole may save cost at the expense of the spacing.
    pub cost: Option<f64>,
    /// Whether both costs are proved to be the least.
    pub exact: bool,
    /// Whether it was worked out: very many locks are weighed together only, or not at all.
    pub weighed: bool,
    /// Worst departure of a gap from the target in the plan; null where no hole is locked.
    pub departure_mm: Option<f64>,
    /// The same without the lock.
    pub departure_without_mm: Option<f64>,
    /// Luminaires in the plan; null where no hole is locked.
    pub luminaires: Option<u32>,
    /// The same without the lock.
    pub luminaires_without: Option<u32>,
}

impl From<&plan::LockPlan> for Lock {
    fn from(from: &plan::LockPlan) -> Self {
        let effect = from.effect.into();
        match &from.lock {
            plan::Lock::Hole { chainage } => {
                Self { kind: LockKind::Hole, chainage_mm: Some(chainage.to_mm()), place: None, part: None, effect }
            }
            plan::Lock::Driver { place, part } => Self {
                kind: LockKind::Driver,
                chainage_mm: None,
                place: Some(place.to_string()),
                part: part.clone(),
                effect,
            },
        }
    }
}

impl From<plan::LockEffect> for LockEffect {
    fn from(from: plan::LockEffect) -> Self {
        let spacing = from.spacing;
        Self {
            cost: from.cost.map(amount),
            exact: from.exact,
            weighed: from.weighed,
            departure_mm: spacing.map(|spacing| Length::to_mm(spacing.departure)),
            departure_without_mm: spacing.map(|spacing| Length::to_mm(spacing.departure_without)),
            luminaires: spacing.map(|spacing| spacing.luminaires),
            luminaires_without: spacing.map(|spacing| spacing.luminaires_without),
        }
    }
}
