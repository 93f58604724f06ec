//! Feeds of several rails that share places: a driver may feed chains of more than one rail.
mod group;
mod pool;
mod search;
mod settle;
mod walk;
mod write;

use units::Money;

use super::problem::Problem;
use super::scheme::Outcome;

/// The answer for rails that were considered together.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// The answer for each rail, in the order asked. A driver that serves several rails appears in the scheme of each with
    /// the chains it feeds there and the load they are; its cost stands with the first of them and is zero with the others,
    /// so that the costs of the schemes add up to `cost`.
    pub outcomes: Vec<Outcome>,
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
    settle::settle(problems, search::PATIENCE)
}
