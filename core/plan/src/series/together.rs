//! Feeds of several rails of modules that share places, see [`crate::feeds::together`].

use survey::DriverLock;
use units::Money;

use super::problem::Problem;
use super::scheme::{Chain, Outcome, Scheme};
use super::solve::{self, Made, Volts};
use super::{solve_finely, solved};
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;
use crate::feeds::rail::Rail;
use crate::feeds::stand::{Stand, Stands};
use crate::feeds::together::{PATIENCE, RailProblem, together};
use crate::feeds::{DriverOption, Place, Together, WayIn};

/// The cheapest way to feed rails of modules of one voltage that share places, or what stands in the way. Places are the
/// same where their ids are.
#[must_use]
pub fn solve_together(problems: &[&Problem]) -> Together<Outcome> {
    together(problems, PATIENCE)
}

/// The same where the search over each group of rails may compare no more than so many partial schemes; with few the best
/// found may not be the cheapest, which the lower bound then says.
#[must_use]
pub fn solve_together_within(problems: &[&Problem], comparisons: u64) -> Together<Outcome> {
    together(problems, comparisons)
}

impl RailProblem for Problem {
    type Chain = Chain;
    type Outcome = Outcome;
    type Made<'a> = Made<'a>;

    fn nominal(&self) -> units::Volts {
        self.nominal
    }

    fn count(&self) -> usize {
        self.modules.len()
    }

    fn places(&self) -> &[Place] {
        &self.places
    }

    fn places_mut(&mut self) -> &mut [Place] {
        &mut self.places
    }

    fn drivers(&self) -> &[DriverOption] {
        &self.drivers
    }

    fn locks(&self) -> &[DriverLock] {
        &self.locks
    }

    fn locks_mut(&mut self) -> &mut Vec<DriverLock> {
        &mut self.locks
    }

    fn ways_in(&self) -> &[WayIn] {
        &self.ways_in
    }

    fn is_readable(&self) -> bool {
        true
    }

    fn alone(&self) -> (Outcome, Fine) {
        solve_finely(self)
    }

    fn solved_alone(&self) -> Option<(Outcome, Fine)> {
        solved(self)
    }

    fn stands(&self) -> Stands {
        solve::stands(self)
    }

    fn ready(&self, stands: Vec<Stand>, keys: &[(usize, usize)]) -> (Rail<'_>, Made<'_>) {
        solve::ready(self, Volts::Kept, stands, keys)
    }

    fn chain(&self, rail: &Rail<'_>, made: &Made<'_>, chosen: &Chosen) -> Option<Chain> {
        made.chain(self, rail, chosen)
    }

    fn solved(outcome: &Outcome) -> Option<&Scheme> {
        match outcome {
            Outcome::Solved(scheme) => Some(scheme),
            Outcome::Infeasible(_) => None,
        }
    }

    fn drawn(outcome: &Outcome) -> Option<&Scheme> {
        match outcome {
            Outcome::Solved(scheme) => Some(scheme),
            Outcome::Infeasible(why) => why.best_effort.as_ref(),
        }
    }

    fn with_scheme(&self, _: &Outcome, scheme: Scheme) -> Outcome {
        Outcome::Solved(scheme)
    }

    fn set_lower_bound(_: &mut Outcome, _: Money) {}
}
