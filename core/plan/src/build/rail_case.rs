//! What the feeds of a rail are chosen from, as far as points and modules are alike in it.

use survey::{Finding, Id};
use units::{Amps, Length, Money, Watts};

use super::behind::Behind;
use super::canonical::Inputs;
use super::circuits::CircuitNames;
use super::draft::RailDraft;
use crate::feeds::together::RailProblem;
use crate::feeds::{FedDriver, Together};
use crate::memory::{Answers, Memory};

/// What the feeds of a rail of points or of modules are chosen from.
pub(crate) trait RailCase<'a>: Clone + Send + Sync {
    /// The problem that it is.
    type Problem: RailProblem<Outcome = Self::Outcome, Chain = Self::Chain>;
    /// The answer for one rail.
    type Outcome: Clone + Send + Sync;
    /// A chain as it was chosen.
    type Chain: Clone + Send + Sync;
    /// A chain with its network.
    type Powered;

    /// The problem.
    fn problem(&self) -> &Self::Problem;
    /// The same, to change it.
    fn problem_mut(&mut self) -> &mut Self::Problem;
    /// What stands behind its numbers.
    fn behind(&self) -> &Behind<'a>;
    /// What there is to say about an answer.
    fn findings(&self, inputs: &Inputs, draft: &RailDraft<'_>, outcome: &Self::Outcome) -> Vec<Finding>;
    /// Where a chain is fed.
    fn feed(&self, chain: &Self::Chain) -> Feed<'_>;
    /// A chain with its network solved, and the greatest current of its source; `None` where it cannot be built.
    fn powered(
        &self,
        inputs: &Inputs,
        draft: &RailDraft<'_>,
        driver: DriverOfScheme,
        chain: Self::Chain,
        names: CircuitNames,
    ) -> Option<(Self::Powered, Amps)>;

    /// What earlier plans have answered for rails of this kind.
    fn answers(memory: &Memory) -> &Answers<Self::Problem>;

    /// The cheapest feeds of several rails that may share drivers.
    fn cheapest(cases: &[&Self], memory: &Memory) -> Together<Self::Outcome> {
        let problems: Vec<&Self::Problem> = cases.iter().map(|case| case.problem()).collect();
        Self::answers(memory).cheapest(&problems)
    }

    /// Cost of the cheapest scheme; `None` where no scheme keeps every limit.
    fn proved_cost(outcome: &Self::Outcome) -> Option<Money> {
        Self::Problem::solved(outcome).map(|scheme| scheme.cost)
    }

    /// Cost of the scheme that is drawn: the cheapest, else the best effort.
    fn cost(outcome: &Self::Outcome) -> Money {
        Self::Problem::drawn(outcome).map_or(Money::ZERO, |scheme| scheme.cost)
    }

    /// The drivers of that scheme with their chains.
    fn drawn(outcome: &Self::Outcome) -> &[FedDriver<Self::Chain>] {
        Self::Problem::drawn(outcome).map_or(&[], |scheme| &scheme.drivers)
    }
}

/// A driver of a scheme.
#[derive(Clone, Copy, Debug)]
pub(crate) struct DriverOfScheme {
    /// Position of its place.
    pub place: usize,
    /// Position of its part.
    pub part: usize,
    /// Power reckoned for its chains on the rail.
    pub load: Watts,
    /// Power that may be drawn from it.
    pub usable: Watts,
}

impl<C> From<&FedDriver<C>> for DriverOfScheme {
    fn from(fed: &FedDriver<C>) -> Self {
        Self { place: fed.place, part: fed.driver, load: fed.load, usable: fed.usable }
    }
}

/// Where a chain is fed.
pub(crate) struct Feed<'c> {
    /// The way in.
    pub way_in: &'c Id,
    /// Where that is.
    pub chainage: Length,
    /// The routes of its lead.
    pub routes: &'c [Id],
    /// Position of its first luminaire.
    pub first: usize,
}
