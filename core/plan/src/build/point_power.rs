//! Rails of points among those that are fed: what is chosen from, the answer, and chains as networks.

use survey::Finding;
use units::Amps;

use super::behind::Behind;
use super::canonical::Inputs;
use super::circuits::{CircuitNames, circuit};
use super::draft::RailDraft;
use super::drivers::{PoweredRail, RailDriver};
use super::feeding::FeedCase;
use super::network::{ChainNetwork, solve_chain};
use super::outcome::outcome_findings;
use super::rail_case::{DriverOfScheme, Feed, RailCase};
use crate::document::Circuit;
use crate::feeds::{Chain, Outcome, Problem};
use crate::memory::{Answers, Memory};

/// A rail of points with its feeds.
pub(crate) type PointRail<'a> = PoweredRail<FeedCase<'a>, PointChain>;

/// What a driver feeds on a rail of points.
pub(crate) type PointDriver = RailDriver<PointChain>;

/// A chain of points with its network.
pub(crate) struct PointChain {
    /// The circuit of the plan.
    pub circuit: Circuit,
    /// What was chosen for it.
    pub chain: Chain,
    /// Its network in both cases.
    pub network: ChainNetwork,
}

impl<'a> RailCase<'a> for FeedCase<'a> {
    type Problem = Problem;
    type Outcome = Outcome;
    type Chain = Chain;
    type Powered = PointChain;

    fn problem(&self) -> &Problem {
        &self.problem
    }

    fn problem_mut(&mut self) -> &mut Problem {
        &mut self.problem
    }

    fn behind(&self) -> &Behind<'a> {
        &self.behind
    }

    fn answers(memory: &Memory) -> &Answers<Problem> {
        memory.points()
    }

    fn findings(&self, inputs: &Inputs, draft: &RailDraft<'_>, outcome: &Outcome) -> Vec<Finding> {
        outcome_findings(inputs, draft, self, outcome)
    }

    fn feed(&self, chain: &Chain) -> Feed<'_> {
        let way_in = &self.problem.ways_in[chain.way_in];
        Feed {
            way_in: &way_in.id,
            chainage: way_in.chainage,
            routes: &self.problem.paths[chain.path].routes,
            first: chain.first,
        }
    }

    fn powered(
        &self,
        _: &Inputs,
        draft: &RailDraft<'_>,
        driver: DriverOfScheme,
        chain: Chain,
        names: CircuitNames,
    ) -> Option<(PointChain, Amps)> {
        let network = solve_chain(self, draft, &chain, driver.part)?;
        let circuit = circuit(self, draft, &chain, driver.part, &network, names);
        let amps = network.cases.greatest_source_amps().unwrap_or(chain.amps);
        Some((PointChain { circuit, chain, network }, amps))
    }
}
