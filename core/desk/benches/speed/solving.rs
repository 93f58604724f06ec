//! The solving step alone: the networks of all circuits of a plan, rebuilt from its document and solved.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use plan::circuit::{Branch, BranchKind, Conductor, LoadModel, Network, Wiring, solve};

use crate::ngspice::{self, Witness};
use crate::site::median;

/// What was measured.
pub struct Solved {
    /// Networks solved.
    pub networks: usize,
    /// Nodes in them.
    pub nodes: usize,
    /// Loads in them.
    pub loads: usize,
    /// Median time to solve them all.
    pub ours: Duration,
    /// The same networks in ngspice; `None` where it is not installed.
    pub ngspice: Option<Witness>,
}

/// Solves all circuits, and lets ngspice do the same.
pub fn measure(circuits: &[plan::Circuit]) -> Solved {
    let networks: Vec<Network> = circuits.iter().map(network).collect();
    let mut times: Vec<Duration> = (0..21)
        .map(|_| {
            let start = Instant::now();
            for network in &networks {
                std::hint::black_box(solve(network).expect("a circuit of the plan has a solution"));
            }
            start.elapsed()
        })
        .collect();
    let volts: Vec<BTreeMap<String, f64>> = networks.iter().map(node_volts).collect();
    Solved {
        networks: networks.len(),
        nodes: circuits.iter().map(|circuit| circuit.nodes.len()).sum(),
        loads: circuits.iter().map(|circuit| circuit.loads.len()).sum(),
        ours: median(&mut times),
        ngspice: ngspice::measure(circuits, &volts),
    }
}

/// Our answer for every node of a network.
fn node_volts(network: &Network) -> BTreeMap<String, f64> {
    let solution = solve(network).expect("a circuit of the plan has a solution");
    (0..network.stations.len())
        .flat_map(|station| network.conductors().into_iter().map(move |conductor| (station, conductor)))
        .filter_map(|(station, conductor)| {
            let volts = solution.potential(station, conductor)?;
            Some((network.node_id(station, conductor), volts.get()))
        })
        .collect()
}

/// A circuit of two conductors as a network again. Its branches are listed outwards from the source.
fn network(circuit: &plan::Circuit) -> Network {
    let station_of = |node: &str| {
        node.strip_suffix("_plus").or_else(|| node.strip_suffix("_minus")).expect("a node of a pair").to_owned()
    };
    let source = station_of(&circuit.source.plus);
    let mut network = Network::new(Wiring::Pair, circuit.source.volts, source.clone());
    let mut known: BTreeMap<String, usize> = BTreeMap::from([(source, 0)]);
    for branch in &circuit.branches {
        let parent = known[&station_of(&branch.from)];
        let id = station_of(&branch.to);
        let station = *known.entry(id.clone()).or_insert_with(|| network.add_station(id, None, parent, Vec::new()));
        let conductor = if branch.conductor == "plus" { Conductor::Channel(0) } else { Conductor::Common };
        network.stations[station].branches.push(Branch {
            conductor,
            kind: BranchKind::Run,
            length: branch.length,
            area: None,
            ohms: branch.ohms,
            stands: None,
        });
    }
    for load in &circuit.loads {
        let model = match load.model {
            catalogue::LoadModel::Current(amps) => LoadModel::Current(amps),
            catalogue::LoadModel::Power(watts) => LoadModel::Power(watts),
            catalogue::LoadModel::Resistance(ohms) => LoadModel::Resistance(ohms),
        };
        network.add_load(load.luminaire.clone(), known[&station_of(&load.from)], 0, model);
    }
    network
}
