//! A network and its solution as flat lists, in the shape others rebuild it from.

use units::{Amps, Length, Ohms, SquareMm, Volts};

use super::network::{BranchKind, Conductor, LoadModel, Network, Place};
use super::solve::{Solution, Unsolved};

/// A node: one conductor at one station.
#[derive(Clone, Debug, PartialEq)]
pub struct NodeReport {
    /// Unique id.
    pub id: String,
    /// Potential above the source's minus terminal, `None` where unsolved.
    pub volts: Option<Volts>,
    /// The place in a rail, if any.
    pub place: Option<Place>,
}

/// A branch between two nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct BranchReport {
    /// The node that current comes from when the chain is lit.
    pub from: String,
    /// The node that it goes to.
    pub to: String,
    /// What it is made of.
    pub kind: BranchKind,
    /// `plus`, `minus`, `common` or `channel`.
    pub conductor: &'static str,
    /// The channel's name in a colour chain.
    pub channel: Option<String>,
    /// Length of conductor.
    pub length: Length,
    /// Cross-section, where it has one.
    pub area: Option<SquareMm>,
    /// Resistance in this case.
    pub ohms: Ohms,
    /// Current from `from` to `to`, `None` where unsolved.
    pub amps: Option<Amps>,
    /// The current it may carry for ever, if known.
    pub stands: Option<Amps>,
}

/// A load between two nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadReport {
    /// The luminaire.
    pub luminaire: String,
    /// The channel's name in a colour chain.
    pub channel: Option<String>,
    /// The node on the plus side.
    pub from: String,
    /// The node on the minus side.
    pub to: String,
    /// Model and value.
    pub model: LoadModel,
    /// Voltage across it, `None` where unsolved.
    pub volts: Option<Volts>,
    /// Current through it, `None` where unsolved.
    pub amps: Option<Amps>,
}

/// A network and what is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitReport {
    /// Why there is no solution, `None` where there is one.
    pub unsolved: Option<Unsolved>,
    /// Node of the source's plus terminal.
    pub source_plus: String,
    /// Node of the source's minus terminal, at zero volts.
    pub source_minus: String,
    /// Voltage of the source.
    pub source_volts: Volts,
    /// Every node, station by station.
    pub nodes: Vec<NodeReport>,
    /// Every branch.
    pub branches: Vec<BranchReport>,
    /// Every load.
    pub loads: Vec<LoadReport>,
}

/// Lists a network with its solution, or with the reason why it has none.
#[must_use]
pub fn report(network: &Network, outcome: &Result<Solution, Unsolved>) -> CircuitReport {
    let solution = outcome.as_ref().ok();
    let channel_name = |conductor| match conductor {
        Conductor::Channel(index) => network.wiring.channel_name(index).map(str::to_owned),
        Conductor::Common | Conductor::Trunk => None,
    };
    let mut nodes = Vec::new();
    let mut branches = Vec::new();
    for (index, station) in network.stations.iter().enumerate() {
        for conductor in network.conductors_at(index) {
            let volts = solution.and_then(|found| found.potential(index, conductor));
            nodes.push(NodeReport { id: network.node_id(index, conductor), volts, place: station.place.clone() });
        }
        for (position, branch) in station.branches.iter().enumerate() {
            let near = network.node_id(station.parent.unwrap_or(0), branch.conductor);
            let far = network.node_id(index, branch.conductor);
            // Written in the direction that current flows in a lit chain: out on the plus side, back on the minus.
            let (from, to) = if network.is_plus_side(branch.conductor) { (near, far) } else { (far, near) };
            branches.push(BranchReport {
                from,
                to,
                kind: branch.kind,
                conductor: network.wiring.conductor_word(branch.conductor),
                channel: channel_name(branch.conductor),
                length: branch.length,
                area: branch.area,
                ohms: branch.ohms,
                amps: solution
                    .and_then(|found| found.branch_amps.get(index).and_then(|amps| amps.get(position)).copied()),
                stands: branch.stands,
            });
        }
    }
    let loads = network
        .loads
        .iter()
        .enumerate()
        .map(|(index, load)| {
            let channel = Conductor::Channel(load.channel);
            let ends = (network.node_id(load.station, channel), network.node_id(load.station, Conductor::Common));
            let (from, to) = if network.is_plus_side(channel) { ends } else { (ends.1, ends.0) };
            let duty = solution.and_then(|found| found.loads.get(index));
            LoadReport {
                luminaire: load.luminaire.clone(),
                channel: channel_name(channel),
                from,
                to,
                model: load.model,
                volts: duty.map(|duty| duty.volts),
                amps: duty.map(|duty| duty.amps),
            }
        })
        .collect();
    let common_is_plus = network.is_plus_side(Conductor::Common);
    let (plus, minus) = if common_is_plus {
        (Conductor::Common, Conductor::Channel(0))
    } else {
        (Conductor::Channel(0), Conductor::Common)
    };
    CircuitReport {
        unsolved: outcome.as_ref().err().cloned(),
        source_plus: network.node_id(0, plus),
        source_minus: network.node_id(0, minus),
        source_volts: network.source,
        nodes,
        branches,
        loads,
    }
}
