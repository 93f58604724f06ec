//! The choice of feeds agrees with a search that tries everything, on random small rails.
//!
//! Source of the comparison: exhaustive search, written for this test; volts by the circuit solver, which has outside
//! witnesses of its own.

mod feeds_support;

use feeds_support::{brute, rails};
use plan::feeds::{Outcome, solve};

#[test]
fn the_cheapest_scheme_is_the_one_that_trying_everything_finds() {
    let (mut solved, mut infeasible, mut several) = (0, 0, 0);
    for seed in 1..=800 {
        let problem = rails::random(seed, 6);
        let expected = brute::cheapest(&problem);
        match (solve(&problem), expected) {
            (Outcome::Solved(found), Some((cost, drivers, chains))) => {
                assert_eq!(found.scheme.cost, cost, "rail {seed}: {problem:#?} {found:#?}");
                assert_eq!(found.lower_bound, cost);
                assert_eq!(found.scheme.drivers.len(), drivers, "rail {seed}");
                assert_eq!(
                    found.scheme.drivers.iter().map(|own| own.chains.len()).sum::<usize>(),
                    chains,
                    "rail {seed}"
                );
                solved += 1;
                several += usize::from(chains > 1);
            }
            (Outcome::Infeasible(_), None) => infeasible += 1,
            (found, expected) => {
                panic!("rail {seed}: {found:?} where trying everything finds {expected:?}\n{problem:#?}")
            }
        }
    }
    println!("{solved} solved ({several} with several chains), {infeasible} infeasible");
    // The rails must try both answers.
    assert!(solved >= 300 && infeasible >= 50 && several >= 100, "{solved} {infeasible} {several}");
}
