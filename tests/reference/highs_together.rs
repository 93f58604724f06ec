//! Source of the comparison: HiGHS, over rails that share places and drivers. The program is written in `tests/highs` with
//! code of its own: each rail's blocks, drivers of their own, and drivers that take one block on each of several rails.

use newel_tests::highs::cases::{all_module_neighbours, all_neighbours};
use newel_tests::highs::together::{Rail, program};
use newel_tests::highs::{modules, points, ten_thousandths};
use plan::feeds::Together;
use plan::{feeds, series};

#[test]
fn rails_that_share_places_cost_what_highs_proves() {
    let mut shared = 0;
    for (name, rails) in all_neighbours() {
        let witness: Vec<Rail<'_>> = rails.iter().map(points::rail).collect();
        shared += compared(name, &witness, || feeds::solve_together(&rails.iter().collect::<Vec<_>>()));
    }
    // The cases try what is meant to be tried.
    assert!(shared >= 3, "{shared}");
}

#[test]
fn rails_of_modules_that_share_places_cost_what_highs_proves() {
    let mut shared = 0;
    for (name, rails) in all_module_neighbours() {
        let witness: Vec<Rail<'_>> = rails.iter().map(modules::rail).collect();
        shared += compared(name, &witness, || series::solve_together(&rails.iter().collect::<Vec<_>>()));
    }
    assert!(shared >= 2, "{shared}");
}

/// Compares ours with what HiGHS proves; how many drivers several rails share.
fn compared<O>(name: &str, rails: &[Rail<'_>], solve: impl Fn() -> Together<O>) -> usize {
    let program = program(rails);
    let highs = program.solve();
    let start = std::time::Instant::now();
    let ours = solve();
    let took = start.elapsed();
    println!(
        "{name}: {} choices, cost {} with bound {}, HiGHS {}; ours {took:.1?}, HiGHS {:.1?}",
        program.size(),
        ours.cost,
        ours.lower_bound,
        ten_thousandths(highs.cost),
        highs.took
    );
    assert!(highs.optimal, "{name}");
    // Our total is the sum of what each rail costs, each rounded to a ten-thousandth; theirs is rounded once.
    let apart = (ours.cost.to_ten_thousandths() - ten_thousandths(highs.cost)).unsigned_abs() as usize;
    assert!(apart < rails.len(), "{name}: {} where HiGHS proves {}", ours.cost, ten_thousandths(highs.cost));
    assert_eq!(ours.lower_bound, ours.cost, "{name}: what HiGHS proves is proved here too");
    ours.shared.len()
}
