//! What the circuit tests share: reference tables, short ways to build networks, and a slow independent solver.

#![allow(dead_code, reason = "each test file uses its own part")]

use std::path::PathBuf;

use plan::circuit::{Branch, BranchKind, CommonSide, Conductor, LoadModel, Network};
use units::{Length, Ohms};

/// A file below `fixtures/reference`.
pub fn reference(path: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/reference").join(path);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Rows of a comma-separated table with quoted fields, without its heading.
pub fn rows(text: &str) -> Vec<Vec<String>> {
    let split = |line: &str| {
        let mut fields = vec![String::new()];
        let mut quoted = false;
        for letter in line.chars() {
            match letter {
                '"' => quoted = !quoted,
                ',' if !quoted => fields.push(String::new()),
                other => fields.last_mut().unwrap().push(other),
            }
        }
        fields
    };
    text.lines().skip(1).map(split).collect()
}

/// A running core of some ohms.
pub fn core(conductor: Conductor, ohms: f64) -> Branch {
    Branch {
        conductor,
        kind: BranchKind::Run,
        length: Length::mm(1000),
        area: None,
        ohms: Ohms::new(ohms),
        stands: None,
    }
}

/// Plus and minus of some ohms each.
pub fn pair(plus: f64, minus: f64) -> Vec<Branch> {
    vec![core(Conductor::Channel(0), plus), core(Conductor::Common, minus)]
}

/// What the slow solver found.
pub enum Slow {
    /// Voltage of every load, and every node's potential by station and conductor (channels, then common).
    Solved(Vec<f64>, Vec<Vec<f64>>),
    /// A constant-power load fell to nothing: there is no solution.
    None,
    /// Too near the limit to tell in the rounds allowed.
    Undecided,
}

/// Solves a network the slow way: the dense matrix of all nodes, its loads' currents held, the linear system solved by
/// elimination with row exchange, the currents taken anew, from the unloaded state downwards, until nothing moves.
/// Shares no formula with the tree solver. All branch ohms must be greater than zero.
pub fn slow(network: &Network, rounds: usize) -> Slow {
    let channels = network.wiring.channels();
    let source = network.source.get();
    let (channel_end, common_end) = match network.wiring.common_side() {
        CommonSide::Plus => (0.0, source),
        CommonSide::Minus => (source, 0.0),
    };
    // Node numbers by station and conductor; the source's nodes are fixed. Along a trunk all channels share a node.
    let mut number = vec![vec![usize::MAX; channels + 1]; network.stations.len()];
    let mut count = 2;
    number[0] = vec![0; channels + 1];
    number[0][channels] = 1;
    for (index, station) in network.stations.iter().enumerate().skip(1) {
        for branch in &station.branches {
            match branch.conductor {
                Conductor::Channel(channel) => number[index][channel] = count,
                Conductor::Common => number[index][channels] = count,
                Conductor::Trunk => number[index][..channels].fill(count),
            }
            count += 1;
        }
    }
    let mut matrix = vec![vec![0.0; count]; count];
    let mut fixed = vec![0.0; count];
    fixed[0] = channel_end;
    fixed[1] = common_end;
    let mut join = |a: usize, b: usize, siemens: f64| {
        matrix[a][a] += siemens;
        matrix[b][b] += siemens;
        matrix[a][b] -= siemens;
        matrix[b][a] -= siemens;
    };
    for (index, station) in network.stations.iter().enumerate().skip(1) {
        let parent = station.parent.unwrap();
        for branch in &station.branches {
            let place = match branch.conductor {
                Conductor::Channel(channel) => channel,
                Conductor::Common => channels,
                Conductor::Trunk => 0,
            };
            join(number[index][place], number[parent][place], 1.0 / branch.ohms.get());
        }
    }
    for load in &network.loads {
        if let LoadModel::Resistance(ohms) = load.model {
            join(number[load.station][load.channel], number[load.station][channels], 1.0 / ohms.get());
        }
    }
    for (row, values) in matrix.iter_mut().enumerate().take(2) {
        values.fill(0.0);
        values[row] = 1.0;
    }
    let inverse = invert(matrix);
    let sign = if channel_end > common_end || network.wiring.common_side() == CommonSide::Minus { 1.0 } else { -1.0 };
    let mut volts = vec![source; network.loads.len()];
    for _ in 0..rounds {
        let mut right = fixed.clone();
        for (load, volts) in network.loads.iter().zip(&volts) {
            let amps = match load.model {
                LoadModel::Current(amps) => amps.get(),
                LoadModel::Power(watts) if watts.get() == 0.0 => 0.0,
                LoadModel::Power(watts) => watts.get() / volts,
                LoadModel::Resistance(_) => 0.0,
                LoadModel::Supply { .. } => panic!("the slow solver has no second supply"),
            };
            for (conductor, direction) in [(load.channel, -sign), (channels, sign)] {
                let node = number[load.station][conductor];
                if node > 1 {
                    right[node] += direction * amps;
                }
            }
        }
        let potentials: Vec<f64> = inverse.iter().map(|row| row.iter().zip(&right).map(|(a, b)| a * b).sum()).collect();
        let next: Vec<f64> = network
            .loads
            .iter()
            .map(|load| {
                sign * (potentials[number[load.station][load.channel]] - potentials[number[load.station][channels]])
            })
            .collect();
        let power = |load: &plan::circuit::Load| matches!(load.model, LoadModel::Power(watts) if watts.get() > 0.0);
        if network.loads.iter().zip(&next).any(|(load, volts)| power(load) && *volts <= 0.0) {
            return Slow::None;
        }
        let moved = next.iter().zip(&volts).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        volts = next;
        if moved < 1e-13 {
            let nodes = number
                .iter()
                .map(|row| row.iter().map(|node| potentials.get(*node).copied().unwrap_or(f64::NAN)).collect())
                .collect();
            return Slow::Solved(volts, nodes);
        }
    }
    Slow::Undecided
}

fn invert(mut matrix: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let count = matrix.len();
    let mut inverse: Vec<Vec<f64>> =
        (0..count).map(|row| (0..count).map(|column| f64::from(u8::from(row == column))).collect()).collect();
    for column in 0..count {
        let pivot =
            (column..count).max_by(|a, b| matrix[*a][column].abs().total_cmp(&matrix[*b][column].abs())).unwrap();
        matrix.swap(column, pivot);
        inverse.swap(column, pivot);
        let scale = matrix[column][column];
        matrix[column].iter_mut().for_each(|value| *value /= scale);
        inverse[column].iter_mut().for_each(|value| *value /= scale);
        let (pivot_row, pivot_inverse) = (matrix[column].clone(), inverse[column].clone());
        for row in (0..count).filter(|row| *row != column) {
            let factor = matrix[row][column];
            for k in 0..count {
                matrix[row][k] -= factor * pivot_row[k];
                inverse[row][k] -= factor * pivot_inverse[k];
            }
        }
    }
    inverse
}
