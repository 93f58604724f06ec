//! How long the choice of feeds takes on a long rail; prints times, asserts only that the rail is fed.
//!
//! By hand: `cargo test --release -p plan --test feeds_speed -- --nocapture`.

mod feeds_support;

use std::time::Instant;

use catalogue::LoadModel;
use feeds_support::long::long;
use plan::feeds::*;
use units::{Amps, Ohms, Watts};

/// Milliseconds that this thread has been on a processor, zero where the system does not tell.
fn processor_ms() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split(' ').next().and_then(|first| first.parse::<f64>().ok()).unwrap_or(0.0) / 1e6
}

#[test]
fn a_long_rail_is_fed_in_milliseconds() {
    let loads = [
        ("current 0.10 A", LoadModel::Current(Amps::new(0.10))),
        ("current 0.05 A", LoadModel::Current(Amps::new(0.05))),
        ("power 0.6 W", LoadModel::Power(Watts::new(0.6))),
        ("resistance 240 ohm", LoadModel::Resistance(Ohms::new(240.0))),
    ];
    for (name, load) in loads {
        for count in [105, 210, 420] {
            let problem = long(count, load);
            let start = Instant::now();
            let on_processor = processor_ms();
            let outcome = solve(&problem);
            let (took, busy) = (start.elapsed(), processor_ms() - on_processor);
            let Outcome::Solved(found) = outcome else { panic!("{name}, {count}: {outcome:?}") };
            let chains: usize = found.scheme.drivers.iter().map(|driver| driver.chains.len()).sum();
            let cost = found.scheme.cost;
            println!(
                "{name}, {count} luminaires: {took:.1?} ({busy:.1} ms of processor), {} drivers, {chains} chains, {cost}",
                found.scheme.drivers.len()
            );
        }
    }
}
