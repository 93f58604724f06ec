//! Stored shapes of exposure and of the site's position.

use survey::{Exposure, Origin, PublicReach, Salt, Setting, SpecialLocation};

use super::{kinds, record};

kinds!(Setting {
    IndoorDry = "indoor_dry",
    IndoorDamp = "indoor_damp",
    OutdoorSheltered = "outdoor_sheltered",
    OutdoorOpen = "outdoor_open",
    OutdoorHosed = "outdoor_hosed",
    MaySubmerge = "may_submerge",
});
record!(Salt { salt_water = "salt_water_um", deicing = "deicing_um" });
kinds!(PublicReach { Staff = "staff", PublicWatched = "public_watched", PublicAlways = "public_always" });
kinds!(SpecialLocation { Pool = "pool", Basin = "basin", Bathroom = "bathroom" });
record!(Exposure {
    setting = "setting",
    salt = "salt",
    cleaning = "cleaning",
    public_reach = "public_reach",
    least_temperature = "least_temperature_c",
    greatest_temperature = "greatest_temperature_c",
    in_sun = "in_sun",
    special = "special",
});
record!(Origin {
    latitude = "latitude_deg",
    longitude = "longitude_deg",
    accuracy = "accuracy_um",
    bearing = "bearing_deg",
    level = "level_um",
});
