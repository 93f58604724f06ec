//! A circuit of the plan document solved again from the document alone: conductors make a tree, so currents add up along
//! it and volts fall along it. Shares nothing with the solver of the plan.

use std::collections::BTreeMap;

use catalogue::LoadModel;
use plan::Circuit;

/// Volts of each node above the source's minus terminal, `None` where the loads find no state.
pub fn volts(circuit: &Circuit) -> Option<BTreeMap<String, f64>> {
    let index: BTreeMap<&str, usize> =
        circuit.nodes.iter().enumerate().map(|(index, node)| (node.id.as_str(), index)).collect();
    let at = |id: &str| *index.get(id).unwrap_or_else(|| panic!("{id} is a node"));
    let count = circuit.nodes.len();
    // The branch that each node is reached by, and nodes in the order in which they are reached.
    let mut above: Vec<Option<(usize, f64)>> = vec![None; count];
    let mut children: Vec<Vec<usize>> = vec![Vec::new(); count];
    for branch in &circuit.branches {
        let (from, to) = (at(&branch.from), at(&branch.to));
        assert!(above[to].is_none(), "{} is reached twice", branch.to);
        above[to] = Some((from, branch.ohms.get()));
        children[from].push(to);
    }
    let (plus, minus) = (at(&circuit.source.plus), at(&circuit.source.minus));
    let mut order = vec![plus, minus];
    let mut next = 0;
    while next < order.len() {
        order.extend(children[order[next]].iter().copied());
        next += 1;
    }
    assert_eq!(order.len(), count, "every node hangs on the source");
    let source = circuit.source.volts.get();
    let loads: Vec<(usize, usize, LoadModel)> =
        circuit.loads.iter().map(|load| (at(&load.from), at(&load.to), load.model)).collect();
    let mut across = vec![source; loads.len()];
    for _ in 0..5_000 {
        // What flows away from the source through the branch above each node.
        let mut through = vec![0.0; count];
        for ((from, to, model), volts) in loads.iter().zip(&across) {
            let amps = match model {
                LoadModel::Current(amps) => amps.get(),
                LoadModel::Power(watts) => watts.get() / volts,
                LoadModel::Resistance(ohms) => volts / ohms.get(),
            };
            through[*from] += amps;
            through[*to] -= amps;
        }
        for node in order.iter().rev() {
            if let Some((parent, _)) = above[*node] {
                through[parent] += through[*node];
            }
        }
        let mut volts = vec![0.0; count];
        volts[plus] = source;
        for node in &order {
            if let Some((parent, ohms)) = above[*node] {
                volts[*node] = volts[parent] - ohms * through[*node];
            }
        }
        let now: Vec<f64> = loads.iter().map(|(from, to, _)| volts[*from] - volts[*to]).collect();
        if now.iter().any(|volts| *volts <= 0.0) {
            return None;
        }
        let moved = now.iter().zip(&across).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        across = now;
        if moved < 1e-12 {
            return Some(circuit.nodes.iter().zip(volts).map(|(node, volts)| (node.id.clone(), volts)).collect());
        }
    }
    None
}
