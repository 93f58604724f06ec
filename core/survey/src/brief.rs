//! What the client wants.

use units::{Degrees, Length, Volts};

use crate::{Answer, Id};

/// The brief for a site.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Brief {
    /// Wishes per rail; a rail without one is not lit.
    pub rails: Vec<RailBrief>,
    /// Zones that switch together.
    pub zones: Vec<Zone>,
    /// Share of a driver's rated power to keep free, per cent.
    pub reserve_percent: u8,
    /// Greatest voltage drop between driver and luminaire, tenths of a per cent of the nominal voltage.
    pub drop_permille: u16,
    /// Extra conductor left at each hole so that a luminaire can be tapped outside the tube.
    pub loop_per_hole: Length,
    /// Spare luminaires to order, per cent, rounded up.
    pub spare_percent: u8,
}

/// Wishes for one rail.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct RailBrief {
    /// The rail.
    pub rail: Id,
    /// Points, modules, or both.
    pub lamps: LampKind,
    /// Kind of light.
    pub light: Light,
    /// Part to use; the cheapest that fits where absent.
    pub part: Option<String>,
    /// What to aim for.
    pub target: Target,
    /// Least distance from the end of a straight to the first hole's centre.
    pub end_margin_least: Length,
    /// Greatest distance from the end of a straight to the first hole's centre.
    pub end_margin_greatest: Length,
    /// Whether posts stand clear of the holes, so that a bay is the whole straight.
    pub posts_clear_of_holes: bool,
    /// Which way the holes look.
    pub aim: Aim,
    /// A rail opposite whose pattern this one should match.
    pub match_rail: Option<Id>,
    /// Concerns about glare, neighbours, wildlife or water below, in words.
    pub concerns: String,
    /// The zone it switches with.
    pub zone: Option<Id>,
    /// Where feeds are wished.
    pub feed: FeedWish,
    /// What a person has fixed.
    pub locks: Locks,
}

/// Kind of lighting for a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LampKind {
    /// Point luminaires in drilled holes.
    Points,
    /// Linear modules in slotted tube.
    Modules,
    /// Modules where the tube is slotted, points elsewhere.
    ModulesElsePoints,
}

/// Kind of light.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Light {
    /// White of one colour temperature.
    FixedWhite {
        /// Kelvin.
        kelvin: u16,
        /// Least colour rendering index, if wished.
        cri: Option<u8>,
    },
    /// One colour, in words.
    FixedColour(String),
    /// Colour that can be set.
    VariableColour,
}

/// What a layout aims for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Target {
    /// A spacing between hole centres.
    Spacing(Length),
    /// An illuminance on the walking line, in tenths of a lux.
    Illuminance {
        /// Tenths of a lux.
        tenths_lux: u32,
    },
    /// As much lit length as the tube takes (modules).
    LitLength,
}

/// Which way the holes look.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Aim {
    /// Angle around the tube from straight down, degrees towards the walked side; 0 looks down, 90 sideways.
    pub angle: Degrees,
}

/// A wish for feed positions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FeedWish {
    /// Wherever is cheapest.
    Cheapest,
    /// At an end only.
    Ends,
    /// Near the middle.
    Middle,
}

/// What a person has fixed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Locks {
    /// Chainages of holes to keep.
    pub holes: Vec<Length>,
    /// Drivers to keep.
    pub drivers: Vec<DriverLock>,
}

/// A driver that a person put somewhere.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct DriverLock {
    /// The driver place.
    pub place: Id,
    /// The part, if fixed too.
    pub part: Option<String>,
}

/// A zone that switches together.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Zone {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// How it is controlled.
    pub control: ZoneControl,
    /// Whether it lights stairs, which stay lit when a sensor or its cable is lost.
    pub stairs: Answer,
}

/// How a zone is controlled.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ZoneControl {
    /// The way.
    pub kind: Control,
    /// Hold time in seconds for presence.
    pub hold_seconds: Option<u32>,
    /// Dusk threshold in lux.
    pub dusk_lux: Option<u32>,
    /// Control voltage, for a wall station with a supply of its own.
    pub supply: Option<Volts>,
    /// Height of presence sensors above the walking surface; that of the rail's top where absent.
    pub sensor_height: Option<Length>,
    /// The driver place where the wall station is to hang.
    pub station: Option<Id>,
}

/// Ways to control a zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Control {
    /// Always on.
    AlwaysOn,
    /// On from dusk to dawn.
    Dusk,
    /// On at presence after dusk.
    PresenceAfterDusk,
    /// From a wall station.
    WallStation,
    /// Dimmed.
    Dimmed,
}
