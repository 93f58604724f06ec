//! What looking at rails together asks of one rail's problem, of points or of modules.

use survey::DriverLock;
use units::{Money, Volts};

use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;
use crate::feeds::problem::{DriverOption, Place, WayIn};
use crate::feeds::rail::Rail;
use crate::feeds::scheme::Scheme;
use crate::feeds::stand::{Stand, Stands};

/// The feed problem of one rail.
pub(crate) trait RailProblem: Clone + PartialEq + Send + Sync {
    /// A chain of its schemes.
    type Chain: Clone + Send + Sync;
    /// Its answer.
    type Outcome: Clone + Send + Sync;
    /// What chains are written from besides the rail that was made ready.
    type Made<'a>: Send
    where
        Self: 'a;

    /// Nominal voltage of its luminaires.
    fn nominal(&self) -> Volts;
    /// Number of luminaires.
    fn count(&self) -> usize;
    /// Places where a driver can stand.
    fn places(&self) -> &[Place];
    /// The same, to take room from them.
    fn places_mut(&mut self) -> &mut [Place];
    /// Driver parts.
    fn drivers(&self) -> &[DriverOption];
    /// Drivers that a person put somewhere.
    fn locks(&self) -> &[DriverLock];
    /// The same, to take them out.
    fn locks_mut(&mut self) -> &mut Vec<DriverLock>;
    /// Ways in.
    fn ways_in(&self) -> &[WayIn];
    /// Whether its values can be reckoned with at all.
    fn is_readable(&self) -> bool;

    /// The answer for the rail by itself, with its cost before rounding, zero where there is no scheme.
    fn alone(&self) -> (Self::Outcome, Fine);
    /// The same where there is a scheme; where there is none, nobody looks for what stands in the way.
    fn solved_alone(&self) -> Option<(Self::Outcome, Fine)>;
    /// Every driver that can stand somewhere.
    fn stands(&self) -> Stands;
    /// The rail with these stands and the (place, part) of each chain table.
    fn ready(&self, stands: Vec<Stand>, keys: &[(usize, usize)]) -> (Rail<'_>, Self::Made<'_>);
    /// A chain that was chosen on it.
    fn chain(&self, rail: &Rail<'_>, made: &Self::Made<'_>, chosen: &Chosen) -> Option<Self::Chain>;

    /// The scheme that keeps every constraint, where there is one.
    fn solved(outcome: &Self::Outcome) -> Option<&Scheme<Self::Chain>>;
    /// The scheme that is drawn: that one, else the best effort.
    fn drawn(outcome: &Self::Outcome) -> Option<&Scheme<Self::Chain>>;
    /// The answer with another scheme, beside rails that may share drivers.
    fn with_scheme(&self, alone: &Self::Outcome, scheme: Scheme<Self::Chain>) -> Self::Outcome;
    /// Writes the proven lower bound of the rail's own cost into an answer that tells it.
    fn set_lower_bound(outcome: &mut Self::Outcome, bound: Money);
}
