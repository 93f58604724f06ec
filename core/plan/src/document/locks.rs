//! What a person has fixed on a rail, and what that costs.

use survey::Id;
use units::{Length, Money};

/// A lock of the brief with what it costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LockPlan {
    /// What is kept where a person put it.
    pub lock: Lock,
    /// What this lock alone changes: every other lock of the rail stays.
    pub effect: LockEffect,
}

/// What is kept where a person put it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lock {
    /// A hole.
    Hole {
        /// Its running dimension from the datum.
        chainage: Length,
    },
    /// A driver.
    Driver {
        /// The driver place.
        place: Id,
        /// The part, where that is fixed too.
        part: Option<String>,
    },
}

/// What locks change: the plan with them less the plan without, everything else being equal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LockEffect {
    /// Cost of feeds, over all rails that are fed or laid out together with this one. A driver's lock never makes it less;
    /// a hole's may, since holes are set out for their spacing and not for the cost of feeds. `None` where no scheme keeps
    /// every limit with the lock, or without it, and where it was not worked out.
    pub cost: Option<Money>,
    /// Whether both costs are proved to be the least, so that the difference is exact.
    pub exact: bool,
    /// Whether it was worked out at all: a site with very many locks is not planned anew without each of them.
    pub weighed: bool,
    /// What becomes of the spacing, where a hole is locked on a rail of points.
    pub spacing: Option<SpacingEffect>,
}

/// What locked holes do to the spacing of a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpacingEffect {
    /// Greatest departure of a gap from the target in the plan, with the lock.
    pub departure: Length,
    /// The same without the lock.
    pub departure_without: Length,
    /// Luminaires in the plan, with the lock.
    pub luminaires: u32,
    /// The same without the lock.
    pub luminaires_without: u32,
}
