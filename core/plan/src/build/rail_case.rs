//! What the feeds of a rail are chosen from, as far as points and modules are alike in it.

use catalogue::{Driver, Lead};
use survey::{DriverLock, Finding, Id};
use units::{Amps, Length, Money, Volts, Watts};

use super::canonical::Inputs;
use super::circuits::CircuitNames;
use super::draft::RailDraft;
use super::feeding::Proposed;
use super::supply::PlaceForRail;
use super::together::Answer;
use crate::feeds::{DriverOption, Place, WayIn};

/// What the feeds of a rail of points or of modules are chosen from.
pub(crate) trait RailCase<'a>: Clone + Send + Sync {
    /// The answer for one rail.
    type Outcome: Send + Sync;
    /// A chain as it was chosen.
    type Chain;
    /// A chain with its network.
    type Powered;

    /// Whether [`Self::cheapest`] lets a driver serve several rails.
    const SHARES: bool;

    /// Nominal voltage of its luminaires.
    fn nominal(&self) -> Volts;
    /// The cable of its mains leads, where the catalogue has one.
    fn mains(&self) -> Option<&'a Lead>;
    /// Whether its places are only proposed.
    fn proposed(&self) -> Proposed;
    /// Its driver parts as the feeds weigh them.
    fn options(&self) -> &[DriverOption];
    /// The parts behind them.
    fn parts(&self) -> &[&'a Driver];
    /// Its places as the feeds weigh them.
    fn places(&self) -> &[Place];
    /// The same, to take room from them.
    fn places_mut(&mut self) -> &mut [Place];
    /// The places behind them.
    fn sources(&self) -> &[PlaceForRail<'a>];
    /// Its ways in.
    fn ways_in(&self) -> &[WayIn];
    /// The drivers that a person put somewhere.
    fn locks_mut(&mut self) -> &mut Vec<DriverLock>;

    /// The cheapest feeds of several rails that may share drivers.
    fn cheapest(cases: &[&Self]) -> Answer<Self::Outcome>;
    /// Cost of the cheapest scheme; `None` where no scheme keeps every limit.
    fn proved_cost(outcome: &Self::Outcome) -> Option<Money>;
    /// Cost of the scheme that is drawn: the cheapest, else the best effort.
    fn cost(outcome: &Self::Outcome) -> Money;
    /// Position of the place of each driver of that scheme.
    fn stands(outcome: &Self::Outcome) -> Vec<usize>;
    /// The drivers of that scheme with their chains.
    fn drawn(outcome: &Self::Outcome) -> Vec<DrawnDriver<Self::Chain>>;
    /// What there is to say about an answer.
    fn findings(&self, inputs: &Inputs, draft: &RailDraft<'_>, outcome: &Self::Outcome) -> Vec<Finding>;

    /// Where a chain is fed.
    fn feed(&self, chain: &Self::Chain) -> Feed<'_>;
    /// A chain with its network solved, and the greatest current of its source; `None` where it cannot be built.
    fn powered(
        &self,
        inputs: &Inputs,
        draft: &RailDraft<'_>,
        driver: DriverOfScheme,
        chain: Self::Chain,
        names: CircuitNames,
    ) -> Option<(Self::Powered, Amps)>;
}

/// A driver of a scheme.
#[derive(Clone, Copy, Debug)]
pub(crate) struct DriverOfScheme {
    /// Position of its place.
    pub place: usize,
    /// Position of its part.
    pub part: usize,
    /// Power reckoned for its chains on the rail.
    pub load: Watts,
    /// Power that may be drawn from it.
    pub usable: Watts,
}

/// A driver of a scheme with its chains.
pub(crate) struct DrawnDriver<Chain> {
    /// The driver.
    pub driver: DriverOfScheme,
    /// Its chains on the rail, in order of their first luminaire.
    pub chains: Vec<Chain>,
}

/// Where a chain is fed.
pub(crate) struct Feed<'c> {
    /// The way in.
    pub way_in: &'c Id,
    /// Where that is.
    pub chainage: Length,
    /// The routes of its lead.
    pub routes: &'c [Id],
    /// Position of its first luminaire.
    pub first: usize,
}
