//! How many times as long HiGHS takes as the choice of feeds, in the same run; ends with 1 where the goal is missed.
//!
//! HiGHS is given blocks with their costs, made ready, and its own account of its solving time counts; ours is everything
//! from the plain problem to the scheme.

use newel_tests::highs::cases::{all_module_neighbours, all_modules, all_neighbours, all_points};
use newel_tests::highs::compare::{modules_of, modules_together_of, points_of, points_together_of};

/// Least ratio of times.
const GOAL: f64 = 100.0;

/// The same as in the command and the window, so that what is measured is what people wait for.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    let points = all_points().into_iter().map(|(name, problem)| points_of(name, &problem));
    let modules = all_modules().into_iter().map(|(name, problem)| modules_of(name, &problem));
    let rails = all_neighbours().into_iter().map(|(name, rails)| points_together_of(name, &rails));
    let module_rails = all_module_neighbours().into_iter().map(|(name, rails)| modules_together_of(name, &rails));
    let mut missed = 0;
    for one in points.chain(modules).chain(rails).chain(module_rails) {
        let agreed = one.disagreement().is_none();
        // What is infeasible HiGHS sees before it searches, so there is nothing to compare.
        let met = agreed && (one.ours.is_none() || one.ratio() >= GOAL);
        missed += usize::from(!met);
        println!("{}; goal at least {GOAL}: {}", one.line(), if met { "met" } else { "MISSED" });
    }
    std::process::ExitCode::from(u8::from(missed > 0))
}
