//! Everything tried over several rails of modules. Shares no code with the choice of feeds.

#[path = "../joint_search/mod.rs"]
mod joint_search;

use joint_search::Rail;
use plan::series::Problem;
use units::Money;

use super::brute::{chain, watts};

/// Least cost of all rails together, `None` where they cannot all be fed.
pub fn cheapest(problems: &[&Problem]) -> Option<Money> {
    joint_search::cheapest(&problems.iter().map(|problem| rail(problem)).collect::<Vec<_>>())
}

fn rail(problem: &Problem) -> Rail<'_> {
    Rail::of(
        (problem.modules.len(), &problem.costs),
        (&problem.places, &problem.drivers, &problem.locks),
        |place, driver, first, last| chain(problem, place, driver, first, last),
        |driver, index| watts(problem, driver, index),
    )
}
