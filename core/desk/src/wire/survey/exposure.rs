//! What weather, water, salt and people do to a place.

use crate::wire::mirror::{record, words};
use crate::wire::scalar::{DegC, Mm};

record!(
    /// Exposure of a place.
    Exposure = survey::Exposure {
        /// Setting.
        setting: Setting = setting,
        /// Salt; none near where absent.
        #[serde(default)]
        salt: Salt = salt,
        /// How it is cleaned, in words.
        #[serde(default)]
        cleaning: String = cleaning,
        /// Who can reach it.
        public_reach: PublicReach = public_reach,
        /// Lowest air temperature.
        least_temperature_c: DegC = least_temperature,
        /// Highest air temperature.
        greatest_temperature_c: DegC = greatest_temperature,
        /// Whether the sun shines on the rail.
        in_sun: bool = in_sun,
        /// A place with rules of its own.
        #[serde(default)]
        special: Option<SpecialLocation> = special,
    }
);

words!(
    /// Setting of a place.
    Setting = survey::Setting {
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
);

record!(
    /// Distances from salt.
    #[derive(Default)]
    Salt = survey::Salt {
        /// Distance from salt water, if any is near.
        #[serde(default)]
        salt_water_mm: Option<Mm> = salt_water,
        /// Distance from where de-icing salt is spread, if it is.
        #[serde(default)]
        deicing_mm: Option<Mm> = deicing,
    }
);

words!(
    /// Who can reach it.
    PublicReach = survey::PublicReach {
        /// Staff only.
        Staff,
        /// The public, watched.
        PublicWatched,
        /// The public at any hour.
        PublicAlways,
    }
);

words!(
    /// A place with rules of its own: the plan stops and defers.
    SpecialLocation = survey::SpecialLocation {
        /// A swimming pool.
        Pool,
        /// A fountain or paddling basin.
        Basin,
        /// A room with a bath or shower.
        Bathroom,
    }
);
