//! Rails of modules among those that are fed: what is chosen from, the answer, and chains as networks.

use survey::Finding;
use units::Amps;

use super::feeding::ModuleCase;
use super::network::{ModuleNetwork, solve_chain};
use super::outcome::outcome_findings;
use crate::build::behind::Behind;
use crate::build::canonical::Inputs;
use crate::build::circuits::{CircuitFacts, CircuitNames, circuit_of};
use crate::build::draft::RailDraft;
use crate::build::drivers::{PoweredRail, RailDriver};
use crate::build::feeding::needs_box;
use crate::build::rail_case::{DriverOfScheme, Feed, RailCase};
use crate::document::Circuit;
use crate::memory::{Answers, Memory};
use crate::series::{Chain, Outcome, Problem};

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

impl<'a> RailCase<'a> for ModuleCase<'a> {
    type Problem = Problem;
    type Outcome = Outcome;
    type Chain = Chain;
    type Powered = ModuleChain;

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
        memory.modules()
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
            warm: self.behind.warm,
            short_circuit: self.behind.drivers.get(driver.part).map(|driver| driver.short_circuit),
        };
        let circuit = circuit_of(&network.cases, facts, names);
        let amps = network.cases.greatest_source_amps().unwrap_or(chain.amps);
        let decoder = chain.decoder.and_then(|part| self.decoders.get(part));
        let place = &self.behind.places[driver.place];
        let boxed = decoder.is_some_and(|part| needs_box(&part.ingress, &inputs.survey, draft, place));
        Some((ModuleChain { circuit, chain, network, boxed }, amps))
    }
}
