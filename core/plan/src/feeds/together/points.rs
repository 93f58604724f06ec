//! Rails of points, as they are looked at together.

use survey::DriverLock;
use units::Money;

use super::rail_problem::RailProblem;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;
use crate::feeds::problem::{DriverOption, Place, Problem, WayIn};
use crate::feeds::rail::Rail;
use crate::feeds::scheme::{Chain, Outcome, Scheme, Solved};
use crate::feeds::source::limits;
use crate::feeds::stand::{Stand, Stands};
use crate::feeds::{check, mend, solve, solve_finely, solved};

impl RailProblem for Problem {
    type Chain = Chain;
    type Outcome = Outcome;
    /// Least voltage in force at each luminaire.
    type Made<'a> = Vec<f64>;

    fn nominal(&self) -> units::Volts {
        self.nominal
    }

    fn count(&self) -> usize {
        self.luminaires.len()
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
        check::faults(self).is_empty()
    }

    fn alone(&self) -> (Outcome, Fine) {
        solve_finely(self)
    }

    fn solved_alone(&self) -> Option<(Outcome, Fine)> {
        self.is_readable().then(|| solved(self))?
    }

    fn stands(&self) -> Stands {
        solve::stands(self)
    }

    fn ready(&self, stands: Vec<Stand>, keys: &[(usize, usize)]) -> (Rail<'_>, Vec<f64>) {
        (solve::ready(self, 0.0, (stands, keys)), limits(self))
    }

    fn chain(&self, rail: &Rail<'_>, limits: &Vec<f64>, chosen: &Chosen) -> Option<Chain> {
        Some(solve::chain(self, limits, rail, chosen))
    }

    fn solved(outcome: &Outcome) -> Option<&Scheme> {
        match outcome {
            Outcome::Solved(solved) => Some(&solved.scheme),
            Outcome::Infeasible(_) | Outcome::Refused(_) => None,
        }
    }

    fn drawn(outcome: &Outcome) -> Option<&Scheme> {
        match outcome {
            Outcome::Solved(solved) => Some(&solved.scheme),
            Outcome::Infeasible(infeasible) => infeasible.best_effort.as_ref(),
            Outcome::Refused(_) => None,
        }
    }

    fn with_scheme(&self, alone: &Outcome, scheme: Scheme) -> Outcome {
        let before = match alone {
            Outcome::Solved(solved) => solved.mend.as_ref(),
            Outcome::Infeasible(_) | Outcome::Refused(_) => None,
        };
        let mend = before.map(|mend| mend::compared(self, mend, &scheme));
        Outcome::Solved(Solved { lower_bound: scheme.cost, scheme, mend })
    }

    fn set_lower_bound(outcome: &mut Outcome, bound: Money) {
        if let Outcome::Solved(solved) = outcome {
            solved.lower_bound = bound;
        }
    }
}
