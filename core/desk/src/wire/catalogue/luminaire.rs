//! Luminaires: points in holes and linear modules in slotted tube.

use super::{Connector, Item};
use crate::wire::mirror::{Mirror, kinds, record};
use crate::wire::scalar::{A, DegC, HundredthsMm2, Ingress, Lumen, Mm, MmAbove, Ohm, OhmOrNone, V, W};
use crate::wire::shape;

record!(
    /// A luminaire.
    Luminaire = catalogue::Luminaire {
        /// What every part has.
        #[serde(flatten)]
        item: Item = item,
        /// Point or module.
        shape: LuminaireKind = kind,
        /// Nominal voltage.
        nominal_v: V = nominal,
        /// Least voltage at its terminals.
        least_v: V = least,
        /// Greatest voltage at its terminals.
        greatest_v: V = greatest,
        /// How it draws current; for colour, one channel at full output.
        load: LoadModel = load,
        /// Kind of light.
        light: ColourKind = colour,
        /// Luminous flux at nominal voltage.
        flux_lm: Lumen = flux_tenths_lm,
        /// Ingress code.
        ingress: Ingress = ingress,
        /// Impact code, IK 0 to 11 (EN 50102 and IEC 62262 go to 10, the later edition to 11; from memory).
        #[serde(default)]
        #[schemars(range(max = 11))]
        impact_ik: Option<u8> = impact,
        /// Highest air temperature.
        greatest_ambient_c: DegC = greatest_ambient,
        /// Cores of its connection: 2, or 1 + channels.
        #[schemars(range(min = 2, max = 9))]
        cores: u8 = cores,
    }
);

kinds!(
    /// Kind of light of a luminaire.
    ColourKind = catalogue::ColourKind {
        /// White of one colour temperature.
        White {
            /// Colour temperature.
            #[schemars(range(min = 1000, max = 20000))]
            kelvin: u16 = kelvin,
            /// Colour rendering index.
            #[schemars(range(max = 100))]
            cri: u8 = cri,
        },
        /// One colour.
        Colour {
            /// The colour, in words.
            colour: String = 0,
        },
        /// Variable colour on a common conductor.
        Variable {
            /// Channels.
            #[schemars(range(min = 1, max = 8))]
            channels: u8 = channels,
        },
    }
);

kinds!(
    /// How a luminaire draws current.
    LoadModel = catalogue::LoadModel {
        /// The same current at any voltage within range.
        Current {
            /// The current.
            amps: A = 0,
        },
        /// The same power at any voltage within range.
        Power {
            /// The power.
            watts: W = 0,
        },
        /// A resistance.
        Resistance {
            /// The resistance.
            ohms: Ohm = 0,
        },
    }
);

/// Point or module: `kind` beside the fields of the one or the other.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LuminaireKind {
    /// A point luminaire in a drilled hole.
    Point(PointLuminaire),
    /// A linear module in slotted tube.
    Linear(LinearModule),
}

impl Mirror for LuminaireKind {
    type Plain = catalogue::LuminaireKind;
    fn from_plain(plain: &Self::Plain) -> Self {
        match plain {
            catalogue::LuminaireKind::Point(point) => Self::Point(Mirror::from_plain(point)),
            catalogue::LuminaireKind::Linear(module) => Self::Linear(Mirror::from_plain(module)),
        }
    }
    fn into_plain(self) -> Self::Plain {
        match self {
            Self::Point(point) => catalogue::LuminaireKind::Point(point.into_plain()),
            Self::Linear(module) => catalogue::LuminaireKind::Linear(module.into_plain()),
        }
    }
}

record!(
    /// What a point luminaire asks of the tube.
    PointLuminaire = catalogue::PointLuminaire {
        /// Diameter of the hole.
        hole_mm: MmAbove = hole,
        /// Tolerance of the hole, plus or minus.
        hole_tolerance_mm: Mm = hole_tolerance,
        /// Thinnest wall that the retainer grips.
        wall_least_mm: Mm = wall_least,
        /// Thickest wall that the retainer grips.
        wall_greatest_mm: MmAbove = wall_greatest,
        /// Depth inside the tube.
        depth_mm: MmAbove = depth,
        /// Least outside diameter of the tube.
        tube_least_mm: MmAbove = tube_least,
        /// How it is held.
        retention: Retention = retention,
        /// Length of its own tail.
        tail_mm: Mm = tail,
        /// Area of one core of its tail.
        tail_mm2: HundredthsMm2 = tail_hundredths_mm2,
    }
);

kinds!(
    /// How a point luminaire is held.
    #[schemars(transform = shape::bare_word)]
    Retention = catalogue::Retention {
        /// Pressed in.
        Pressed {},
        /// Riveted through its flange.
        Rivets {
            /// Number of rivets.
            #[schemars(range(min = 1, max = 20))]
            count: u8 = count,
            /// Diameter of the rivets.
            diameter_mm: MmAbove = diameter,
        },
    }
);

record!(
    /// What a linear module brings.
    LinearModule = catalogue::LinearModule {
        /// Its length.
        length_mm: MmAbove = length,
        /// Length to allow at each joint between modules.
        joint_allowance_mm: Mm = joint_allowance,
        /// Slot width it needs.
        slot_mm: MmAbove = slot,
        /// Depth inside the tube.
        depth_mm: MmAbove = depth,
        /// Resistance of one of its through-conductors.
        through_ohm: OhmOrNone = through,
        /// The maker's longest chain, as summed module length.
        longest_chain_mm: MmAbove = longest_chain,
        /// Greatest distance between clips.
        clip_spacing_mm: MmAbove = clip_spacing,
        /// Connector at its ends.
        connector: Connector = connector,
    }
);
