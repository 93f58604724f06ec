//! Rails of points among those that are fed: what is chosen from, the answer, and chains as networks.

use catalogue::{Driver, Lead};
use survey::{DriverLock, Finding};
use units::{Amps, Money, Volts};

use super::canonical::Inputs;
use super::circuits::{CircuitNames, circuit};
use super::draft::RailDraft;
use super::drivers::{PoweredRail, RailDriver};
use super::feeding::{FeedCase, Proposed};
use super::network::{ChainNetwork, solve_chain};
use super::outcome::outcome_findings;
use super::rail_case::{DrawnDriver, DriverOfScheme, Feed, RailCase};
use super::supply::PlaceForRail;
use super::together::Answer;
use crate::document::Circuit;
use crate::feeds::{Chain, DriverOption, Outcome, Place, Problem, Scheme, WayIn, solve_together};

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

/// The scheme that is drawn: the cheapest, else the best effort.
fn scheme(outcome: &Outcome) -> Option<&Scheme> {
    match outcome {
        Outcome::Solved(solved) => Some(&solved.scheme),
        Outcome::Infeasible(infeasible) => infeasible.best_effort.as_ref(),
        Outcome::Refused(_) => None,
    }
}

impl<'a> RailCase<'a> for FeedCase<'a> {
    type Outcome = Outcome;
    type Chain = Chain;
    type Powered = PointChain;

    const SHARES: bool = true;

    fn nominal(&self) -> Volts {
        self.problem.nominal
    }

    fn mains(&self) -> Option<&'a Lead> {
        self.mains
    }

    fn proposed(&self) -> Proposed {
        self.proposed
    }

    fn options(&self) -> &[DriverOption] {
        &self.problem.drivers
    }

    fn parts(&self) -> &[&'a Driver] {
        &self.drivers
    }

    fn places(&self) -> &[Place] {
        &self.problem.places
    }

    fn places_mut(&mut self) -> &mut [Place] {
        &mut self.problem.places
    }

    fn sources(&self) -> &[PlaceForRail<'a>] {
        &self.places
    }

    fn ways_in(&self) -> &[WayIn] {
        &self.problem.ways_in
    }

    fn locks_mut(&mut self) -> &mut Vec<DriverLock> {
        &mut self.problem.locks
    }

    fn cheapest(cases: &[&Self]) -> Answer<Outcome> {
        let problems: Vec<&Problem> = cases.iter().map(|case| &case.problem).collect();
        let together = solve_together(&problems);
        Answer {
            outcomes: together.outcomes,
            lower_bound: together.lower_bound,
            lower_bounds: together.lower_bounds,
            shared: together.shared,
        }
    }

    fn proved_cost(outcome: &Outcome) -> Option<Money> {
        match outcome {
            Outcome::Solved(solved) => Some(solved.scheme.cost),
            Outcome::Infeasible(_) | Outcome::Refused(_) => None,
        }
    }

    fn cost(outcome: &Outcome) -> Money {
        scheme(outcome).map_or(Money::ZERO, |scheme| scheme.cost)
    }

    fn stands(outcome: &Outcome) -> Vec<usize> {
        scheme(outcome).into_iter().flat_map(|scheme| &scheme.drivers).map(|driver| driver.place).collect()
    }

    fn drawn(outcome: &Outcome) -> Vec<DrawnDriver<Chain>> {
        let drawn = |fed: &crate::feeds::FedDriver| DrawnDriver {
            driver: DriverOfScheme { place: fed.place, part: fed.driver, load: fed.load, usable: fed.usable },
            chains: fed.chains.clone(),
        };
        scheme(outcome).into_iter().flat_map(|scheme| &scheme.drivers).map(drawn).collect()
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
