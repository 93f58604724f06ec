//! Feeds for the modules of every rail: the cheapest scheme of each, drivers and chains with their names, every chain solved.

use std::collections::BTreeMap;

use survey::Id;
use units::{Money, Watts};

use super::ModulesDraft;
use super::feeding::{ModuleCase, needs_box};
use super::network::{ModuleNetwork, solve_chain};
use super::outcome::outcome_findings;
use crate::build::canonical::Inputs;
use crate::build::circuits::{CircuitFacts, CircuitNames, circuit_of};
use crate::build::draft::RailDraft;
use crate::build::feeding::Proposed;
use crate::build::passage;
use crate::build::supply::PlaceSource;
use crate::document::{Circuit, DriverPlan, Objective, OutputPlan};
use crate::feeds::{Mains, side_by_side};
use crate::series::{self, Chain, FedDriver, Outcome, Scheme};

/// A rail of modules with its feeds.
pub(crate) struct ModuleRail<'a> {
    /// Position of its draft.
    pub draft: usize,
    /// What the feeds were chosen from.
    pub case: ModuleCase<'a>,
    /// Its drivers, in order of the chainage of their first way in.
    pub drivers: Vec<ModuleDriver>,
}

/// A driver with its chains of modules.
pub(crate) struct ModuleDriver {
    /// The driver of the plan.
    pub plan: DriverPlan,
    /// Position of its place in the case.
    pub place: usize,
    /// Position of its part in the case.
    pub part: usize,
    /// Whether an enclosure is bought for it.
    pub enclosed: bool,
    /// Its chains.
    pub chains: Vec<ModuleChain>,
}

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

/// A rail whose feeds are chosen and not yet named.
pub(crate) struct Chosen<'a> {
    /// Position of its draft.
    pub draft: usize,
    case: ModuleCase<'a>,
    outcome: Outcome,
    bound: Money,
}

/// Chooses the feeds of every rail of modules, in order of id, with the room that other rails have left at each place. The
/// bound of each rail is that of its free choice.
pub(crate) fn choose<'a>(cases: Vec<(usize, ModuleCase<'a>)>, used: &mut BTreeMap<Id, u32>) -> Vec<Chosen<'a>> {
    let outcomes = side_by_side::each(&cases, |(_, case)| series::solve(&case.problem));
    cases
        .into_iter()
        .zip(outcomes)
        .map(|((draft, mut case), mut outcome)| {
            let bound = match &outcome {
                Outcome::Solved(scheme) => scheme.cost,
                Outcome::Infeasible(_) => Money::ZERO,
            };
            if case.proposed == Proposed::No {
                let mut tight = false;
                for (index, count) in by_place(&outcome) {
                    let place = &case.problem.places[index];
                    let taken = used.get(&place.id).copied().unwrap_or(0);
                    tight |= place.room.is_some_and(|room| taken.saturating_add(count) > room);
                }
                if tight {
                    for place in &mut case.problem.places {
                        let taken = used.get(&place.id).copied().unwrap_or(0);
                        place.room = place.room.map(|room| room.saturating_sub(taken));
                    }
                    outcome = series::solve(&case.problem);
                }
                for (index, count) in by_place(&outcome) {
                    *used.entry(case.problem.places[index].id.clone()).or_default() += count;
                }
            }
            Chosen { draft, case, outcome, bound }
        })
        .collect()
}

fn scheme(outcome: &Outcome) -> Option<&Scheme> {
    match outcome {
        Outcome::Solved(scheme) => Some(scheme),
        Outcome::Infeasible(why) => why.best_effort.as_ref(),
    }
}

fn by_place(outcome: &Outcome) -> BTreeMap<usize, u32> {
    let mut counts = BTreeMap::new();
    for driver in scheme(outcome).into_iter().flat_map(|scheme| &scheme.drivers) {
        *counts.entry(driver.place).or_default() += 1;
    }
    counts
}

/// Names the drivers and chains of a rail, solves every chain, and writes objective, findings and what holds the papers
/// back into the draft.
pub(crate) fn finish<'a>(
    inputs: &'a Inputs,
    draft: &mut RailDraft<'a>,
    chosen: Chosen<'a>,
    numbers: &mut u32,
) -> ModuleRail<'a> {
    let Chosen { draft: position, case, outcome, bound } = chosen;
    draft.findings.extend(outcome_findings(inputs, draft, &case, &outcome));
    let mut scheme = scheme(&outcome).cloned().unwrap_or_default();
    draft.plan.objective = Objective { cost: scheme.cost, lower_bound: bound.min(scheme.cost) };
    let feed = |driver: &FedDriver| {
        let chainages = driver.chains.iter().map(|chain| case.problem.ways_in[chain.way_in].chainage);
        (chainages.min(), driver.chains.first().map(|chain| chain.first))
    };
    scheme.drivers.sort_by_key(feed);
    let modules = draft.modules.take();
    let mut drivers = Vec::with_capacity(scheme.drivers.len());
    for fed in scheme.drivers {
        *numbers += 1;
        let id = format!("D{numbers}");
        if let Some(modules) = &modules {
            drivers.push(driver(inputs, draft, modules, &case, &fed, id));
        }
    }
    draft.modules = modules;
    ModuleRail { draft: position, case, drivers }
}

fn driver(
    inputs: &Inputs,
    draft: &mut RailDraft<'_>,
    modules: &ModulesDraft<'_>,
    case: &ModuleCase<'_>,
    fed: &FedDriver,
    id: String,
) -> ModuleDriver {
    let place = &case.places[fed.place];
    let mut chains = Vec::new();
    let mut outputs = Vec::new();
    for (index, chain) in fed.chains.iter().enumerate() {
        let output = format!("{id}.{}", index + 1);
        let name = format!("{output}a");
        let Some(network) = solve_chain(case, draft, modules, chain, fed.driver) else { continue };
        let served = &case.problem.modules[chain.first..=chain.last];
        let facts = CircuitFacts {
            rail: &draft.rail.id,
            way_in: Some(case.problem.ways_in[chain.way_in].id.clone()),
            nominal: case.problem.nominal,
            drop_permille: case.problem.drop_permille,
            least: served.iter().map(|module| module.least).max().unwrap_or(case.problem.nominal),
            warm: case.warm,
            short_circuit: case.drivers.get(fed.driver).map(|driver| driver.short_circuit),
        };
        let names = CircuitNames { circuit: name.clone(), driver: id.clone(), output: output.clone() };
        let circuit = circuit_of(&network.cases, facts, names);
        let way_in = &case.problem.ways_in[chain.way_in].id;
        let routes = &case.problem.paths[chain.path].routes;
        draft.plan.not_ready.extend(passage::unproved_way(&inputs.survey, draft.rail, way_in, routes));
        outputs.push(OutputPlan {
            id: output,
            circuits: vec![name],
            amps: network.cases.greatest_source_amps().unwrap_or(chain.amps),
            limit: case.problem.drivers[fed.driver].output_limit,
        });
        let decoder = chain.decoder.and_then(|part| case.decoders.get(part));
        let boxed = decoder.is_some_and(|part| needs_box(&part.ingress, &inputs.survey, draft, place));
        chains.push(ModuleChain { circuit, chain: chain.clone(), network, boxed });
    }
    let enclosed = needs_box(&case.drivers[fed.driver].ingress, &inputs.survey, draft, place);
    ModuleDriver { plan: driver_plan(case, fed, id, outputs), place: fed.place, part: fed.driver, enclosed, chains }
}

fn driver_plan(case: &ModuleCase<'_>, fed: &FedDriver, id: String, outputs: Vec<OutputPlan>) -> DriverPlan {
    let option = &case.problem.drivers[fed.driver];
    let place = &case.places[fed.place];
    let fits = &case.problem.places[fed.place].fits;
    let (surveyed, proposed) = match &place.source {
        PlaceSource::Surveyed(found) => (Some(found.id.clone()), None),
        PlaceSource::Proposed { words } => (None, Some(words.clone())),
    };
    DriverPlan {
        id,
        part: option.part.clone(),
        place: surveyed,
        proposed,
        mains_point: match &place.mains {
            Mains::Route { point, .. } => Some(point.clone()),
            Mains::Assumed | Mains::Unreached => None,
        },
        outputs,
        load: Watts::checked(fed.load.get()).unwrap_or(Watts::ZERO),
        rated: option.rated,
        usable: fed.usable,
        derating: fits.iter().find(|fit| fit.driver == fed.driver).map_or(0.0, |fit| fit.share),
        reserve_percent: option.reserve_percent,
    }
}
