//! How many times as long HiGHS takes as the choice of feeds, in the same run; ends with 1 where the goal is missed.
//!
//! HiGHS is given blocks with their costs, made ready, and its own account of its solving time counts; ours is everything
//! from the plain problem to the scheme.

use newel_tests::highs::cases::{all_modules, all_points};
use newel_tests::highs::compare::{modules_of, points_of};

/// Least ratio of times.
const GOAL: f64 = 100.0;

/// The same as in the command and the window, so that what is measured is what people wait for.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    let points = all_points().into_iter().map(|(name, problem)| points_of(name, &problem));
    let modules = all_modules().into_iter().map(|(name, problem)| modules_of(name, &problem));
    let mut missed = 0;
    for one in points.chain(modules) {
        let agreed = one.disagreement().is_none();
        // What is infeasible HiGHS sees before it searches, so there is nothing to compare.
        let met = agreed && (one.ours.is_none() || one.ratio() >= GOAL);
        missed += usize::from(!met);
        println!("{}; goal at least {GOAL}: {}", one.line(), if met { "met" } else { "MISSED" });
    }
    std::process::ExitCode::from(u8::from(missed > 0))
}
