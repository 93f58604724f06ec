//! Five networks against ngspice 39, every node.
//!
//! Source: `fixtures/reference/netlists/L1.cir` to `L5.cir`, read here as they are given to ngspice, and its operating
//! points in `fixtures/reference/dc_ladder_ngspice.csv` (printed to 1e-6 V).

mod circuit_support;

use std::collections::BTreeMap;

use circuit_support::{pair, reference, rows};
use plan::circuit::{LoadModel, Network, Solution, Wiring, solve};
use units::{Amps, Ohms, Volts, Watts};

/// A netlist as a network, with the station of each of its nodes.
fn read(text: &str) -> (Network, BTreeMap<String, usize>) {
    let cards: Vec<Vec<&str>> = text
        .lines()
        .skip(1)
        .take_while(|line| !line.starts_with('.'))
        .map(|line| line.split_whitespace().collect())
        .collect();
    let number = |text: &str| text.parse::<f64>().unwrap();
    let supplies: Vec<(&str, f64)> =
        cards.iter().filter(|card| card[0].starts_with('V')).map(|card| (card[1], number(card[4]))).collect();
    let (root, volts) = supplies[0];
    let mut network = Network::new(Wiring::Pair, Volts::new(volts), root);
    let mut stations = BTreeMap::from([(root.to_owned(), 0)]);
    // The resistors are written outwards from the source; one that ends at a second supply is that supply's own.
    for card in cards.iter().filter(|card| card[0].starts_with('R')) {
        let from = stations[card[1]];
        if let Some((name, emf)) = supplies.iter().find(|supply| supply.0 == card[2]) {
            let model = LoadModel::Supply { emf: Volts::new(*emf), ohms: Ohms::new(number(card[3])) };
            network.add_load(*name, from, 0, model);
        } else {
            let station = network.add_station(card[2], None, from, pair(number(card[3]), 0.0));
            stations.insert(card[2].to_owned(), station);
        }
    }
    for card in &cards {
        let model = match &card[0][..1] {
            "I" => LoadModel::Current(Amps::new(number(card[4]))),
            // `I = P/max(v(n),0.5)`: constant power at any voltage that these networks have.
            "B" => LoadModel::Power(Watts::new(number(card[5].split('/').next().unwrap()))),
            _ => continue,
        };
        network.add_load(card[0], stations[card[1]], 0, model);
    }
    (network, stations)
}

fn solved(net: &str) -> (Network, BTreeMap<String, usize>, Solution) {
    let (network, stations) = read(&reference(&format!("netlists/{net}.cir")));
    let solution = solve(&network).unwrap();
    (network, stations, solution)
}

#[test]
fn every_node_of_every_ladder_agrees_within_a_microvolt() {
    let mut checked = 0;
    for net in ["L1", "L2", "L3", "L4", "L5"] {
        let (network, stations, solution) = solved(net);
        assert!(solution.residual <= 1e-9);
        for row in rows(&reference("dc_ladder_ngspice.csv")).iter().filter(|row| row[0] == net) {
            let expected: f64 = row[3].parse().unwrap();
            let supply = network
                .loads
                .iter()
                .position(|load| load.luminaire == row[1] || row[1] == format!("I({})", load.luminaire));
            let found = match (row[2].as_str(), supply) {
                ("V", Some(supply)) => match network.loads[supply].model {
                    LoadModel::Supply { emf, .. } => emf.get(),
                    _ => panic!("{row:?}"),
                },
                ("V", None) => solution.potentials[stations[&row[1]]][0].get(),
                ("A", Some(supply)) => -solution.loads[supply].amps.get(),
                ("A", None) => solution.source_amps.get(),
                _ => panic!("{row:?}"),
            };
            assert!((found - expected).abs() < 1e-6, "{net} {}: {found} against {expected}", row[1]);
            checked += 1;
        }
    }
    assert_eq!(checked, 95);
}

#[test]
fn no_ladder_loses_power_on_the_way() {
    for net in ["L1", "L2", "L3", "L4", "L5"] {
        let (network, _, solution) = solved(net);
        let given = network.source.get() * solution.source_amps.get();
        let taken: f64 = solution.loads.iter().map(|duty| duty.volts.get() * duty.amps.get()).sum();
        let mut warmed = 0.0;
        for (station, own) in network.stations.iter().zip(&solution.branch_amps) {
            for (branch, amps) in station.branches.iter().zip(own) {
                warmed += branch.ohms.get() * amps.get() * amps.get();
            }
        }
        assert!((given - taken - warmed).abs() < 1e-9, "{net}: {given} W against {} W", taken + warmed);
    }
}
