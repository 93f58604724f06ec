//! What the choice of feeds answers for modules.

use units::{Amps, Money, Volts};

use crate::feeds::{self, LeadPieces};

/// The answer to a [`super::Problem`].
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// The cheapest scheme that keeps every constraint. By itself its cost is the lower bound, since the method is exact;
    /// beside rails that may share drivers see [`feeds::Together`].
    Solved(Scheme),
    /// No scheme keeps every constraint.
    Infeasible(Infeasible),
}

/// Why nothing keeps every constraint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Infeasible {
    /// The cheapest scheme that keeps everything but the volts, where there is one.
    pub best_effort: Option<Scheme>,
    /// What would help, each by itself.
    pub reliefs: Vec<Relief>,
}

/// One thing that would help.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Relief {
    /// A driver place with a route to the rail, mains and room for a driver.
    Place,
    /// A driver of the voltage that fits, with a voltage that modules stand.
    Driver,
    /// An extension lead that goes along the routes.
    Extension,
    /// A decoder.
    Decoder,
    /// A luminaire lead with enough cores.
    LuminaireLead,
    /// A link lead with enough cores.
    Link,
    /// A bore or joint that is not shut.
    Bore,
    /// Less drop: thicker or shorter leads, a nearer way in.
    Volts,
    /// Modules that the maker allows in longer chains, or more ways in.
    LongestChain,
    /// Leads, connectors or decoders for more current.
    Current,
    /// Drivers that hold a short to less.
    Short,
    /// Drivers with more power or outputs.
    Power,
    /// Room for more drivers.
    Room,
    /// Locks that are taken out.
    Locks,
}

/// Drivers with their chains of modules.
pub type Scheme = feeds::Scheme<Chain>;

/// A driver with its chains of modules.
pub type FedDriver = feeds::FedDriver<Chain>;

/// Which way a chain runs from its feed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Heading {
    /// Towards greater chainage.
    Rising,
    /// Towards the datum.
    Falling,
}

/// Modules that follow one another, fed from one output.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// Index of its module nearest the datum.
    pub first: usize,
    /// Index of its module farthest from the datum.
    pub last: usize,
    /// Which way it runs.
    pub heading: Heading,
    /// Index of the path.
    pub path: usize,
    /// Index of the way in.
    pub way_in: usize,
    /// Index of the extension lead.
    pub extension: usize,
    /// How it is made.
    pub extension_pieces: LeadPieces,
    /// Index of the decoder, where there is one.
    pub decoder: Option<usize>,
    /// Index of the luminaire lead.
    pub luminaire_lead: usize,
    /// How it is made.
    pub luminaire_pieces: LeadPieces,
    /// Index of the link part, where a gap needs one.
    pub link: Option<usize>,
    /// For each linked gap inside the chain, by chainage: its index and how its link is made.
    pub links: Vec<(usize, LeadPieces)>,
    /// Current reckoned for it.
    pub amps: Amps,
    /// Least voltage over its modules less the limit, in the worst case; `None` where the network has no solution.
    pub margin: Option<Volts>,
    /// Its cost.
    pub cost: Money,
}

impl Chain {
    /// Its modules in the order in which current reaches them.
    #[must_use]
    pub fn outwards(&self) -> Vec<usize> {
        match self.heading {
            Heading::Rising => (self.first..=self.last).collect(),
            Heading::Falling => (self.first..=self.last).rev().collect(),
        }
    }
}
