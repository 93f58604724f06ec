//! A problem given to both: our answer and that of HiGHS, with the times of both.

use std::time::{Duration, Instant};

use plan::{feeds, series};
use units::Money;

use super::together::{self, Rail};
use super::{Answer, Program, modules, points, ten_thousandths};

/// Both answers to one problem.
pub struct Compared {
    /// What it is.
    pub name: String,
    /// Lights in it.
    pub lights: usize,
    /// Choices in the program that HiGHS solves.
    pub choices: usize,
    /// Our cost with its proven lower bound; `None` where we find nothing feasible.
    pub ours: Option<(Money, Money)>,
    /// Rails whose costs are each rounded to a ten-thousandth; HiGHS rounds once.
    pub rails: usize,
    /// The answer of HiGHS.
    pub highs: Answer,
    /// Least time of several runs of ours, from the plain problem to the scheme.
    pub took: Duration,
}

impl Compared {
    /// How many times as long HiGHS takes to pick from blocks made ready for it as we take for everything.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.highs.took.as_secs_f64() / self.took.as_secs_f64().max(1e-9)
    }

    /// One line for people.
    #[must_use]
    pub fn line(&self) -> String {
        let cost = self.ours.map_or("nothing feasible".to_owned(), |ours| format!("cost {}", ours.0));
        format!(
            "{}: {} lights, {} choices, {cost}; ours {:.2} ms, HiGHS {:.0} ms by its own account, {:.0} times as long",
            self.name,
            self.lights,
            self.choices,
            self.took.as_secs_f64() * 1000.0,
            self.highs.took.as_secs_f64() * 1000.0,
            self.ratio()
        )
    }

    /// Why the two disagree, `None` where they agree to less than a ten-thousandth a rail and our lower bound is our cost.
    #[must_use]
    pub fn disagreement(&self) -> Option<String> {
        match (self.ours, self.highs.optimal) {
            (None, false) => None,
            (Some((cost, bound)), true) => {
                let theirs = ten_thousandths(self.highs.cost);
                let apart = (cost.to_ten_thousandths() - theirs).unsigned_abs() as usize;
                let agree = apart < self.rails && bound == cost;
                (!agree).then(|| {
                    format!("{}: ours {cost} with bound {bound}, HiGHS {}", self.name, Money::ten_thousandths(theirs))
                })
            }
            (ours, optimal) => Some(format!("{}: ours {ours:?}, HiGHS has an answer: {optimal}", self.name)),
        }
    }
}

fn compare(
    name: &str,
    (rails, lights): (usize, usize),
    program: &Program,
    solve: impl Fn() -> Option<(Money, Money)>,
) -> Compared {
    let mut took = Duration::MAX;
    let mut ours = None;
    for _ in 0..5 {
        let start = Instant::now();
        ours = solve();
        took = took.min(start.elapsed());
    }
    Compared { name: name.to_owned(), lights, rails, choices: program.size(), ours, highs: program.solve(), took }
}

/// Points on one rail.
///
/// # Panics
/// Where the problem is refused.
#[must_use]
pub fn points_of(name: &str, problem: &feeds::Problem) -> Compared {
    compare(name, (1, problem.luminaires.len()), &points::program(problem), || match feeds::solve(problem) {
        feeds::Outcome::Solved(found) => Some((found.scheme.cost, found.lower_bound)),
        feeds::Outcome::Infeasible(_) => None,
        feeds::Outcome::Refused(faults) => panic!("{faults:?}"),
    })
}

/// Modules on one rail.
#[must_use]
pub fn modules_of(name: &str, problem: &series::Problem) -> Compared {
    compare(name, (1, problem.modules.len()), &modules::program(problem), || match series::solve(problem) {
        series::Outcome::Solved(found) => Some((found.cost, found.cost)),
        series::Outcome::Infeasible(_) => None,
    })
}

/// Points on rails that share places.
#[must_use]
pub fn points_together_of(name: &str, rails: &[feeds::Problem]) -> Compared {
    let witness: Vec<Rail<'_>> = rails.iter().map(points::rail).collect();
    let lights = rails.iter().map(|rail| rail.luminaires.len()).sum();
    let rails: Vec<&feeds::Problem> = rails.iter().collect();
    compare(name, (rails.len(), lights), &together::program(&witness), || {
        let found = feeds::solve_together(&rails);
        Some((found.cost, found.lower_bound))
    })
}

/// Modules on rails that share places.
#[must_use]
pub fn modules_together_of(name: &str, rails: &[series::Problem]) -> Compared {
    let witness: Vec<Rail<'_>> = rails.iter().map(modules::rail).collect();
    let lights = rails.iter().map(|rail| rail.modules.len()).sum();
    let rails: Vec<&series::Problem> = rails.iter().collect();
    compare(name, (rails.len(), lights), &together::program(&witness), || {
        let found = series::solve_together(&rails);
        Some((found.cost, found.lower_bound))
    })
}
