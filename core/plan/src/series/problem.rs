//! What the feeds of one rail's modules are chosen from, as plain data. Lists are referred to by index.

use catalogue::LoadModel;
use survey::{DriverLock, FeedWish, Id};
use units::{Amps, Length, Money, Ohms, Volts};

use crate::feeds::{Blocked, Costs, DriverOption, LeadOption, Place, WayIn};

/// The feed problem of one rail with modules of one make.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Nominal voltage of every module.
    pub nominal: Volts,
    /// Greatest drop between driver and module, thousandths of the nominal voltage.
    pub drop_permille: u16,
    /// Channels: 1 for fixed colour.
    pub channels: u8,
    /// Modules in order of chainage.
    pub modules: Vec<Module>,
    /// What lies between each module and the next; one fewer than modules.
    pub gaps: Vec<Gap>,
    /// Resistance of one pole where two modules are plugged together.
    pub contact: Ohms,
    /// Current that one pole of a module's connector carries.
    pub connector_carries: Amps,
    /// The maker's longest chain, as summed module length.
    pub longest_chain: Length,
    /// Stretches of the bore that no lead passes.
    pub blocked: Vec<Blocked>,
    /// Ways in.
    pub ways_in: Vec<WayIn>,
    /// Places where a driver can stand.
    pub places: Vec<Place>,
    /// Ways from a place to a way in.
    pub paths: Vec<Path>,
    /// Driver parts.
    pub drivers: Vec<DriverOption>,
    /// How a chain is fed.
    pub feeding: Feeding,
    /// Extension leads.
    pub extensions: Vec<LeadOption>,
    /// Luminaire leads.
    pub luminaire_leads: Vec<LeadOption>,
    /// By luminaire lead, whether it passes behind a module in the tube.
    pub passes_behind: Vec<bool>,
    /// Link leads.
    pub links: Vec<LeadOption>,
    /// Prices and labour that belong to no part.
    pub costs: Costs,
    /// Where feeds are wished.
    pub wish: FeedWish,
    /// Drivers that a person put somewhere; each needs a driver of its own with at least one chain.
    pub locks: Vec<DriverLock>,
}

/// A module as the feed sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Module {
    /// Chainage where it starts.
    pub start: Length,
    /// Chainage where it ends.
    pub end: Length,
    /// How each channel draws current at full output.
    pub load: LoadModel,
    /// Resistance of one of its through-conductors, warm.
    pub through: Ohms,
    /// Least voltage at its terminals.
    pub least: Volts,
    /// Greatest voltage at its terminals.
    pub greatest: Volts,
}

/// What lies between two modules that follow one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gap {
    /// They meet and are plugged together.
    Plugged,
    /// A link lead goes from one to the other.
    Linked {
        /// Length along the rail, a movement joint's range counted.
        length: Length,
    },
    /// Nothing passes.
    Shut,
}

/// How a chain is fed.
#[derive(Clone, Debug, PartialEq)]
pub enum Feeding {
    /// Straight from the driver.
    Plain,
    /// Through a decoder beside the driver.
    Decoded {
        /// Length of the extension lead between them.
        beside: Length,
        /// Decoders.
        decoders: Vec<DecoderOption>,
    },
}

/// A decoder part.
#[derive(Clone, Debug, PartialEq)]
pub struct DecoderOption {
    /// Part of the catalogue.
    pub part: String,
    /// Its price with the work of connecting it.
    pub cost: Money,
    /// Resistance of one channel.
    pub ohms: Ohms,
    /// Current of one channel.
    pub carries: Amps,
    /// By place, the enclosure that it needs there; `None` where it can't stand.
    pub enclosure: Vec<Option<Money>>,
}

/// A way from a place to a way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    /// Index of the place.
    pub place: usize,
    /// Index of the way in.
    pub way_in: usize,
    /// Length of the way, from the driver to the way in.
    pub length: Length,
    /// Routes that it follows.
    pub routes: Vec<Id>,
    /// Indexes of the extension leads that may lie there.
    pub extensions: Vec<usize>,
    /// Indexes of the luminaire leads that may go into the tube there (and lie along the way, behind a decoder).
    pub luminaire_leads: Vec<usize>,
}
