//! A solved chain as the plan's circuit: every node, branch and load, both limits, both cases, the far-end short.

use catalogue::ShortCircuit;
use survey::Id;
use units::{Amps, Celsius, Ohms, SquareMm, Volts};

use super::draft::RailDraft;
use super::feeding::FeedCase;
use super::network::ChainNetwork;
use crate::circuit::case::CaseSolutions;
use crate::circuit::short::FarEndShort;
use crate::circuit::{self, Conductor, LoadModel, Network, OverloadBehaviour, ShortOutcome, far_end_short};
use crate::document::{Branch, Circuit, Load, Node, ShortCheck, Source};
use crate::feeds::Chain;

/// Names of a circuit and of what it belongs to.
pub(crate) struct CircuitNames {
    /// The circuit.
    pub circuit: String,
    /// Its driver.
    pub driver: String,
    /// Its output.
    pub output: String,
}

/// What a circuit's network does not say by itself.
pub(crate) struct CircuitFacts<'a> {
    /// The rail.
    pub rail: &'a Id,
    /// The way in.
    pub way_in: Option<Id>,
    /// Nominal voltage.
    pub nominal: Volts,
    /// Allowed drop, thousandths.
    pub drop_permille: u16,
    /// Least voltage of its luminaires.
    pub least: Volts,
    /// Temperature of its conductors, warm.
    pub warm: Celsius,
    /// What its driver does at a short.
    pub short_circuit: Option<ShortCircuit>,
}

/// The circuit of a chain.
pub(crate) fn circuit(
    case: &FeedCase<'_>,
    draft: &RailDraft<'_>,
    chain: &Chain,
    driver: usize,
    solved: &ChainNetwork,
    names: CircuitNames,
) -> Circuit {
    let served = case.problem.luminaires.get(chain.first..=chain.last).unwrap_or(&[]);
    let facts = CircuitFacts {
        rail: &draft.rail.id,
        way_in: case.problem.ways_in.get(chain.way_in).map(|way_in| way_in.id.clone()),
        nominal: case.problem.nominal,
        drop_permille: case.problem.drop_permille,
        least: served.iter().map(|luminaire| luminaire.least).max().unwrap_or(Volts::ZERO),
        warm: case.behind.warm,
        short_circuit: case.behind.drivers.get(driver).map(|driver| driver.short_circuit),
    };
    circuit_of(&solved.cases, facts, names)
}

/// The circuit of a network.
pub(crate) fn circuit_of(cases: &CaseSolutions, facts: CircuitFacts<'_>, names: CircuitNames) -> Circuit {
    let network = &cases.worst_network;
    let report = circuit::report(network, &cases.worst);
    let worst = cases.worst.as_ref();
    let nominal = facts.nominal;
    let loads: Vec<Load> = network
        .loads
        .iter()
        .zip(report.loads)
        .map(|(load, line)| Load {
            luminaire: line.luminaire,
            channel: channel_number(network, Conductor::Channel(load.channel)),
            from: line.from,
            to: line.to,
            model: catalogue_model(load.model),
            volts: line.volts,
            amps: line.amps,
        })
        .collect();
    // Of equal voltages the first luminaire in the list is named.
    let mut least: Option<(Volts, &str)> = None;
    for load in &loads {
        if let Some(volts) = load.volts
            && least.is_none_or(|(known, _)| volts < known)
        {
            least = Some((volts, &load.luminaire));
        }
    }
    let high = cases.high.as_ref().ok();
    Circuit {
        id: names.circuit,
        driver: names.driver,
        output: names.output,
        rail: facts.rail.clone(),
        way_in: facts.way_in,
        solved: worst.is_ok(),
        reason: worst.err().map(ToString::to_string),
        source: Source { plus: report.source_plus, minus: report.source_minus, volts: report.source_volts },
        nodes: report
            .nodes
            .into_iter()
            .map(|node| Node {
                id: node.id,
                volts: node.volts,
                rail: node.place.as_ref().map(|_| facts.rail.clone()),
                chainage: node.place.map(|place| place.chainage),
            })
            .fold(Vec::new(), |mut nodes: Vec<Node>, node| {
                // Conductors that share a node at the source are listed once.
                if !nodes.iter().rev().take(8).any(|known| known.id == node.id) {
                    nodes.push(node);
                }
                nodes
            }),
        branches: branches(cases),
        nominal,
        least_load_volts: least.map(|(volts, _)| volts),
        least_luminaire: least.map(|(_, name)| name.to_owned()),
        loads,
        limit_by_drop: nominal * (1.0 - f64::from(facts.drop_permille) / 1000.0),
        limit_by_luminaire: facts.least,
        amps: worst.map_or(Amps::ZERO, |solution| solution.source_amps),
        amps_high: high.map_or(Amps::ZERO, |solution| solution.source_amps),
        greatest_load_volts_high: high.and_then(|solution| solution.loads.iter().map(|duty| duty.volts).max()),
        conductor_temperature: facts.warm,
        short: short_check(network, facts.short_circuit),
    }
}

/// The branches of a network, each written from the end nearer the source outwards; a current that flows back to the
/// source is then negative.
fn branches(cases: &CaseSolutions) -> Vec<Branch> {
    let network = &cases.worst_network;
    let solution = cases.worst.as_ref().ok();
    let mut all = Vec::new();
    for (index, station) in network.stations.iter().enumerate() {
        let Some(parent) = station.parent else { continue };
        for (position, branch) in station.branches.iter().enumerate() {
            let towards_load =
                solution.and_then(|found| found.branch_amps.get(index).and_then(|amps| amps.get(position)).copied());
            let outwards = network.is_plus_side(branch.conductor);
            all.push(Branch {
                from: network.node_id(parent, branch.conductor),
                to: network.node_id(index, branch.conductor),
                kind: branch.kind,
                conductor: network.wiring.conductor_word(branch.conductor),
                channel: channel_number(network, branch.conductor),
                length: branch.length,
                area: branch.area.unwrap_or(SquareMm::ZERO),
                ohms: branch.ohms,
                amps: towards_load.map(|amps| if outwards { amps } else { -amps }),
            });
        }
    }
    all
}

/// The number of a channel from 1, in a chain that has several.
fn channel_number(network: &Network, conductor: Conductor) -> Option<u8> {
    match conductor {
        Conductor::Channel(index) if network.wiring.channel_name(index).is_some() => u8::try_from(index + 1).ok(),
        _ => None,
    }
}

/// The catalogue's word for a load. No chain of ours has a supply for a load; it would draw what its resistance does.
fn catalogue_model(model: LoadModel) -> catalogue::LoadModel {
    match model {
        LoadModel::Current(amps) => catalogue::LoadModel::Current(amps),
        LoadModel::Power(watts) => catalogue::LoadModel::Power(watts),
        LoadModel::Resistance(ohms) | LoadModel::Supply { ohms, .. } => catalogue::LoadModel::Resistance(ohms),
    }
}

/// What becomes of a short at the far end of the running cores. A luminaire's own tail is left out: its maker answers
/// for it, and the catalogue does not say what it stands.
fn short_check(network: &Network, behaviour: Option<ShortCircuit>) -> ShortCheck {
    let bare = without_tails(network);
    let least_capacity = bare
        .stations
        .iter()
        .flat_map(|station| station.branches.iter().filter_map(|branch| branch.stands))
        .min()
        .unwrap_or(Amps::ZERO);
    let found = behaviour.and_then(|behaviour| {
        let limits = match behaviour {
            ShortCircuit::Limited(at) => OverloadBehaviour::Limits { at },
            ShortCircuit::Fused { rating, clears_at } => {
                OverloadBehaviour::Fuse { rated: rating, clears_at: f64::from(clears_at) }
            }
        };
        far_end_short(&bare, limits)
    });
    let Some(found) = found else {
        return ShortCheck {
            prospective: Amps::ZERO,
            lasting: Amps::ZERO,
            least_capacity,
            cleared: false,
            reason: "the far-end short could not be worked out, since the chain has no length".to_owned(),
        };
    };
    ShortCheck {
        prospective: found.prospective.unwrap_or(Amps::ZERO),
        lasting: match found.outcome {
            ShortOutcome::Limited { amps } => amps,
            ShortOutcome::Cleared { .. } => Amps::ZERO,
            ShortOutcome::NotCleared { .. } => found.prospective.unwrap_or(Amps::ZERO),
        },
        least_capacity,
        cleared: found.weak.is_empty() && !matches!(found.outcome, ShortOutcome::NotCleared { .. }),
        reason: short_words(&found, least_capacity),
    }
}

fn short_words(found: &FarEndShort, least_capacity: Amps) -> String {
    let stands = if found.weak.is_empty() {
        format!("every conductor stands it (the weakest {least_capacity:.1})")
    } else {
        format!("not every conductor stands it (the weakest {least_capacity:.1})")
    };
    match found.outcome {
        ShortOutcome::Limited { .. } => {
            format!("the driver holds a short to {:.1} and {stands}", found.must_stand)
        }
        ShortOutcome::Cleared { needed } => {
            format!("the fuse clears a short, since more than the {needed:.1} that it needs flows, and {stands}")
        }
        ShortOutcome::NotCleared { needed } => {
            format!("the fuse needs {needed:.1} to clear a short in time and less flows at the far end")
        }
    }
}

/// The network without the branches to single luminaires and without its loads.
fn without_tails(network: &Network) -> Network {
    let mut bare = Network { stations: Vec::new(), loads: Vec::new(), ..network.clone() };
    let mut moved: Vec<usize> = Vec::with_capacity(network.stations.len());
    for station in &network.stations {
        let parent = station.parent.and_then(|parent| moved.get(parent).copied());
        if station.branches.iter().any(|branch| branch.kind == circuit::BranchKind::Tap) {
            moved.push(parent.unwrap_or(0));
        } else {
            moved.push(bare.stations.len());
            bare.stations.push(circuit::Station { parent, ..station.clone() });
        }
    }
    bare
}

/// Resistance of the loop to the end of an arm at 20 °C, as a meter reads it with the far end joined.
pub(crate) fn loop_ohms_at_20(cases: &CaseSolutions, end: usize, warm: Celsius) -> Ohms {
    let network = &cases.worst_network;
    let factor = crate::circuit::conductor::temperature_factor(warm).unwrap_or(1.0);
    let mut sum = 0.0;
    let mut here = network.stations.get(end);
    while let Some(station) = here {
        for branch in &station.branches {
            let counted = match branch.conductor {
                Conductor::Channel(channel) => channel == 0,
                Conductor::Common | Conductor::Trunk => true,
            };
            if counted {
                // Contacts keep their resistance, copper does not.
                let copper = branch.area.is_some() || branch.kind == circuit::BranchKind::Module;
                sum += if copper { branch.ohms.get() / factor } else { branch.ohms.get() };
            }
        }
        here = station.parent.and_then(|parent| network.stations.get(parent));
    }
    Ohms::checked(sum).unwrap_or(Ohms::ZERO)
}

/// Volts between the conductors at a station, the least over the channels; `None` where unsolved.
pub(crate) fn pair_volts(
    network: &Network,
    solution: &Result<circuit::Solution, circuit::Unsolved>,
    station: usize,
) -> Option<Volts> {
    let solution = solution.as_ref().ok()?;
    let common = solution.potential(station, Conductor::Common)?;
    (0..network.wiring.channels())
        .filter_map(|channel| solution.potential(station, Conductor::Channel(channel)))
        .map(|volts| if volts > common { volts - common } else { common - volts })
        .min()
}
