//! Source of the comparison: HiGHS, a solver of mixed-integer programs, over blocks whose feasibility and cost are worked
//! out in `tests/highs` from the plain data with code of its own. The costs must be the same to the ten-thousandth.
//!
//! Times are printed and not asserted; `make bench` does that.

use newel_tests::highs::cases::{all_modules, all_points};
use newel_tests::highs::compare::{Compared, modules_of, points_of};

fn agree(all: &[Compared]) {
    for one in all {
        println!("{}", one.line());
    }
    let disagreements: Vec<String> = all.iter().filter_map(Compared::disagreement).collect();
    assert!(disagreements.is_empty(), "{disagreements:#?}");
}

#[test]
fn feeds_of_points_cost_what_highs_proves() {
    let all: Vec<Compared> = all_points().iter().map(|(name, problem)| points_of(name, problem)).collect();
    agree(&all);
    // The cases try what is meant to be tried: several drivers, and one that nothing feeds.
    assert_eq!(all.iter().filter(|one| one.ours.is_none()).count(), 1);
    assert!(all.iter().filter(|one| one.ours.is_some()).all(|one| one.highs.taken.len() >= 3));
}

#[test]
fn feeds_of_modules_cost_what_highs_proves() {
    let all: Vec<Compared> = all_modules().iter().map(|(name, problem)| modules_of(name, problem)).collect();
    agree(&all);
    assert!(all.iter().all(|one| one.ours.is_some() && one.highs.taken.len() >= 3));
}
