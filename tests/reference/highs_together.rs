//! Source of the comparison: HiGHS, over rails that share places and drivers. The program is written in `tests/highs` with
//! code of its own: each rail's blocks, drivers of their own, and drivers that take one block on each of several rails.

use newel_tests::highs::cases::all_neighbours;
use newel_tests::highs::{ten_thousandths, together};
use plan::feeds::{Problem, solve_together};

#[test]
fn rails_that_share_places_cost_what_highs_proves() {
    let mut shared = 0;
    for (name, rails) in all_neighbours() {
        let rails: Vec<&Problem> = rails.iter().collect();
        let program = together::program(&rails);
        let highs = program.solve();
        let start = std::time::Instant::now();
        let ours = solve_together(&rails);
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
        shared += ours.shared.len();
    }
    // The cases try what is meant to be tried.
    assert!(shared >= 3, "{shared}");
}
