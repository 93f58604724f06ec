//! What one rail's feeds are chosen from: luminaires, ways in, places, paths, parts and costs, as plain data.

use catalogue::{LoadModel, ShortCircuit};
use survey::{DriverLock, FeedWish, Id};
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

/// The feed problem of one rail and one nominal voltage. Lists are referred to by index.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Nominal voltage of every luminaire here; 12 V and 24 V never meet in one problem.
    pub nominal: Volts,
    /// Greatest drop between driver and luminaire, thousandths of the nominal voltage.
    pub drop_permille: u16,
    /// Luminaires in order of chainage.
    pub luminaires: Vec<Luminaire>,
    /// Stretches of the bore that no cable passes; one of no length blocks at a point.
    pub blocked: Vec<Blocked>,
    /// Ways in.
    pub ways_in: Vec<WayIn>,
    /// Places where a driver can stand.
    pub places: Vec<Place>,
    /// Ways for an extension lead from a place to a way in.
    pub paths: Vec<Path>,
    /// Driver parts.
    pub drivers: Vec<DriverOption>,
    /// Extension leads, one for each part of the catalogue.
    pub leads: Vec<LeadOption>,
    /// Running cores, one for each part of the catalogue.
    pub runs: Vec<RunOption>,
    /// Extra conductor left at each luminaire that a running core serves.
    pub loop_per_hole: Length,
    /// Prices and labour that belong to no part.
    pub costs: Costs,
    /// Where feeds are wished.
    pub wish: FeedWish,
    /// Whether running cores may pass luminaires of another chain (they share the bore there).
    pub passing: Passing,
    /// Drivers that a person put somewhere; each needs a driver of its own with at least one chain.
    pub locks: Vec<DriverLock>,
}

/// A luminaire as the feed sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct Luminaire {
    /// Where it joins the running cores.
    pub chainage: Length,
    /// How each channel draws current at full output: one for white, several on a common conductor for colour.
    /// Every luminaire of a problem has the same number.
    pub channels: Vec<LoadModel>,
    /// Tap and tail in each channel's conductor (the plus of white), warm.
    pub own_channel: Ohms,
    /// Tap and tail in the common conductor (the minus of white), warm.
    pub own_common: Ohms,
    /// Least voltage at its terminals.
    pub least: Volts,
    /// Greatest voltage at its terminals.
    pub greatest: Volts,
}

/// A stretch of the bore that no cable passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Blocked {
    /// Where it starts.
    pub from: Length,
    /// Where it ends, not before its start.
    pub to: Length,
}

/// A way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayIn {
    /// The feature of the survey.
    pub id: Id,
    /// Where it is.
    pub chainage: Length,
}

/// A place where a driver can stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The place of the survey.
    pub id: Id,
    /// How mains gets there.
    pub mains: Mains,
    /// Driver parts that fit and may stand there.
    pub fits: Vec<Fit>,
    /// Number of drivers that there is room for; `None` where room is no matter.
    pub room: Option<u32>,
}

/// How mains gets to a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mains {
    /// Along measured routes; each driver has its own mains lead.
    Route {
        /// The mains point.
        point: Id,
        /// Length of the way.
        length: Length,
        /// Routes that it follows.
        routes: Vec<Id>,
    },
    /// Taken for granted at a place that is only proposed; costs nothing here.
    Assumed,
    /// No way is known; no driver can stand there.
    Unreached,
}

/// A driver part at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Index of the driver part.
    pub driver: usize,
    /// Share of rated power left there by derating, 0 to 1.
    pub share: f64,
    /// Cost of an enclosure where the part needs one there.
    pub enclosure: Money,
}

/// A way for an extension lead from a place to a way in.
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
    /// Indexes of the leads that may lie there (outdoors, clear width).
    pub leads: Vec<usize>,
}

/// A driver part.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverOption {
    /// Part of the catalogue.
    pub part: String,
    /// Its price.
    pub price: Money,
    /// Number of outputs; each feeds at most one chain.
    pub outputs: u8,
    /// Greatest current of one output.
    pub output_limit: Amps,
    /// Rated output power.
    pub rated: Watts,
    /// Share of the rated power to keep free, per cent.
    pub reserve_percent: u8,
    /// Output voltage at the low end of its tolerance.
    pub low: Volts,
    /// Output voltage at the high end of its tolerance.
    pub high: Volts,
    /// What it does at a short circuit.
    pub short_circuit: ShortCircuit,
}

/// An extension lead of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct LeadOption {
    /// Part of the catalogue.
    pub part: String,
    /// Area of one core.
    pub area: SquareMm,
    /// Resistance of one core for a metre, warm, in ohms.
    pub ohms_per_m: f64,
    /// Current that one core carries.
    pub carries: Amps,
    /// How it is sold.
    pub supply: LeadSupply,
    /// Extra length for slack and ends, on top of the path.
    pub allowance: Length,
    /// Resistance of the connections at its two ends together, one pole.
    pub ends: Ohms,
    /// Cost of making off both ends.
    pub ends_cost: Money,
}

/// How a lead is sold.
#[derive(Clone, Debug, PartialEq)]
pub enum LeadSupply {
    /// Cut from a reel at a price for a metre.
    Reel {
        /// Price for a metre.
        per_metre: Money,
    },
    /// Made up in fixed lengths; up to [`MOST_JOINED`] plugged in series.
    MadeUp {
        /// Lengths with their prices.
        lengths: Vec<(Length, Money)>,
        /// Resistance of one pole of a plug between two of them.
        plug: Ohms,
        /// Current that one pole of a plug carries.
        plug_carries: Amps,
        /// Cost of joining two.
        plug_cost: Money,
    },
}

/// How many made-up leads are plugged in series at most.
pub const MOST_JOINED: usize = 3;

/// Running cores of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct RunOption {
    /// Part of the catalogue.
    pub part: String,
    /// Area of one core.
    pub area: SquareMm,
    /// Resistance of one core for a metre, warm, in ohms.
    pub ohms_per_m: f64,
    /// Current that one core carries.
    pub carries: Amps,
    /// Price of a metre of the part.
    pub per_metre: Money,
    /// How many lie side by side: one for each conductor with single cores, 1 for a cable with all of them.
    pub lengths: u8,
}

/// Whether running cores may pass luminaires of another chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passing {
    /// They may.
    Allowed,
    /// They may not, for want of room in the bore.
    Forbidden,
}

/// Prices and labour that belong to no part of the lists above.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Costs {
    /// Mounting and connecting one driver.
    pub mount_driver: Money,
    /// A metre of mains lead, material and labour.
    pub mains_per_metre: Money,
    /// Both ends of one mains lead.
    pub mains_ends: Money,
    /// Laying a metre of extension lead.
    pub lay_per_metre: Money,
    /// Threading a metre of running cores, all conductors together.
    pub thread_per_metre: Money,
    /// What each chain costs besides (the joint at its way in, a gland).
    pub per_chain: Money,
    /// What each arm of a chain costs besides: the seals at its end.
    pub per_arm: Money,
}
