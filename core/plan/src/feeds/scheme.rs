//! What the choice of feeds answers: drivers with their chains, the cost with its proof, and what to do where none works.

use survey::Id;
use units::{Amps, Length, Money, SquareMm, Volts, Watts};

/// The answer to a [`super::Problem`].
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// The cheapest scheme that keeps every constraint.
    Solved(Solved),
    /// No scheme keeps every constraint.
    Infeasible(Infeasible),
    /// The problem cannot be read: which value, and what is accepted.
    Refused(Vec<String>),
}

/// The cheapest scheme, proved.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// The scheme.
    pub scheme: Scheme,
    /// Proven lower bound: equal to the scheme's cost for a rail by itself, since the method is exact; beside rails that
    /// may share drivers, what it costs at least whatever they do.
    pub lower_bound: Money,
    /// What the plain scheme would have given, where it fails.
    pub mend: Option<Mend>,
}

/// Drivers with their chains, of points or of modules.
#[derive(Clone, Debug, PartialEq)]
pub struct Scheme<C = Chain> {
    /// Drivers in order of their first luminaire.
    pub drivers: Vec<FedDriver<C>>,
    /// Cost of all of them, with everything that the objective counts.
    pub cost: Money,
}

impl<C> Default for Scheme<C> {
    fn default() -> Self {
        Self { drivers: Vec::new(), cost: Money::ZERO }
    }
}

/// A driver with its chains.
#[derive(Clone, Debug, PartialEq)]
pub struct FedDriver<C = Chain> {
    /// Index of the place.
    pub place: usize,
    /// Index of the driver part.
    pub driver: usize,
    /// Its chains in order of their first luminaire, one to an output (the first on output 1 and so on).
    pub chains: Vec<C>,
    /// Power reckoned for it: the sum of its luminaires' worst powers.
    pub load: Watts,
    /// Power that may be drawn: rated × derating × (1 − reserve).
    pub usable: Watts,
    /// Its cost without its chains: part, mounting, mains lead, enclosure.
    pub cost: Money,
}

/// A chain: luminaires that follow one another, fed from one output.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// Index of its first luminaire.
    pub first: usize,
    /// Index of its last luminaire.
    pub last: usize,
    /// Index of the first luminaire of the right arm (towards greater chainage): those from `first` up to here hang
    /// on the left arm, those from here to `last` on the right. Equal to `first` where there is no left arm, to
    /// `last + 1` where there is no right arm.
    pub split: usize,
    /// Index of the path, and so of the way in.
    pub path: usize,
    /// Index of the way in.
    pub way_in: usize,
    /// Index of the lead part.
    pub lead: usize,
    /// How the extension lead is made.
    pub pieces: LeadPieces,
    /// Index of the run part.
    pub run: usize,
    /// Length of the left arm, loops counted; zero where there is none.
    pub left: Length,
    /// Length of the right arm, loops counted; zero where there is none.
    pub right: Length,
    /// Current reckoned for it: the sum of its luminaires' worst currents, see [`super`].
    pub amps: Amps,
    /// Least voltage over its luminaires less the limit there, in the worst case; `None` where the network has no
    /// solution.
    pub margin: Option<Volts>,
    /// Its cost: lead, laying, ends, run, threading, seals.
    pub cost: Money,
}

/// How an extension lead is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadPieces {
    /// Cut from a reel.
    Cut(Length),
    /// Made-up lengths in series, the longest first.
    MadeUp(Vec<Length>),
}

impl LeadPieces {
    /// The whole length of conductor, coiled slack counted.
    #[must_use]
    pub fn length(&self) -> Length {
        match self {
            Self::Cut(length) => *length,
            Self::MadeUp(pieces) => pieces.iter().fold(Length::ZERO, |sum, piece| sum + *piece),
        }
    }
}

/// What the plain scheme (thinnest lead, thinnest run) gives where it fails, and what mends it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The cheapest plain scheme when volts do not matter.
    pub plain: Scheme,
    /// Its luminaire that falls shortest.
    pub luminaire: usize,
    /// Volts there in the worst case; `None` where the network has no solution.
    pub volts: Option<Volts>,
    /// The limit there.
    pub limit: Volts,
    /// What the solution changed, in the order of [`Change`].
    pub changes: Vec<Change>,
    /// What the mend costs more than the plain scheme (negative where the plain scheme is dearer).
    pub extra: Money,
}

/// One thing that the solution does otherwise than the plain scheme.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// A thicker extension lead.
    ThickerLead,
    /// Thicker running cores.
    ThickerRun,
    /// More chains, or other ways in.
    AnotherFeed,
    /// More drivers, or drivers at another place.
    AnotherPlace,
    /// Another driver part.
    AnotherDriver,
}

/// No scheme keeps every constraint.
#[derive(Clone, Debug, PartialEq)]
pub struct Infeasible {
    /// The scheme with the least shortfall of volts, all other constraints held; `None` where there is none even so.
    /// Luminaires in `unreached` are left out of it.
    pub best_effort: Option<Scheme>,
    /// Its luminaire that falls shortest, where volts are what fails.
    pub short_of_volts: Option<ShortOfVolts>,
    /// Luminaires that no path reaches.
    pub unreached: Vec<usize>,
    /// What stands in the way, and what would help, the surest first.
    pub help: Vec<Help>,
}

/// A luminaire that falls short.
#[derive(Clone, Debug, PartialEq)]
pub struct ShortOfVolts {
    /// Its index.
    pub luminaire: usize,
    /// Volts there in the worst case; `None` where the network has no solution.
    pub volts: Option<Volts>,
    /// The limit there.
    pub limit: Volts,
}

/// What would help, each computed.
#[derive(Clone, Debug, PartialEq)]
pub enum Help {
    /// No place was given.
    NoPlace,
    /// No way in was given.
    NoWayIn,
    /// No mains reaches these places.
    NoMains {
        /// The places.
        places: Vec<Id>,
    },
    /// No driver part fits these places.
    NoDriverFits {
        /// The places.
        places: Vec<Id>,
    },
    /// No path with a lead reaches a way in that serves these luminaires.
    NoRoute {
        /// The first luminaire.
        first: usize,
        /// The last luminaire.
        last: usize,
        /// Chainage of the first.
        from: Length,
        /// Chainage of the last.
        to: Length,
    },
    /// A way in at most this far from the luminaire along the tube.
    WayInWithin {
        /// The luminaire that falls short.
        luminaire: usize,
        /// The distance.
        distance: Length,
    },
    /// A further way in somewhere on this stretch, for both ways along the tube.
    WayInBetween {
        /// Its start.
        from: Length,
        /// Its end.
        to: Length,
    },
    /// Running cores of at least this area (next standard one).
    RunArea {
        /// The area.
        area: SquareMm,
    },
    /// Extension leads of at least this area (next standard one).
    LeadArea {
        /// The area.
        area: SquareMm,
    },
    /// A made-up lead, or leads plugged in series, of at least this length.
    LeadLength {
        /// The length.
        length: Length,
    },
    /// A driver that may deliver this power after derating and reserve.
    DriverPower {
        /// The power.
        power: Watts,
    },
    /// An output of at least this current.
    OutputCurrent {
        /// The current.
        current: Amps,
    },
    /// A lead and running cores that carry this current.
    ConductorCurrent {
        /// The current.
        current: Amps,
    },
    /// Drivers whose short-circuit current the conductors stand, or a lower fuse.
    ShortCircuit,
    /// The drivers' voltage at its high end is above what the luminaire stands.
    SourceTooHigh {
        /// The luminaire.
        luminaire: usize,
        /// What it stands.
        greatest: Volts,
        /// The least high end among the drivers.
        source: Volts,
    },
    /// Room in the bore for running cores to pass luminaires of another chain.
    Passing,
    /// Room for more drivers at these places.
    Room {
        /// The places.
        places: Vec<Id>,
    },
    /// A lock that cannot be kept.
    Lock {
        /// Index of the lock.
        lock: usize,
    },
}
