//! Rails of modules among those that are fed: what is chosen from, the answer, and chains as networks.

use catalogue::{Driver, Lead};
use survey::{DriverLock, Finding};
use units::{Amps, Money, Volts};

use super::feeding::ModuleCase;
use super::network::{ModuleNetwork, solve_chain};
use super::outcome::outcome_findings;
use crate::build::canonical::Inputs;
use crate::build::circuits::{CircuitFacts, CircuitNames, circuit_of};
use crate::build::draft::RailDraft;
use crate::build::drivers::{PoweredRail, RailDriver};
use crate::build::feeding::{Proposed, needs_box};
use crate::build::rail_case::{DrawnDriver, DriverOfScheme, Feed, RailCase};
use crate::build::supply::PlaceForRail;
use crate::build::together::Answer;
use crate::document::Circuit;
use crate::feeds::{DriverOption, Place, WayIn};
use crate::series::{self, Chain, Outcome, Scheme};

/// A rail of modules with its feeds.
pub(crate) type ModuleRail<'a> = PoweredRail<ModuleCase<'a>, ModuleChain>;

/// What a driver feeds on a rail of modules.
pub(crate) type ModuleDriver = RailDriver<ModuleChain>;

/// A chain of modules with its network.
pub(crate) struct ModuleChain {
    /// The circuit of the plan.
    pub circuit: Circuit,
    /// What was chosen for it.
    pub chain: Chain,
    /// Its network in both cases.
    pub network: ModuleNetwork,
    /// Whether an enclosure is bought for its decoder.
    pub boxed: bool,
}

/// The scheme that is drawn: the cheapest, else the best effort.
fn scheme(outcome: &Outcome) -> Option<&Scheme> {
    match outcome {
        Outcome::Solved(scheme) => Some(scheme),
        Outcome::Infeasible(why) => why.best_effort.as_ref(),
    }
}

impl<'a> RailCase<'a> for ModuleCase<'a> {
    type Outcome = Outcome;
    type Chain = Chain;
    type Powered = ModuleChain;

    const SHARES: bool = false;

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
        let outcomes: Vec<Outcome> = cases.iter().map(|case| series::solve(&case.problem)).collect();
        let lower_bounds: Vec<Money> =
            outcomes.iter().map(|outcome| Self::proved_cost(outcome).unwrap_or(Money::ZERO)).collect();
        Answer { outcomes, lower_bound: lower_bounds.iter().copied().sum(), lower_bounds, shared: vec![] }
    }

    fn proved_cost(outcome: &Outcome) -> Option<Money> {
        match outcome {
            Outcome::Solved(scheme) => Some(scheme.cost),
            Outcome::Infeasible(_) => None,
        }
    }

    fn cost(outcome: &Outcome) -> Money {
        scheme(outcome).map_or(Money::ZERO, |scheme| scheme.cost)
    }

    fn stands(outcome: &Outcome) -> Vec<usize> {
        scheme(outcome).into_iter().flat_map(|scheme| &scheme.drivers).map(|driver| driver.place).collect()
    }

    fn drawn(outcome: &Outcome) -> Vec<DrawnDriver<Chain>> {
        let drawn = |fed: &series::FedDriver| DrawnDriver {
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
        inputs: &Inputs,
        draft: &RailDraft<'_>,
        driver: DriverOfScheme,
        chain: Chain,
        names: CircuitNames,
    ) -> Option<(ModuleChain, Amps)> {
        let modules = draft.modules.as_ref()?;
        let network = solve_chain(self, draft, modules, &chain, driver.part)?;
        let served = &self.problem.modules[chain.first..=chain.last];
        let facts = CircuitFacts {
            rail: &draft.rail.id,
            way_in: Some(self.problem.ways_in[chain.way_in].id.clone()),
            nominal: self.problem.nominal,
            drop_permille: self.problem.drop_permille,
            least: served.iter().map(|module| module.least).max().unwrap_or(self.problem.nominal),
            warm: self.warm,
            short_circuit: self.drivers.get(driver.part).map(|driver| driver.short_circuit),
        };
        let circuit = circuit_of(&network.cases, facts, names);
        let amps = network.cases.greatest_source_amps().unwrap_or(chain.amps);
        let decoder = chain.decoder.and_then(|part| self.decoders.get(part));
        let place = &self.places[driver.place];
        let boxed = decoder.is_some_and(|part| needs_box(&part.ingress, &inputs.survey, draft, place));
        Some((ModuleChain { circuit, chain, network, boxed }, amps))
    }
}
