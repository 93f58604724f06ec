//! The way of the current through a chain, from one node to another.

use std::collections::{BTreeMap, VecDeque};

use plan::{Branch, BranchKind, Circuit};
use units::{Amps, Length, Ohms, Volts};

/// The branches between two nodes with the current in the direction of travel, or `None` where none leads there.
///
/// Each conductor of a chain is a tree, so the shortest way is the only one.
pub(super) fn between<'a>(circuit: &'a Circuit, from: &str, to: &str) -> Option<Vec<(&'a Branch, Amps)>> {
    let mut at: BTreeMap<&str, Vec<&Branch>> = BTreeMap::new();
    for branch in &circuit.branches {
        at.entry(branch.from.as_str()).or_default().push(branch);
        at.entry(branch.to.as_str()).or_default().push(branch);
    }
    let mut came_by: BTreeMap<&str, Option<(&'a Branch, &str)>> = BTreeMap::new();
    let start = circuit.nodes.iter().find(|node| node.id == from)?.id.as_str();
    came_by.insert(start, None);
    let mut waiting = VecDeque::from([start]);
    while let Some(node) = waiting.pop_front() {
        if node == to {
            break;
        }
        for branch in at.get(node).into_iter().flatten() {
            let next = if branch.from == node { branch.to.as_str() } else { branch.from.as_str() };
            if !came_by.contains_key(next) {
                came_by.insert(next, Some((branch, node)));
                waiting.push_back(next);
            }
        }
    }
    let mut way = Vec::new();
    let mut node = to;
    while let Some((branch, before)) = came_by.get(node)? {
        let amps = branch.amps?;
        way.push((*branch, if branch.from == *before { amps } else { -amps }));
        node = before;
    }
    way.reverse();
    Some(way)
}

/// What one kind of branch takes along a way, there and back.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Share {
    pub(super) kind: BranchKind,
    pub(super) branches: usize,
    pub(super) drop: Volts,
    pub(super) length: Length,
    pub(super) ohms: Ohms,
    pub(super) least_amps: Amps,
    pub(super) greatest_amps: Amps,
    /// The cross-sections met, smallest first, each once [mm²].
    pub(super) areas: Vec<f64>,
}

/// The drop along a way by kind, in the order in which the current meets each kind first.
pub(super) fn shares(way: &[(&Branch, Amps)]) -> Vec<Share> {
    let mut shares: Vec<Share> = Vec::new();
    for (branch, amps) in way {
        let at = shares.iter().position(|share| share.kind == branch.kind).unwrap_or_else(|| {
            shares.push(Share {
                kind: branch.kind,
                branches: 0,
                drop: Volts::ZERO,
                length: Length::ZERO,
                ohms: Ohms::ZERO,
                least_amps: *amps,
                greatest_amps: *amps,
                areas: Vec::new(),
            });
            shares.len() - 1
        });
        let share = &mut shares[at];
        share.branches += 1;
        share.drop += Volts::new(amps.get() * branch.ohms.get());
        share.length += branch.length;
        share.ohms += branch.ohms;
        share.least_amps = share.least_amps.min(*amps);
        share.greatest_amps = share.greatest_amps.max(*amps);
        if branch.area.get() > 0.0 && !share.areas.contains(&branch.area.get()) {
            share.areas.push(branch.area.get());
            share.areas.sort_by(f64::total_cmp);
        }
    }
    shares
}
