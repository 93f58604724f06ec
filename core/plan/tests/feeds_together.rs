//! Rails fed together agree with a search that tries everything, on random small groups.

mod feeds_support;

use feeds_support::{groups, together};
use plan::feeds::*;

#[test]
fn rails_together_cost_what_trying_everything_finds() {
    let (mut solved, mut sharing, mut infeasible) = (0, 0, 0);
    for seed in 1..=1500 {
        let group = groups::random(seed, 4);
        let problems: Vec<&Problem> = group.iter().collect();
        let found = solve_together(&problems);
        let alone: Vec<Outcome> = problems.iter().map(|problem| solve(problem)).collect();
        if alone.iter().any(|own| !matches!(own, Outcome::Solved(_))) {
            continue;
        }
        let all = found.outcomes.iter().all(|own| matches!(own, Outcome::Solved(_)));
        match together::cheapest(&problems) {
            Some(cost) => {
                assert!(all, "group {seed}: {group:#?} {found:#?}");
                assert_eq!(found.cost, cost, "group {seed}: {group:#?} {found:#?}");
                assert_eq!(found.lower_bound, cost, "group {seed}");
                solved += 1;
                sharing += usize::from(!found.shared.is_empty());
            }
            None => {
                assert!(!all, "group {seed}: {group:#?} {found:#?}");
                infeasible += 1;
            }
        }
    }
    println!("{solved} solved, {sharing} share drivers, {infeasible} have no room together");
    assert!(solved >= 256 && sharing >= 100 && infeasible >= 5, "{solved} {sharing} {infeasible}");
}
