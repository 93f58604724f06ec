//! A radial network as plain data: stations, the conductors between them, and the loads.

use units::{Amps, Length, Ohms, SquareMm, Volts, Watts};

/// The greatest number of channels of one chain.
pub const MOST_CHANNELS: usize = 5;

/// The greatest size of any number in a network (volts, amperes, watts, ohms). Ours stay far below it; it keeps
/// arithmetic on raw data finite.
pub const GREATEST: f64 = 1e9;

/// Which source terminal the common conductor of a colour chain is joined to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CommonSide {
    /// Common anode: the channels return on the minus side.
    Plus,
    /// Common cathode: the channels go out on the plus side.
    Minus,
}

/// The conductors that run along a chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wiring {
    /// Fixed white: plus and minus. The plus is channel 0 and the minus is the common.
    Pair,
    /// Variable colour: one common and one conductor per named channel (1 to [`MOST_CHANNELS`]).
    Colour {
        /// The source terminal of the common.
        common: CommonSide,
        /// Names of the channels in order, such as `red`.
        channels: Vec<String>,
    },
}

impl Wiring {
    /// How many channel conductors there are.
    #[must_use]
    pub fn channels(&self) -> usize {
        match self {
            Self::Pair => 1,
            Self::Colour { channels, .. } => channels.len(),
        }
    }

    /// The source terminal of the common conductor.
    #[must_use]
    pub fn common_side(&self) -> CommonSide {
        match self {
            Self::Pair => CommonSide::Minus,
            Self::Colour { common, .. } => *common,
        }
    }

    /// The name of a channel, which a plain pair has none of.
    #[must_use]
    pub fn channel_name(&self, channel: usize) -> Option<&str> {
        match self {
            Self::Pair => None,
            Self::Colour { channels, .. } => channels.get(channel).map(String::as_str),
        }
    }

    /// What a conductor is called: `plus` or `minus` in a pair and for a trunk, `common` or `channel` in a colour chain.
    #[must_use]
    pub fn conductor_word(&self, conductor: Conductor) -> &'static str {
        match (self, conductor) {
            (Self::Pair, Conductor::Common) => "minus",
            (Self::Pair, Conductor::Channel(_)) => "plus",
            (Self::Colour { .. }, Conductor::Common) => "common",
            (Self::Colour { .. }, Conductor::Channel(_)) => "channel",
            (_, Conductor::Trunk) if self.common_side() == CommonSide::Plus => "minus",
            (_, Conductor::Trunk) => "plus",
        }
    }
}

/// One of the conductors of a chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Conductor {
    /// The common of a colour chain, or the minus of a pair.
    Common,
    /// A channel by its index, or the plus of a pair as channel 0.
    Channel(usize),
    /// In a colour chain, the one core opposite to the common that feeds all channels before they part at a decoder.
    Trunk,
}

/// What a branch is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum BranchKind {
    /// The driver's own internal resistance.
    Source,
    /// An extension lead, luminaire lead or link lead.
    Lead,
    /// A running core inside the rail.
    Run,
    /// A through-conductor of a linear module.
    Module,
    /// The tap from a running core to a luminaire.
    Tap,
    /// A plug, or a cut joint, in series with the run.
    Plug,
}

/// Where a station lies, if it lies in a rail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The rail's id.
    pub rail: String,
    /// Distance from the rail's datum.
    pub chainage: Length,
}

/// A piece of one conductor between a station and its parent.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// Which conductor it is.
    pub conductor: Conductor,
    /// What it is made of.
    pub kind: BranchKind,
    /// Length of conductor, slack included; zero for a plug.
    pub length: Length,
    /// Its cross-section, where it has one.
    pub area: Option<SquareMm>,
    /// Resistance at the temperature of the case, 0 or more. Zero is a joint without resistance.
    pub ohms: Ohms,
    /// The current it may carry for ever, `None` where nobody has stated it.
    pub stands: Option<Amps>,
}

/// A point where conductors meet and loads may be joined.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    /// A name unique in the network.
    pub id: String,
    /// The place in the rail, if any.
    pub place: Option<Place>,
    /// The index of the station nearer the driver, smaller than its own; `None` only for station 0, the source.
    pub parent: Option<usize>,
    /// One branch to the parent for every conductor that reaches this station. Empty for the source.
    pub branches: Vec<Branch>,
}

/// How the current of a load depends on its voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadModel {
    /// The same current at any voltage.
    Current(Amps),
    /// The same power at any voltage: current rises as voltage falls.
    Power(Watts),
    /// A resistance greater than zero.
    Resistance(Ohms),
    /// Another supply behind a resistance greater than zero: it draws (V − emf) / ohms, and feeds when that is
    /// negative. No plan of ours joins two supplies; published examples that check the solver do.
    Supply {
        /// Its open-circuit voltage.
        emf: Volts,
        /// Its internal resistance.
        ohms: Ohms,
    },
}

/// A load between a channel conductor and the common, of a luminaire at full output.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// The luminaire's id, unique together with the channel.
    pub luminaire: String,
    /// Index of its station.
    pub station: usize,
    /// Index of its channel; 0 in a pair.
    pub channel: usize,
    /// How it draws current.
    pub model: LoadModel,
}

/// A radial network: what one driver output feeds.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// The conductors along it.
    pub wiring: Wiring,
    /// Open-circuit voltage of the output, 0 or more.
    pub source: Volts,
    /// Stations in tree order: each after its parent, the source first.
    pub stations: Vec<Station>,
    /// The loads, in any order.
    pub loads: Vec<Load>,
}

/// Why a network cannot be read as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The station or luminaire.
    pub at: String,
    /// What is wrong and what is accepted.
    pub what: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.at, self.what)
    }
}

impl std::error::Error for Fault {}

impl Network {
    /// A network with its source station alone.
    #[must_use]
    pub fn new(wiring: Wiring, source: Volts, source_id: impl Into<String>) -> Self {
        let station = Station { id: source_id.into(), place: None, parent: None, branches: Vec::new() };
        Self { wiring, source, stations: vec![station], loads: Vec::new() }
    }

    /// Adds a station and returns its index.
    pub fn add_station(
        &mut self,
        id: impl Into<String>,
        place: Option<Place>,
        parent: usize,
        branches: Vec<Branch>,
    ) -> usize {
        self.stations.push(Station { id: id.into(), place, parent: Some(parent), branches });
        self.stations.len() - 1
    }

    /// Adds a load.
    pub fn add_load(&mut self, luminaire: impl Into<String>, station: usize, channel: usize, model: LoadModel) {
        self.loads.push(Load { luminaire: luminaire.into(), station, channel, model });
    }

    /// The conductors of the chain, the common last.
    #[must_use]
    pub fn conductors(&self) -> Vec<Conductor> {
        let channels = self.wiring.channels();
        (0..channels).map(Conductor::Channel).chain([Conductor::Common]).collect()
    }

    /// The conductors that reach a station, in the order of [`Self::conductors`].
    #[must_use]
    pub fn conductors_at(&self, station: usize) -> Vec<Conductor> {
        let Some(found) = self.stations.get(station) else { return Vec::new() };
        if found.parent.is_none() {
            return match self.wiring {
                Wiring::Pair => self.conductors(),
                Wiring::Colour { .. } => vec![Conductor::Trunk, Conductor::Common],
            };
        }
        let mut here: Vec<Conductor> = found.branches.iter().map(|branch| branch.conductor).collect();
        // The common is written last, as at the source.
        here.sort_by_key(|conductor| match conductor {
            Conductor::Channel(index) => *index,
            Conductor::Trunk => 0,
            Conductor::Common => usize::MAX,
        });
        here
    }

    /// The id of a node: the station's id, an underscore, and the conductor. The source has a plus and a minus;
    /// elsewhere the word is `plus`, `minus`, `common` or the channel's name. A channel that has not yet parted from
    /// the trunk shares the trunk's node.
    #[must_use]
    pub fn node_id(&self, station: usize, conductor: Conductor) -> String {
        let id = self.stations.get(station).map_or("?", |found| found.id.as_str());
        let word = match conductor {
            _ if station == 0 => {
                if self.is_plus_side(conductor) {
                    "plus"
                } else {
                    "minus"
                }
            }
            Conductor::Channel(_) if self.is_on_trunk(station) => self.wiring.conductor_word(Conductor::Trunk),
            Conductor::Channel(index) => self.wiring.channel_name(index).unwrap_or("plus"),
            Conductor::Common | Conductor::Trunk => self.wiring.conductor_word(conductor),
        };
        format!("{id}_{word}")
    }

    /// Whether the channels have not yet parted at a station: at the source and along a trunk.
    #[must_use]
    pub fn is_on_trunk(&self, station: usize) -> bool {
        station == 0
            || self
                .stations
                .get(station)
                .is_some_and(|found| found.branches.iter().any(|branch| branch.conductor == Conductor::Trunk))
    }

    /// Whether the conductor carries current out from the source (true) or back to it.
    #[must_use]
    pub fn is_plus_side(&self, conductor: Conductor) -> bool {
        match (conductor, self.wiring.common_side()) {
            (Conductor::Common, side) => side == CommonSide::Plus,
            (Conductor::Channel(_) | Conductor::Trunk, side) => side == CommonSide::Minus,
        }
    }

    /// The first reason why this cannot be solved as a radial network.
    ///
    /// # Errors
    /// A [`Fault`] that names the station or luminaire, what is wrong and what is accepted.
    pub fn check(&self) -> Result<(), Fault> {
        let fault = |at: &str, what: &str| Err(Fault { at: at.to_owned(), what: what.to_owned() });
        let channels = self.wiring.channels();
        if channels == 0 || channels > MOST_CHANNELS {
            return fault("network", "a chain has from 1 to 5 channels");
        }
        if !(0.0..=GREATEST).contains(&self.source.get()) {
            return fault("network", "the source voltage is from 0 to 1e9 V");
        }
        let Some(source) = self.stations.first() else { return fault("network", "a chain has a source station") };
        if source.parent.is_some() || !source.branches.is_empty() {
            return fault(&source.id, "the first station is the source and has no parent and no branches");
        }
        let mut ids: Vec<&str> = self.stations.iter().map(|station| station.id.as_str()).collect();
        ids.sort_unstable();
        if let Some(twice) = ids.windows(2).find(|two| two[0] == two[1]) {
            return fault(twice[0], "each station has an id of its own");
        }
        for (index, station) in self.stations.iter().enumerate().skip(1) {
            let Some(parent) = station.parent.filter(|parent| *parent < index) else {
                return fault(&station.id, "a station comes after its parent");
            };
            for (position, branch) in station.branches.iter().enumerate() {
                if let Conductor::Channel(channel) = branch.conductor
                    && channel >= channels
                {
                    return fault(&station.id, "a branch names a channel that the chain does not have");
                }
                if branch.conductor == Conductor::Trunk
                    && (self.wiring == Wiring::Pair
                        || station.branches.iter().any(|other| matches!(other.conductor, Conductor::Channel(_))))
                {
                    return fault(&station.id, "a trunk runs in a colour chain, in place of its channels");
                }
                if station.branches[..position].iter().any(|other| other.conductor == branch.conductor) {
                    return fault(&station.id, "a conductor has one branch to the parent station");
                }
                if !self.reaches(parent, branch.conductor) {
                    return fault(&station.id, "a conductor reaches a station only through its parent");
                }
                if !(0.0..=GREATEST).contains(&branch.ohms.get()) {
                    return fault(&station.id, "the resistance of a branch is from 0 to 1e9 ohms");
                }
            }
        }
        for load in &self.loads {
            if load.station >= self.stations.len() || load.channel >= channels {
                return fault(&load.luminaire, "a load names a station and a channel of its own chain");
            }
            if !self.reaches(load.station, Conductor::Channel(load.channel))
                || !self.reaches(load.station, Conductor::Common)
            {
                return fault(&load.luminaire, "a load stands where its channel and the common both reach");
            }
            let sound = match load.model {
                LoadModel::Current(amps) => (0.0..=GREATEST).contains(&amps.get()),
                LoadModel::Power(watts) => (0.0..=GREATEST).contains(&watts.get()),
                LoadModel::Resistance(ohms) => (1.0 / GREATEST..=GREATEST).contains(&ohms.get()),
                LoadModel::Supply { emf, ohms } => {
                    (0.0..=GREATEST).contains(&emf.get()) && (1.0 / GREATEST..=GREATEST).contains(&ohms.get())
                }
            };
            if !sound {
                return fault(&load.luminaire, "a load is from 0 to 1e9 A or W, or from 1e-9 to 1e9 ohms");
            }
        }
        Ok(())
    }

    fn reaches(&self, station: usize, conductor: Conductor) -> bool {
        station == 0
            || (matches!(conductor, Conductor::Channel(_)) && self.is_on_trunk(station))
            || self.stations[station].branches.iter().any(|branch| branch.conductor == conductor)
    }
}
