//! Feeds of several rails that share places: a driver may feed chains of more than one rail.
//!
//! # Model
//! Rails of one nominal voltage; each is a problem of [`crate::feeds`] for points or of [`crate::series`] for modules.
//! Places are the same where their ids are; their room is the least that any rail states. Parts are the same where their
//! names and outputs are. A *block* is a contiguous stretch of one rail's luminaires, cut into chains, that one driver
//! feeds. A *driver* is a part at a place with blocks of different rails, at most one of each.
//!
//! # Constraints
//! Those of each rail, and with `k_b`, `p_b` the chains and the power of block `b`:
//! - per driver `Σ k_b ≤ outputs`, `Σ p_b ≤` the least usable power that it has for any of its rails;
//! - per place the drivers of all rails `≤ room`;
//! - each lock of a rail has a block of its own on that rail; a driver may keep one lock of each of its rails.
//!
//! # Objective
//! Least `Σ drivers (the greatest cost that it has for any of its rails) + Σ chains (as on one rail)`. A driver's cost may
//! differ from rail to rail where an enclosure or a mains lead for the rail's exposure does. Rails for which no scheme keeps
//! every constraint have their best effort, take room first, and count neither in the cost nor in the bound; so do rails,
//! the last in order, that find no room beside the others.
//!
//! # Method
//! 1. Each rail alone. Rails fall into groups joined by places where two can use the same part or where room may run out
//!    ([`settle`]); a group's rails are ordered so that few places are a matter at a time.
//! 2. A floor, rail by rail, where each block pays its part of a driver that others may share
//!    ([`crate::feeds::charge`]). Where it is the sum of the rails alone, nothing can be saved, and that is the answer.
//! 3. Walks that keep every partial scheme which may still be cheapest ([`walk`], [`front`]), under rising ceilings
//!    ([`search`]): one that finds a scheme proves it cheapest, one that finds none raises the floor. Rails that share
//!    much with one another are walked side by side, others one after another ([`order`]).
//! 4. Where that takes long, better parts for the blocks raise the floor ([`weigh`]); where rails are walked one after
//!    another, so do walks from each rail to the last. Where it takes too long all the same, the best scheme is looked for
//!    stretch by stretch ([`improve`]).
//! 5. Floors know which locks of a rail are still to be kept ([`crate::feeds::missing`]). Room is kept count of only where
//!    the cheapest without would run out of it.
//!
//! Exact while the walks' patience lasts; beyond it the best found stands with the floor that was proved. Thirty rails in a
//! row are proved in a second; two long rails with many places in common are not, since how few drivers there must be is
//! not seen by floors that may share a driver out in parts. Memory is `O(rails of a group × tables × states of locks)` and
//! the partial schemes of one walk.
//!
//! # Example
//! Two flights of a stair, each with one chain of 18.00, and a driver with two outputs on the landing between them, 95.00
//! with its mains lead. Alone each flight costs 113.00; together they cost 95.00 + 2 × 18.00 = 131.00, the second scheme
//! without the driver's cost.

mod feeding;
mod front;
mod group;
mod improve;
mod order;
mod points;
mod pool;
mod rail_problem;
mod search;
mod settle;
mod walk;
mod weigh;
mod write;

use units::Money;

pub(crate) use rail_problem::RailProblem;
pub(crate) use search::PATIENCE;

use super::problem::Problem;
use super::scheme::Outcome;

/// The answer for rails that were considered together.
#[derive(Clone, Debug, PartialEq)]
pub struct Together<O = Outcome> {
    /// The answer for each rail, in the order asked. A driver that serves several rails appears in the scheme of each with
    /// the chains it feeds there and the load they are; its cost stands with the first of them and is zero with the others,
    /// so that the costs of the schemes add up to `cost`.
    pub outcomes: Vec<O>,
    /// Cost of all schemes together.
    pub cost: Money,
    /// Proven lower bound of the cost of all rails together; equal to `cost` where the optimum is proved.
    pub lower_bound: Money,
    /// Proven lower bound of what each rail costs by itself whatever the others do, in the order asked.
    pub lower_bounds: Vec<Money>,
    /// Drivers that serve more than one rail.
    pub shared: Vec<Shared>,
}

/// A driver that serves several rails.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shared {
    /// For each of its rails in order: position of the rail, and position of the driver in that rail's scheme.
    pub parts: Vec<(usize, usize)>,
}

/// The cheapest way to feed rails of one voltage that share places, or what stands in the way. Places are the same where
/// their ids are.
#[must_use]
pub fn solve_together(problems: &[&Problem]) -> Together {
    together(problems, PATIENCE)
}

/// The same where the search over each group of rails may compare no more than so many partial schemes; with few the best
/// found may not be the cheapest, which the lower bound then says.
#[must_use]
pub fn solve_together_within(problems: &[&Problem], comparisons: u64) -> Together {
    together(problems, comparisons)
}

/// The same for rails of points or of modules.
pub(crate) fn together<P: RailProblem>(problems: &[&P], comparisons: u64) -> Together<P::Outcome> {
    settle::settle(problems, comparisons)
}
