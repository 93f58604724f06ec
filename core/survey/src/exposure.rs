//! What weather, water, salt and people do to a place.

use units::{Celsius, Length};

/// Exposure of a place.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Exposure {
    /// Setting.
    pub setting: Setting,
    /// Salt.
    pub salt: Salt,
    /// How it is cleaned, in words; empty where nobody said.
    pub cleaning: String,
    /// Who can reach it.
    pub public_reach: PublicReach,
    /// Lowest air temperature.
    pub least_temperature: Celsius,
    /// Highest air temperature.
    pub greatest_temperature: Celsius,
    /// Whether the sun shines on the rail: a dark tube in the sun is hotter than the air.
    pub in_sun: bool,
    /// A place with rules of its own.
    pub special: Option<SpecialLocation>,
}

/// Setting of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Setting {
    /// Indoors and dry.
    IndoorDry,
    /// Indoors and damp.
    IndoorDamp,
    /// Outdoors under a roof.
    OutdoorSheltered,
    /// Outdoors in the open.
    OutdoorOpen,
    /// Outdoors and hosed down.
    OutdoorHosed,
    /// May be under water.
    MaySubmerge,
}

/// Distances from salt.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Salt {
    /// Distance from salt water, if any is near.
    pub salt_water: Option<Length>,
    /// Distance from where de-icing salt is spread, if it is.
    pub deicing: Option<Length>,
}

/// Who can reach it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PublicReach {
    /// Staff only.
    Staff,
    /// The public, watched.
    PublicWatched,
    /// The public at any hour.
    PublicAlways,
}

/// A place with rules of its own: the plan stops and defers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SpecialLocation {
    /// A swimming pool.
    Pool,
    /// A fountain or paddling basin.
    Basin,
    /// A room with a bath or shower.
    Bathroom,
}
