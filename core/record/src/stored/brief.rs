//! Stored shapes of the brief's values.

use survey::{Aim, Control, DriverLock, FeedWish, LampKind, Light, Locks, Target, ZoneControl};

use super::{kinds, record};

kinds!(LampKind { Points = "points", Modules = "modules", ModulesElsePoints = "modules_else_points" });
kinds!(Light {
    FixedWhite { kelvin: "kelvin", cri: "cri" } = "fixed_white",
    FixedColour(colour) = "fixed_colour",
    VariableColour = "variable_colour",
});
kinds!(Target {
    Spacing(spacing_um) = "spacing",
    Illuminance { tenths_lux: "tenths_lux" } = "illuminance",
    LitLength = "lit_length",
});
record!(Aim { angle = "angle_deg" });
kinds!(FeedWish { Cheapest = "cheapest", Ends = "ends", Middle = "middle" });
record!(DriverLock { place = "place", part = "part" });
record!(Locks { holes = "holes_um", drivers = "drivers" });
kinds!(Control {
    AlwaysOn = "always_on",
    Dusk = "dusk",
    PresenceAfterDusk = "presence_after_dusk",
    WallStation = "wall_station",
    Dimmed = "dimmed",
});
record!(ZoneControl {
    kind = "way",
    hold_seconds = "hold_seconds",
    dusk_lux = "dusk_lux",
    supply = "supply_v",
    sensor_height = "sensor_height_um",
    station = "station",
});
