//! Rails of modules fed together agree with a search that tries everything, on random small groups.
//!
//! Source of the comparison: exhaustive search, written for this test; volts by the circuit solver, which has outside
//! witnesses of its own.

mod series_support;

use plan::feeds::Together;
use plan::series::{Outcome, Problem, Scheme, solve, solve_together, solve_together_within};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use series_support::random::{group, groups};
use series_support::together;
use units::Money;

/// The same groups on every machine.
fn drawn(count: usize) -> Vec<Vec<Problem>> {
    let mut runner = TestRunner::deterministic();
    (0..count).map(|_| group(&groups().new_tree(&mut runner).expect("a draw").current())).collect()
}

/// The scheme of each rail; `None` where one has none.
fn schemes(found: &Together<Outcome>) -> Option<Vec<&Scheme>> {
    fn scheme(outcome: &Outcome) -> Option<&Scheme> {
        match outcome {
            Outcome::Solved(scheme) => Some(scheme),
            Outcome::Infeasible(_) => None,
        }
    }
    found.outcomes.iter().map(scheme).collect()
}

#[test]
fn rails_of_modules_together_cost_what_trying_everything_finds() {
    let (mut fed, mut sharing, mut locked, mut decoded, mut without) = (0, 0, 0, 0, 0);
    for (number, group) in drawn(150).iter().enumerate() {
        let problems: Vec<&Problem> = group.iter().collect();
        let found = solve_together(&problems);
        let Some(cost) = together::cheapest(&problems) else {
            assert!(schemes(&found).is_none(), "group {number}: every scheme breaks something, {found:#?}");
            without += 1;
            continue;
        };
        assert_eq!((found.cost, found.lower_bound), (cost, cost), "group {number}: {group:#?} {found:#?}");
        let schemes = schemes(&found).expect("each rail has a scheme");
        assert_eq!(schemes.iter().map(|scheme| scheme.cost).sum::<Money>(), cost, "group {number}");
        fed += 1;
        sharing += usize::from(!found.shared.is_empty());
        locked += usize::from(!found.shared.is_empty() && group.iter().any(|problem| !problem.locks.is_empty()));
        let decoder = |(rail, driver): &(usize, usize)| schemes[*rail].drivers[*driver].chains[0].decoder.is_some();
        decoded += usize::from(found.shared.iter().any(|shared| shared.parts.iter().any(decoder)));
    }
    println!(
        "{fed} fed, {sharing} share drivers ({locked} with locks, {decoded} through decoders), {without} without a scheme"
    );
    assert!(fed >= 60 && sharing >= 25 && locked >= 5 && decoded >= 8 && without >= 5);
}

#[test]
fn schemes_keep_what_they_share_and_sharing_never_costs_more() {
    let mut shared = 0;
    for (number, group) in drawn(150).iter().enumerate() {
        let problems: Vec<&Problem> = group.iter().collect();
        let found = solve_together(&problems);
        let Some(schemes) = schemes(&found) else { continue };
        for one in &found.shared {
            let parts = || one.parts.iter().map(|(rail, driver)| (problems[*rail], &schemes[*rail].drivers[*driver]));
            let (problem, first) = parts().next().expect("it serves rails");
            let (place, part) = (&problem.places[first.place].id, &problem.drivers[first.driver]);
            for (problem, own) in parts() {
                assert_eq!((&problem.places[own.place].id, &problem.drivers[own.driver].part), (place, &part.part));
                assert_eq!(own.usable, first.usable, "group {number}: one driver has one power");
            }
            assert!(parts().skip(1).all(|(_, own)| own.cost == Money::ZERO), "group {number}: it is paid for once");
            let chains: usize = parts().map(|(_, own)| own.chains.len()).sum();
            let load: f64 = parts().map(|(_, own)| own.load.get()).sum();
            assert!(chains <= usize::from(part.outputs) && load <= first.usable.get() + 1e-9, "group {number}");
            shared += 1;
        }
        // Each by itself, where room and locks leave every rail its own.
        let alone: Option<Money> = problems
            .iter()
            .map(|problem| match solve(problem) {
                Outcome::Solved(scheme) => Some(scheme.cost),
                Outcome::Infeasible(_) => None,
            })
            .sum();
        let scarce = problems.iter().flat_map(|problem| &problem.places).any(|place| place.room.is_some());
        assert!(scarce || alone.is_none_or(|alone| found.cost <= alone), "group {number}: {} {alone:?}", found.cost);
        // One rail less never costs more, and another order costs the same.
        let less = solve_together(&problems[1..]);
        assert!(less.cost <= found.cost, "group {number}");
        let turned: Vec<&Problem> = problems.iter().rev().copied().collect();
        let turned = solve_together(&turned);
        assert_eq!((turned.cost, turned.lower_bound), (found.cost, found.lower_bound), "group {number}");
    }
    assert!(shared >= 25, "{shared}");
}

#[test]
fn a_search_cut_short_says_what_it_proved() {
    let mut short = 0;
    for (number, group) in drawn(60).iter().enumerate() {
        let problems: Vec<&Problem> = group.iter().collect();
        let whole = solve_together(&problems);
        if schemes(&whole).is_none() {
            continue;
        }
        for comparisons in [0, 3, 10, 30] {
            let found = solve_together_within(&problems, comparisons);
            if schemes(&found).is_some() {
                assert!(found.lower_bound <= whole.cost && whole.cost <= found.cost, "group {number}: {found:#?}");
                short += 1;
            }
        }
    }
    assert!(short >= 60, "{short}");
}
