//! A module's spread load put in the middle of its conductors, against the same module cut into many pieces.
//!
//! Source: the integral of an evenly spread load, `∫ R/ℓ · (I − i x/ℓ) dx = R I − R i / 2`, as in any textbook on
//! distributors with uniform load.

use plan::circuit::{Branch, BranchKind, Conductor, LoadModel, Network, Wiring, solve};
use units::{Amps, Length, Ohms, Volts, Watts};

/// Modules in the chain.
const MODULES: usize = 8;
/// Resistance of one through-conductor of one module.
const THROUGH: f64 = 0.02;
/// Resistance of one conductor of the feed.
const FEED: f64 = 0.08;

fn core(conductor: Conductor, ohms: f64) -> Branch {
    Branch {
        conductor,
        kind: BranchKind::Module,
        length: Length::ZERO,
        area: None,
        ohms: Ohms::new(ohms),
        stands: None,
    }
}

/// Volts behind the last module with every module in so many pieces, each piece's load in the middle of it.
fn far_end(pieces: usize, model: impl Fn(f64) -> LoadModel) -> f64 {
    let mut network = Network::new(Wiring::Pair, Volts::new(23.76), "s");
    let conductors = [Conductor::Channel(0), Conductor::Common];
    let mut serial = 0;
    let mut on = |network: &mut Network, from: usize, ohms: f64| {
        serial += 1;
        network.add_station(format!("n{serial}"), None, from, conductors.map(|c| core(c, ohms)).to_vec())
    };
    let mut here = on(&mut network, 0, FEED);
    for module in 0..MODULES {
        for piece in 0..pieces {
            let half = THROUGH / pieces as f64 / 2.0;
            here = on(&mut network, here, half);
            network.add_load(format!("m{module}-{piece}"), here, 0, model(1.0 / pieces as f64));
            here = on(&mut network, here, half);
        }
    }
    let solved = solve(&network).unwrap();
    let (plus, minus) =
        (solved.potential(here, Conductor::Channel(0)).unwrap(), solved.potential(here, Conductor::Common).unwrap());
    (plus - minus).get()
}

#[test]
fn a_constant_current_gives_the_same_far_end_volts_however_finely_it_is_spread() {
    let current = |share: f64| LoadModel::Current(Amps::new(0.3 * share));
    let (lumped, spread) = (far_end(1, current), far_end(400, current));
    assert!((lumped - spread).abs() < 1e-9, "{lumped} against {spread}");
    // By hand: each module loses 2 R (ahead + i/2) with 7, 6, … 0 modules ahead.
    let ahead: f64 = (0..MODULES).map(|n| n as f64).sum();
    let hand = 23.76 - 2.0 * FEED * 0.3 * 8.0 - 2.0 * THROUGH * 0.3 * (ahead + 4.0);
    assert!((lumped - hand).abs() < 1e-9, "{lumped} against {hand}");
}

#[test]
fn power_and_resistance_differ_by_a_second_order_matter() {
    for model in [(|share: f64| LoadModel::Power(Watts::new(7.2 * share))) as fn(f64) -> LoadModel, |share: f64| {
        LoadModel::Resistance(Ohms::new(80.0 / share))
    }] {
        let (lumped, spread) = (far_end(1, model), far_end(400, model));
        // Under a tenth of a millivolt at a drop of 0.9 V: far below what a meter on site reads.
        assert!((lumped - spread).abs() < 1e-4, "{lumped} against {spread}");
    }
}
