//! Worked direct-current examples from books and examination papers.
//!
//! Sources, by the ids of `fixtures/reference/dc_examples.csv`: X1 V.K. Mehta and R. Mehta, *Principles of Power
//! System*, example 13.1, p. 313; X3 an examination question with solution; X4 Chakrabarti, Soni, Gupta and Bhatnagar,
//! *A Textbook on Power System Engineering*, part II, example 18.1, p. 437. The other rows are sums, not networks.

mod circuit_support;

use circuit_support::{pair, reference, rows};
use plan::circuit::{LoadModel, Network, Solution, Wiring, solve};
use units::{Amps, Ohms, Volts};

/// A pair fed from one end: sections as ohms per conductor, loads in amperes.
fn one_end(volts: f64, sections: &[f64], loads: &[f64]) -> Solution {
    let mut network = Network::new(Wiring::Pair, Volts::new(volts), "source");
    let mut last = 0;
    for (index, (ohms, amps)) in sections.iter().zip(loads).enumerate() {
        last = network.add_station(format!("n{index}"), None, last, pair(*ohms, *ohms));
        network.add_load(format!("L{index}"), last, 0, LoadModel::Current(Amps::new(*amps)));
    }
    solve(&network).unwrap()
}

fn check(solution: &Solution, volts: &[f64], amps: &[f64]) {
    for (duty, expected) in solution.loads.iter().zip(volts) {
        assert!((duty.volts.get() - expected).abs() < 1e-9, "{} against {expected}", duty.volts);
    }
    for (own, expected) in solution.branch_amps[1..].iter().zip(amps) {
        assert!((own[0].get() - expected).abs() < 1e-9, "{} against {expected}", own[0]);
        assert_eq!(own[0], own[1]);
    }
}

#[test]
fn x1_one_end_feed_with_four_loads() {
    let solution = one_end(300.0, &[0.005, 0.005, 0.006, 0.004], &[100.0, 150.0, 200.0, 50.0]);
    check(&solution, &[295.0, 291.0, 288.0, 287.6], &[500.0, 400.0, 250.0, 50.0]);
}

#[test]
fn x3_one_end_feed_with_two_loads() {
    let solution = one_end(500.0, &[0.04, 0.04], &[100.0, 200.0]);
    check(&solution, &[476.0, 460.0], &[300.0, 200.0]);
}

#[test]
fn x4_star_of_five_sources() {
    let mut network = Network::new(Wiring::Pair, Volts::new(225.0), "a");
    let star = network.add_station("star", None, 0, pair(5.0, 0.0));
    for (name, emf, ohms) in [("b", 210.0, 1.0), ("c", 230.0, 1.0), ("d", 230.0, 2.0), ("e", 240.0, 2.0)] {
        network.add_load(name, star, 0, LoadModel::Supply { emf: Volts::new(emf), ohms: Ohms::new(ohms) });
    }
    let solution = solve(&network).unwrap();
    assert!((solution.loads[0].volts.get() - 225.0).abs() < 1e-9);
    assert!(solution.source_amps.get().abs() < 1e-9);
    // The book counts currents towards the star.
    for (duty, expected) in solution.loads.iter().zip([-15.0, 5.0, 2.5, 7.5]) {
        assert!((-duty.amps.get() - expected).abs() < 1e-9, "{} against {expected}", duty.amps);
    }
}

#[test]
fn the_figures_above_are_those_of_the_table() {
    let table = rows(&reference("dc_examples.csv"));
    let row = |id: &str| table.iter().find(|row| row[0] == id).unwrap().clone();
    assert!(row("X1")[3].starts_with("nodes 295.0, 291.0, 288.0, 287.6 V; section currents 500,400,250,50 A"));
    assert_eq!(row("X3")[3], "476 V, 460 V");
    assert_eq!(row("X4")[3], "V0 225 V; currents 0, -15, 5, 2.5, 7.5 A");
}
