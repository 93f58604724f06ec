//! Feeds for every rail: the cheapest scheme of each, drivers and chains with their names, every chain solved.

use std::collections::BTreeMap;

use survey::{Id, RouteEnd};
use units::{Money, Watts};

use super::canonical::Inputs;
use super::circuits::{CircuitNames, circuit};
use super::draft::RailDraft;
use super::feeding::{FeedCase, Proposed, feed_case, needs_enclosure};
use super::modules::feeding::{ModuleCase, module_case};
use super::modules::{self, power::ModuleRail};
use super::network::{ChainNetwork, solve_chain};
use super::outcome::outcome_findings;
use super::passage;
use super::say::say;
use super::supply::{PlaceSource, SiteWays, ways_in};
use crate::document::{Circuit, DriverPlan, Objective, OutputPlan};
use crate::feeds::{self, Chain, FedDriver, Mains, Outcome, Scheme, WayIn};

/// A rail with its feeds.
pub(crate) struct PoweredRail<'a> {
    /// Position of its draft.
    pub draft: usize,
    /// What the feeds were chosen from.
    pub case: FeedCase<'a>,
    /// Its drivers, in order of the chainage of their first way in.
    pub drivers: Vec<PoweredDriver>,
}

/// A driver with its chains.
pub(crate) struct PoweredDriver {
    /// The driver of the plan.
    pub plan: DriverPlan,
    /// Position of its place in the feed case.
    pub place: usize,
    /// Position of its part in the feed case.
    pub part: usize,
    /// Whether an enclosure is bought for it.
    pub enclosed: bool,
    /// Its chains.
    pub chains: Vec<PoweredChain>,
}

/// A chain with its network.
pub(crate) struct PoweredChain {
    /// The circuit of the plan.
    pub circuit: Circuit,
    /// What was chosen for it.
    pub chain: Chain,
    /// Its network in both cases.
    pub network: ChainNetwork,
}

/// Rails with their feeds, points and modules apart, each in order of draft.
pub(crate) struct Powered<'a> {
    /// Rails of points.
    pub points: Vec<PoweredRail<'a>>,
    /// Rails of modules.
    pub modules: Vec<ModuleRail<'a>>,
}

/// Feeds every draft that has luminaires, and writes objective, findings and what holds the drilling back into it.
pub(crate) fn power<'a>(inputs: &'a Inputs, starts: &'a [RouteEnd], drafts: &mut [RailDraft<'a>]) -> Powered<'a> {
    let ways = SiteWays::of(&inputs.survey, starts);
    let mut cases: Vec<(usize, FeedCase<'a>)> = Vec::new();
    let mut module_cases: Vec<(usize, ModuleCase<'a>)> = Vec::new();
    for (position, draft) in drafts.iter_mut().enumerate() {
        if draft.plan.luminaires.is_empty() {
            continue;
        }
        if ways_in(draft.rail).is_empty() {
            draft.findings.push(no_way_in(draft));
        } else if let Some(modules) = &draft.modules {
            module_cases.push((position, module_case(inputs, &ways, draft, modules)));
        } else if let Some(case) = feed_case(inputs, &ways, draft) {
            cases.push((position, case));
        }
    }
    let outcomes = feeds::side_by_side::each(&cases, |(_, case)| feeds::solve(&case.problem));
    let mut chosen: Vec<(usize, FeedCase<'a>, Outcome)> =
        cases.into_iter().zip(outcomes).map(|((position, case), outcome)| (position, case, outcome)).collect();
    let bounds: Vec<Money> = chosen.iter().map(|(_, _, outcome)| bound(outcome)).collect();
    let mut used = share_room(&mut chosen);
    // Rails of modules take the room that rails of points have left.
    let mut modules_chosen = modules::power::choose(module_cases, &mut used).into_iter().peekable();
    let mut numbers = 0;
    let mut powered = Powered { points: Vec::new(), modules: Vec::new() };
    for ((position, case, outcome), lower_bound) in chosen.into_iter().zip(bounds) {
        // Drivers are numbered in order of rail, whatever stands on it.
        while let Some(earlier) = modules_chosen.next_if(|own| own.draft < position) {
            powered.modules.push(finish_modules(inputs, drafts, earlier, &mut numbers));
        }
        let draft = &mut drafts[position];
        draft.findings.extend(outcome_findings(inputs, draft, &case, &outcome));
        if case.proposed == Proposed::Yes {
            draft.findings.push(survey_a_place(draft, &case.problem.ways_in));
        }
        let scheme = scheme(&outcome).cloned().unwrap_or_default();
        draft.plan.objective = Objective { cost: scheme.cost, lower_bound: lower_bound.min(scheme.cost) };
        let drivers = drivers(inputs, draft, &case, scheme, &mut numbers);
        powered.points.push(PoweredRail { draft: position, case, drivers });
    }
    for rest in modules_chosen {
        powered.modules.push(finish_modules(inputs, drafts, rest, &mut numbers));
    }
    powered
}

fn finish_modules<'a>(
    inputs: &'a Inputs,
    drafts: &mut [RailDraft<'a>],
    chosen: modules::power::Chosen<'a>,
    numbers: &mut u32,
) -> ModuleRail<'a> {
    let draft = &mut drafts[chosen.draft];
    let rail = modules::power::finish(inputs, draft, chosen, numbers);
    if rail.case.proposed == Proposed::Yes {
        draft.findings.push(survey_a_place(draft, &rail.case.problem.ways_in));
    }
    rail
}

/// The proved bound of an outcome; nothing is proved where no scheme keeps every constraint.
fn bound(outcome: &Outcome) -> Money {
    match outcome {
        Outcome::Solved(solved) => solved.lower_bound,
        Outcome::Infeasible(_) | Outcome::Refused(_) => Money::ZERO,
    }
}

/// The scheme that is drawn: the cheapest, else the best effort.
fn scheme(outcome: &Outcome) -> Option<&Scheme> {
    match outcome {
        Outcome::Solved(solved) => Some(&solved.scheme),
        Outcome::Infeasible(infeasible) => infeasible.best_effort.as_ref(),
        Outcome::Refused(_) => None,
    }
}

/// Where rails together ask for more drivers at a place than it has room for, rails choose again in order of id with
/// the room that is left. The bound of each rail stays that of its free choice.
fn share_room(chosen: &mut [(usize, FeedCase<'_>, Outcome)]) -> BTreeMap<Id, u32> {
    let mut used: BTreeMap<Id, u32> = BTreeMap::new();
    for (_, case, outcome) in chosen.iter_mut() {
        if case.proposed == Proposed::Yes {
            continue;
        }
        let mut tight = false;
        for (index, count) in drivers_by_place(outcome) {
            let place = &case.problem.places[index];
            let taken = used.get(&place.id).copied().unwrap_or(0);
            tight |= place.room.is_some_and(|room| taken.saturating_add(count) > room);
        }
        if tight {
            for place in &mut case.problem.places {
                let taken = used.get(&place.id).copied().unwrap_or(0);
                place.room = place.room.map(|room| room.saturating_sub(taken));
            }
            *outcome = feeds::solve(&case.problem);
        }
        for (index, count) in drivers_by_place(outcome) {
            *used.entry(case.problem.places[index].id.clone()).or_default() += count;
        }
    }
    used
}

fn drivers_by_place(outcome: &Outcome) -> BTreeMap<usize, u32> {
    let mut counts = BTreeMap::new();
    for driver in scheme(outcome).into_iter().flat_map(|scheme| &scheme.drivers) {
        *counts.entry(driver.place).or_default() += 1;
    }
    counts
}

fn no_way_in(draft: &RailDraft<'_>) -> survey::Finding {
    say(
        survey::Verdict::Stop,
        "way-in",
        survey::Subject::Rail(draft.rail.id.clone()),
        "no way in was surveyed on this rail, so its luminaires are laid out and not fed",
        "find where a cable can enter the tube (an open end, a cap that comes off, a hollow post) and survey it as a \
         way in",
    )
}

fn survey_a_place(draft: &RailDraft<'_>, ways_in: &[WayIn]) -> survey::Finding {
    let near: Vec<String> =
        ways_in.iter().map(|way_in| super::supply::name_of(draft.rail, &way_in.id).to_owned()).collect();
    say(
        survey::Verdict::Stop,
        "driver-place",
        survey::Subject::Rail(draft.rail.id.clone()),
        format!(
            "no surveyed driver place is joined by a route to a way in of this rail; the plan takes one for granted \
             within {} m of a way in, with no mains",
            super::supply::PROPOSED_ROUTE.to_m()
        ),
        format!(
            "survey a place: one that can be reached without dismantling, near the way in {}, with a route to it and \
             a route to a mains point",
            near.join(" or ")
        ),
    )
}

/// The drivers of a scheme, named, with every chain solved.
fn drivers(
    inputs: &Inputs,
    draft: &mut RailDraft<'_>,
    case: &FeedCase<'_>,
    mut scheme: Scheme,
    numbers: &mut u32,
) -> Vec<PoweredDriver> {
    let feed = |driver: &FedDriver| {
        let chainages = driver.chains.iter().map(|chain| case.problem.ways_in[chain.way_in].chainage);
        (chainages.min(), driver.chains.first().map(|chain| chain.first))
    };
    scheme.drivers.sort_by_key(feed);
    let mut out = Vec::with_capacity(scheme.drivers.len());
    for fed in scheme.drivers {
        *numbers += 1;
        let id = format!("D{numbers}");
        let mut chains = Vec::new();
        let mut outputs = Vec::new();
        for (index, chain) in fed.chains.iter().enumerate() {
            let output = format!("{id}.{}", index + 1);
            let name = format!("{output}a");
            let Some(network) = solve_chain(case, draft, chain, fed.driver) else { continue };
            let names = CircuitNames { circuit: name.clone(), driver: id.clone(), output: output.clone() };
            let circuit = circuit(case, draft, chain, fed.driver, &network, names);
            for words in passage::unproved_way(
                &inputs.survey,
                draft.rail,
                &case.problem.ways_in[chain.way_in].id,
                &case.problem.paths[chain.path].routes,
            ) {
                draft.plan.not_ready.push(words);
            }
            outputs.push(OutputPlan {
                id: output,
                circuits: vec![name],
                amps: network.cases.greatest_source_amps().unwrap_or(chain.amps),
                limit: case.problem.drivers[fed.driver].output_limit,
            });
            chains.push(PoweredChain { circuit, chain: chain.clone(), network });
        }
        let plan = driver_plan(case, &fed, id, outputs);
        let enclosed = needs_enclosure(case.drivers[fed.driver], &case.places[fed.place], &inputs.survey, draft);
        out.push(PoweredDriver { plan, place: fed.place, part: fed.driver, enclosed, chains });
    }
    out
}

fn driver_plan(case: &FeedCase<'_>, fed: &FedDriver, id: String, outputs: Vec<OutputPlan>) -> DriverPlan {
    let option = &case.problem.drivers[fed.driver];
    let place = &case.places[fed.place];
    let share =
        case.problem.places[fed.place].fits.iter().find(|fit| fit.driver == fed.driver).map_or(0.0, |f| f.share);
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
        derating: share,
        reserve_percent: option.reserve_percent,
    }
}
