//! How long rails take together; prints times, asserts only that all are fed.
//!
//! By hand: `cargo test --release -p plan --test feeds_together_speed -- --nocapture`.

mod feeds_support;

use std::time::Instant;

use catalogue::LoadModel;
use feeds_support::long::{around, in_a_row, in_pairs};
use plan::feeds::*;
use units::{Amps, Money, Ohms, Watts};

/// Milliseconds that this process has been on processors, to a hundredth of a second; zero where the system does not tell.
fn processor_ms() -> u64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = text.rsplit(')').next().unwrap_or_default();
    let ticks = after_name.split_whitespace().skip(11).take(2).filter_map(|ticks| ticks.parse::<u64>().ok());
    ticks.sum::<u64>() * 10
}

#[test]
fn rails_that_share_places_are_fed_in_milliseconds() {
    let loads = [
        ("current 0.10 A", LoadModel::Current(Amps::new(0.10))),
        ("current 0.05 A", LoadModel::Current(Amps::new(0.05))),
        ("power 0.6 W", LoadModel::Power(Watts::new(0.6))),
        ("resistance 240 ohm", LoadModel::Resistance(Ohms::new(240.0))),
    ];
    for (name, load) in loads {
        for (what, rails) in [
            ("2 rails", in_pairs(2, load)),
            ("3 rails in a row", in_a_row(3, load)),
            ("5 rails in a row", in_a_row(5, load)),
            ("30 rails in pairs", in_pairs(30, load)),
            ("30 rails in a row", in_a_row(30, load)),
            ("8 rails around a place", around(8, load)),
        ] {
            let problems: Vec<&Problem> = rails.iter().collect();
            let start = Instant::now();
            let mut sum = Money::ZERO;
            for problem in &problems {
                let Outcome::Solved(solved) = solve(problem) else { panic!("{name}, {what}: not fed alone") };
                sum += solved.scheme.cost;
            }
            let apart = start.elapsed();
            let (start, before) = (Instant::now(), processor_ms());
            let found = solve_together(&problems);
            let (took, busy) = (start.elapsed(), processor_ms() - before);
            println!(
                "{name}, {what}: {took:.1?} together ({busy} ms of processors; {apart:.1?} one by one), {sum} apart, {} together, proved {}, {} shared",
                found.cost,
                found.lower_bound,
                found.shared.len()
            );
            assert!(found.outcomes.iter().all(|own| matches!(own, Outcome::Solved(_))));
            assert!(found.lower_bound <= found.cost && found.cost <= sum);
        }
    }
}
