//! Rails fed together agree with a search that tries everything, on random small groups.
//!
//! Source of the comparison: exhaustive search, written for this test; volts by the circuit solver, which has outside
//! witnesses of its own.

mod feeds_support;

use feeds_support::{groups, together};
use plan::feeds::*;

fn solved(found: &Together) -> Vec<usize> {
    let is_solved = |rail: &usize| matches!(found.outcomes[*rail], Outcome::Solved(_));
    (0..found.outcomes.len()).filter(is_solved).collect()
}

/// Whether each rail could be fed, were it alone with the least room that any of them states.
fn each_can_be_fed(problems: &[&Problem]) -> bool {
    problems.iter().all(|problem| {
        let mut own = (*problem).clone();
        for place in &mut own.places {
            let rooms = problems.iter().flat_map(|other| &other.places).filter(|other| other.id == place.id);
            place.room = rooms.filter_map(|other| other.room).min();
        }
        matches!(solve(&own), Outcome::Solved(_))
    })
}

#[test]
fn rails_together_cost_what_trying_everything_finds() {
    let (mut all, mut sharing, mut crowded, mut locked) = (0, 0, 0, 0);
    for seed in 1..=1500 {
        let group = groups::random(seed, 4);
        let problems: Vec<&Problem> = group.iter().collect();
        if !each_can_be_fed(&problems) {
            continue;
        }
        let found = solve_together(&problems);
        let expected = together::cheapest(&problems);
        // Rails that find no room beside those before them are left out, in order.
        let mut kept: Vec<usize> = Vec::new();
        for rail in 0..problems.len() {
            let more: Vec<usize> = kept.iter().copied().chain([rail]).collect();
            let own: Vec<&Problem> = more.iter().map(|rail| problems[*rail]).collect();
            if expected.is_some() || together::cheapest(&own).is_some() {
                kept = more;
            }
        }
        let own: Vec<&Problem> = kept.iter().map(|rail| problems[*rail]).collect();
        let cost = expected.or_else(|| together::cheapest(&own)).unwrap();
        assert_eq!(solved(&found), kept, "group {seed}");
        assert_eq!(found.cost, cost, "group {seed}: {group:#?} {found:#?}");
        assert_eq!(found.lower_bound, cost, "group {seed}");
        all += usize::from(expected.is_some());
        sharing += usize::from(!found.shared.is_empty());
        crowded += usize::from(expected.is_none());
        locked += usize::from(!found.shared.is_empty() && group.iter().any(|problem| !problem.locks.is_empty()));
    }
    println!("{all} fed, {sharing} share drivers ({locked} with locks), {crowded} have no room for all");
    assert!(all >= 400 && sharing >= 256 && locked >= 50 && crowded >= 10, "{all} {sharing} {locked} {crowded}");
}

#[test]
fn a_search_cut_short_says_what_it_proved() {
    let (mut short, mut open) = (0, 0);
    for seed in 1..=400 {
        let group = groups::random(seed, 4);
        let problems: Vec<&Problem> = group.iter().collect();
        let Some(cost) = together::cheapest(&problems).filter(|_| each_can_be_fed(&problems)) else { continue };
        for comparisons in [0, 3, 10, 30, 100] {
            let found = solve_together_within(&problems, comparisons);
            if solved(&found).len() < problems.len() {
                // With so little patience no way was found to fit all of them in.
                continue;
            }
            assert!(
                found.lower_bound <= cost && cost <= found.cost,
                "group {seed} with {comparisons}: {} ≤ {cost} ≤ {}; {found:#?}",
                found.lower_bound,
                found.cost
            );
            short += 1;
            open += usize::from(found.lower_bound < found.cost);
        }
    }
    println!("{short} searches cut short, {open} without a proof");
    assert!(short >= 500 && open >= 50, "{short} {open}");
}
