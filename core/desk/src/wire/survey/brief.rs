//! What the client wants.

use super::Answer;
use crate::wire::mirror::{kinds, record, words};
use crate::wire::scalar::{Deg, Id, Lux, Mm, MmAbove, Part, Percent, V};
use crate::wire::shape;
use units::{Degrees, Length};

record!(
    /// The brief for a site.
    Brief = survey::Brief {
        /// Wishes per rail; a rail without one is not lit.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        rails: Vec<RailBrief> = rails,
        /// Zones that switch together.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        zones: Vec<Zone> = zones,
        /// Share of a driver's rated power to keep free; 20 where absent (common practice, no source).
        #[serde(default = "usual_reserve")]
        #[schemars(range(max = 90))]
        reserve_percent: u8 = reserve_percent,
        /// Greatest voltage drop between driver and luminaire as a share of the nominal voltage; 5 where absent.
        #[serde(default = "usual_drop")]
        drop_percent: Percent = drop_permille,
        /// Extra conductor left at each hole so that a luminaire can be tapped outside the tube; 100 mm where absent
        /// (common practice, no source).
        #[serde(default = "usual_loop")]
        loop_per_hole_mm: Mm = loop_per_hole,
        /// Spare luminaires to order, rounded up; 2 where absent (common practice, no source).
        #[serde(default = "usual_spare")]
        #[schemars(range(max = 100))]
        spare_percent: u8 = spare_percent,
    }
);

fn usual_reserve() -> u8 {
    20
}

fn usual_drop() -> Percent {
    Percent(50)
}

fn usual_loop() -> Mm {
    Mm(Length::mm(100))
}

fn usual_spare() -> u8 {
    2
}

impl Default for Brief {
    fn default() -> Self {
        Self {
            rails: Vec::new(),
            zones: Vec::new(),
            reserve_percent: usual_reserve(),
            drop_percent: usual_drop(),
            loop_per_hole_mm: usual_loop(),
            spare_percent: usual_spare(),
        }
    }
}

record!(
    /// Wishes for one rail.
    RailBrief = survey::RailBrief {
        /// The rail, by its id.
        rail: Id = rail,
        /// Points, modules, or both.
        lamps: LampKind = lamps,
        /// Kind of light.
        light: Light = light,
        /// Part to use; the cheapest that fits where absent.
        #[serde(default)]
        part: Option<Part> = part,
        /// What to aim for.
        target: Target = target,
        /// Least distance from the end of a straight to the first hole's centre; 75 mm where absent.
        #[serde(default = "usual_margin_least")]
        end_margin_least_mm: Mm = end_margin_least,
        /// Greatest distance from the end of a straight to the first hole's centre; 300 mm where absent.
        #[serde(default = "usual_margin_greatest")]
        end_margin_greatest_mm: Mm = end_margin_greatest,
        /// Whether posts stand clear of the holes, so that a bay is the whole straight.
        #[serde(default)]
        posts_clear_of_holes: bool = posts_clear_of_holes,
        /// Which way the holes look; straight down where absent.
        #[serde(default)]
        aim: Aim = aim,
        /// A rail opposite whose pattern this one should match.
        #[serde(default)]
        match_rail: Option<Id> = match_rail,
        /// Concerns about glare, neighbours, wildlife or water below, in words.
        #[serde(default)]
        concerns: String = concerns,
        /// The zone it switches with.
        #[serde(default)]
        zone: Option<Id> = zone,
        /// Where feeds are wished; wherever is cheapest where absent.
        #[serde(default)]
        feed: FeedWish = feed,
        /// What a person has fixed.
        #[serde(default)]
        locks: Locks = locks,
    }
);

fn usual_margin_least() -> Mm {
    Mm(Length::mm(75))
}

fn usual_margin_greatest() -> Mm {
    Mm(Length::mm(300))
}

words!(
    /// Kind of lighting for a rail.
    LampKind = survey::LampKind {
        /// Point luminaires in drilled holes.
        Points,
        /// Linear modules in slotted tube.
        Modules,
        /// Modules where the tube is slotted, points elsewhere.
        ModulesElsePoints,
    }
);

kinds!(
    /// Kind of light.
    #[schemars(transform = shape::bare_word)]
    Light = survey::Light {
        /// White of one colour temperature.
        FixedWhite {
            /// Colour temperature.
            #[schemars(range(min = 1000, max = 20000))]
            kelvin: u16 = kelvin,
            /// Least colour rendering index, if wished.
            #[serde(default)]
            #[schemars(range(max = 100))]
            cri: Option<u8> = cri,
        },
        /// One colour.
        FixedColour {
            /// The colour, in words.
            colour: String = 0,
        },
        /// Colour that can be set.
        VariableColour {},
    }
);

kinds!(
    /// What a layout aims for.
    #[schemars(transform = shape::bare_word)]
    Target = survey::Target {
        /// A spacing between hole centres.
        Spacing {
            /// The spacing.
            spacing_mm: MmAbove = 0,
        },
        /// An illuminance on the walking line.
        Illuminance {
            /// The illuminance.
            lux: Lux = tenths_lux,
        },
        /// As much lit length as the tube takes (modules).
        LitLength {},
    }
);

record!(
    /// Which way the holes look.
    Aim = survey::Aim {
        /// Angle around the tube from straight down, towards the walked side; 0 looks down, 90 sideways.
        angle_deg: Deg = angle,
    }
);

impl Default for Aim {
    fn default() -> Self {
        Self { angle_deg: Deg(Degrees::ZERO) }
    }
}

words!(
    /// A wish for feed positions.
    #[derive(Default)]
    FeedWish = survey::FeedWish {
        /// Wherever is cheapest.
        #[default]
        Cheapest,
        /// At an end only.
        Ends,
        /// Near the middle.
        Middle,
    }
);

record!(
    /// What a person has fixed.
    #[derive(Default)]
    Locks = survey::Locks {
        /// Chainages of holes to keep.
        #[serde(default)]
        #[schemars(length(max = 20000))]
        holes_mm: Vec<Mm> = holes,
        /// Drivers to keep.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        drivers: Vec<DriverLock> = drivers,
    }
);

record!(
    /// A driver that a person put somewhere.
    DriverLock = survey::DriverLock {
        /// The driver place, by its id.
        place: Id = place,
        /// The part, if fixed too.
        #[serde(default)]
        part: Option<Part> = part,
    }
);

record!(
    /// A zone that switches together.
    Zone = survey::Zone {
        /// Its id, unique among zones.
        id: Id = id,
        /// What people call it.
        label: String = label,
        /// How it is controlled.
        control: ZoneControl = control,
        /// Whether it lights stairs, which stay lit when a sensor or its cable is lost; unknown where absent.
        #[serde(default)]
        stairs: Answer = stairs,
    }
);

record!(
    /// How a zone is controlled.
    ZoneControl = survey::ZoneControl {
        /// The way.
        kind: Control = kind,
        /// Hold time for presence.
        #[serde(default)]
        #[schemars(range(max = 86_400))]
        hold_seconds: Option<u32> = hold_seconds,
        /// Dusk threshold.
        #[serde(default)]
        #[schemars(range(max = 100_000))]
        dusk_lux: Option<u32> = dusk_lux,
        /// Control voltage, for a wall station with a supply of its own.
        #[serde(default)]
        supply_v: Option<V> = supply,
        /// Height of presence sensors above the walking surface; that of the rail's top where absent.
        #[serde(default)]
        sensor_height_mm: Option<MmAbove> = sensor_height,
        /// The driver place, by its id, where the wall station is to hang.
        #[serde(default)]
        station: Option<Id> = station,
    }
);

words!(
    /// Ways to control a zone.
    Control = survey::Control {
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
);
