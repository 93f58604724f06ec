//! Luminaires: points in holes and linear modules in slotted tube.

use units::{Amps, Celsius, Length, Ohms, Volts, Watts};

use crate::{Connector, Ingress, Item};

/// A luminaire.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Luminaire {
    /// Item.
    pub item: Item,
    /// Point or module.
    pub kind: LuminaireKind,
    /// Nominal voltage: 12 V for points and 24 V for modules by custom; never mixed on a driver, lead or zone.
    pub nominal: Volts,
    /// Least voltage at its terminals.
    pub least: Volts,
    /// Greatest voltage at its terminals.
    pub greatest: Volts,
    /// How it draws current; for colour, one channel at full output.
    pub load: LoadModel,
    /// Kind of light.
    pub colour: ColourKind,
    /// Luminous flux in tenths of a lumen at nominal voltage.
    pub flux_tenths_lm: u32,
    /// Ingress code.
    pub ingress: Ingress,
    /// Impact code, IK 0 to 11.
    pub impact: Option<u8>,
    /// Highest air temperature.
    pub greatest_ambient: Celsius,
    /// Cores of its connection: 2, or 1 + channels.
    pub cores: u8,
}

/// Kind of light of a luminaire.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum ColourKind {
    /// White of one colour temperature.
    White {
        /// Kelvin.
        kelvin: u16,
        /// Colour rendering index.
        cri: u8,
    },
    /// One colour, in words.
    Colour(String),
    /// Variable colour with this many channels on a common conductor.
    Variable {
        /// Channels.
        channels: u8,
    },
}

/// How a luminaire draws current.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LoadModel {
    /// The same current at any voltage within range.
    Current(Amps),
    /// The same power at any voltage within range.
    Power(Watts),
    /// A resistance.
    Resistance(Ohms),
}

impl LoadModel {
    /// Current drawn at a voltage.
    #[must_use]
    pub fn amps_at(&self, volts: Volts) -> Amps {
        match self {
            Self::Current(amps) => *amps,
            Self::Power(watts) if volts.get() > 0.0 => Amps::new(watts.get() / volts.get()),
            Self::Power(_) => Amps::ZERO,
            Self::Resistance(ohms) => Amps::new(volts.get() / ohms.get()),
        }
    }
}

/// Point or module.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum LuminaireKind {
    /// A point luminaire in a drilled hole.
    Point(PointLuminaire),
    /// A linear module in slotted tube.
    Linear(LinearModule),
}

/// What a point luminaire asks of the tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PointLuminaire {
    /// Diameter of the hole.
    pub hole: Length,
    /// Tolerance of the hole, plus or minus.
    pub hole_tolerance: Length,
    /// Thinnest wall that the retainer grips.
    pub wall_least: Length,
    /// Thickest wall that the retainer grips.
    pub wall_greatest: Length,
    /// Depth inside the tube.
    pub depth: Length,
    /// Least outside diameter of the tube.
    pub tube_least: Length,
    /// How it is held.
    pub retention: Retention,
    /// Length of its own tail.
    pub tail: Length,
    /// Area of one core of its tail, hundredths of a square millimetre.
    pub tail_hundredths_mm2: u32,
}

/// How a point luminaire is held.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Retention {
    /// Pressed in.
    Pressed,
    /// Riveted through its flange.
    Rivets {
        /// Number of rivets.
        count: u8,
        /// Diameter of the rivets.
        diameter: Length,
    },
}

/// What a linear module brings.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct LinearModule {
    /// Its length.
    pub length: Length,
    /// Length to allow at each joint between modules.
    pub joint_allowance: Length,
    /// Slot width it needs.
    pub slot: Length,
    /// Depth inside the tube.
    pub depth: Length,
    /// Resistance of one of its through-conductors.
    pub through: Ohms,
    /// The maker's longest chain, as summed module length.
    pub longest_chain: Length,
    /// Greatest distance between clips.
    pub clip_spacing: Length,
    /// Connector at its ends.
    pub connector: Connector,
}
