//! A rail: its tube, its pieces in order, its ends and what it belongs to.

use super::{Exposure, Feature, Measurement, Passage};
use crate::wire::mirror::{Mirror, kinds, record, words};
use crate::wire::scalar::{Deg, Id, Mm, MmAbove, MmSigned};
use crate::wire::shape;

record!(
    /// One rail along one line of tube.
    Rail = survey::Rail {
        /// Its id, unique among rails.
        id: Id = id,
        /// What people call it, unique among rails since luminaires are named after it.
        #[schemars(length(min = 1, max = 100))]
        label: String = label,
        /// Where chainage starts.
        #[serde(default)]
        datum: Datum = datum,
        /// Pieces from the datum on.
        #[schemars(length(min = 1, max = 1000))]
        pieces: Vec<Piece> = pieces,
        /// The whole length measured once more as a check.
        #[serde(default)]
        overall_mm: Option<Measurement> = overall,
        /// The tube.
        tube: Tube = tube,
        /// Height of the top above the walking surface.
        #[serde(default)]
        height_mm: Option<Measurement> = height,
        /// Clear walking width beside it.
        #[serde(default)]
        walking_width_mm: Option<Measurement> = walking_width,
        /// Which side people walk, seen from the datum.
        walked_side: WalkedSide = walked_side,
        /// The end at the datum.
        start_end: EndState = start_end,
        /// The far end.
        far_end: EndState = far_end,
        /// Features along the rail, in any order.
        #[serde(default)]
        #[schemars(length(max = 10000))]
        features: Vec<Feature> = features,
        /// Where it lies in the site frame.
        #[serde(default)]
        sketch: Option<Sketch> = sketch,
        /// Whose rail it is.
        #[serde(default)]
        ownership: Option<Ownership> = ownership,
        /// What it is bonded to; everything unknown where absent.
        #[serde(default)]
        bonding: Bonding = bonding,
        /// Whether it is or belongs to a guard that carries people's weight; unknown where absent.
        #[serde(default)]
        guard: Answer = guard,
        /// Whether the tube is sealed against water; unknown where absent.
        #[serde(default)]
        sealed: Answer = sealed,
        /// Whether water drains from its low points; unknown where absent.
        #[serde(default)]
        drains: Answer = drains,
        /// Its own exposure where it differs from the site's.
        #[serde(default)]
        exposure: Option<Exposure> = exposure,
        /// Notes.
        #[serde(default)]
        note: String = note,
    }
);

words!(
    /// An answer that may not have been found yet.
    #[derive(Default)]
    Answer = survey::Answer {
        /// Yes.
        Yes,
        /// No.
        No,
        /// Not found out yet.
        #[default]
        Unknown,
    }
);

record!(
    /// Where chainage starts and how the place is marked on the tube.
    #[derive(Default)]
    Datum = survey::Datum {
        /// Which end, in words ("foot of the stair").
        #[serde(default)]
        end: String = end,
        /// How it is marked.
        #[serde(default)]
        mark: String = mark,
    }
);

/// One piece of tube.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Piece {
    /// A straight length.
    Straight {
        /// Its id, unique among the rail's pieces and features.
        id: Id,
        /// Length along the tube.
        length_mm: Measurement,
        /// Slope, degrees up from the datum end; 0 where absent.
        #[serde(default)]
        slope_deg: Deg,
        /// How its own start is marked, from which its holes are also dimensioned.
        #[serde(default)]
        mark: Option<String>,
    },
    /// A bend.
    Bend {
        /// Its id, unique among the rail's pieces and features.
        id: Id,
        /// How far it turns.
        angle_deg: Deg,
        /// Which way it turns, seen from the datum.
        plane: Plane,
        /// Radius of the tube's centreline.
        centreline_radius_mm: MmAbove,
        /// What was taped around it, if anything.
        #[serde(default)]
        taped: Option<Taped>,
        /// Whether a cable passes along the bore; unknown where absent.
        #[serde(default)]
        bore: Passage,
        /// Length to keep clear on each straight beside it.
        #[serde(default)]
        keep_clear_mm: Option<Mm>,
    },
}

impl Mirror for Piece {
    type Plain = survey::Piece;
    fn from_plain(plain: &Self::Plain) -> Self {
        match plain {
            survey::Piece::Straight(s) => Self::Straight {
                id: Mirror::from_plain(&s.id),
                length_mm: Mirror::from_plain(&s.length),
                slope_deg: Mirror::from_plain(&s.slope),
                mark: Mirror::from_plain(&s.mark),
            },
            survey::Piece::Bend(b) => Self::Bend {
                id: Mirror::from_plain(&b.id),
                angle_deg: Mirror::from_plain(&b.angle),
                plane: Mirror::from_plain(&b.plane),
                centreline_radius_mm: Mirror::from_plain(&b.centreline_radius),
                taped: Mirror::from_plain(&b.taped),
                bore: Mirror::from_plain(&b.bore),
                keep_clear_mm: Mirror::from_plain(&b.keep_clear),
            },
        }
    }
    fn into_plain(self) -> Self::Plain {
        match self {
            Self::Straight { id, length_mm, slope_deg, mark } => survey::Piece::Straight(survey::Straight {
                id: id.into_plain(),
                length: length_mm.into_plain(),
                slope: slope_deg.into_plain(),
                mark,
            }),
            Self::Bend { id, angle_deg, plane, centreline_radius_mm, taped, bore, keep_clear_mm } => {
                survey::Piece::Bend(survey::Bend {
                    id: id.into_plain(),
                    angle: angle_deg.into_plain(),
                    plane: plane.into_plain(),
                    centreline_radius: centreline_radius_mm.into_plain(),
                    taped: taped.into_plain(),
                    bore: bore.into_plain(),
                    keep_clear: keep_clear_mm.into_plain(),
                })
            }
        }
    }
}

words!(
    /// Which way a bend turns, seen from the datum.
    Plane = survey::Plane {
        /// In plan, to the left.
        Left,
        /// In plan, to the right.
        Right,
        /// In elevation, upwards.
        Up,
        /// In elevation, downwards.
        Down,
    }
);

record!(
    /// A length taped around a bend and the line it followed.
    Taped = survey::Taped {
        /// The line.
        line: TapedLine = line,
        /// The length along it.
        length_mm: Measurement = length,
    }
);

words!(
    /// The line along which a bend was taped.
    TapedLine = survey::TapedLine {
        /// The tube's centreline.
        Centreline,
        /// The crown of the tube.
        Top,
        /// The outside of the bend.
        Outside,
    }
);

record!(
    /// The tube.
    Tube = survey::Tube {
        /// Its shape.
        profile: Profile = profile,
        /// Outside diameter (the greater side of a flat).
        outside_diameter_mm: Measurement = outside_diameter,
        /// Wall thickness where it could be measured.
        #[serde(default)]
        wall_mm: Option<Measurement> = wall,
        /// What it is made of.
        material: Material = material,
        /// Grade as marked or tested ("1.4401").
        #[serde(default)]
        grade: Option<String> = grade,
        /// Surface ("ground 320 grit", "powder coated").
        #[serde(default)]
        finish: Option<String> = finish,
    }
);

kinds!(
    /// The tube's shape.
    #[schemars(transform = shape::bare_word)]
    Profile = survey::Profile {
        /// Round.
        Round {},
        /// Round with a slot along it.
        RoundSlotted {
            /// Width of the slot.
            slot_width_mm: MmAbove = slot_width,
        },
        /// Flat or rectangular.
        Flat {
            /// The smaller outside dimension.
            thickness_mm: MmAbove = thickness,
        },
        /// Another shape, in words.
        Other {
            /// The words.
            words: String = 0,
        },
    }
);

kinds!(
    /// What the tube is made of.
    #[schemars(transform = shape::bare_word)]
    Material = survey::Material {
        /// Stainless steel.
        StainlessSteel {},
        /// Carbon steel, painted or coated.
        CarbonSteel {},
        /// Galvanised steel.
        GalvanisedSteel {},
        /// Aluminium.
        Aluminium {},
        /// Brass or bronze.
        Brass {},
        /// Something else, in words.
        Other {
            /// The words.
            words: String = 0,
        },
    }
);

words!(
    /// Which side of the rail people walk, seen from the datum.
    WalkedSide = survey::WalkedSide {
        /// Left of the rail.
        Left,
        /// Right of the rail.
        Right,
        /// Both.
        Both,
    }
);

words!(
    /// How a rail ends.
    EndState = survey::EndState {
        /// Open tube.
        Open,
        /// A cap that comes off.
        RemovableCap,
        /// A cap welded on.
        WeldedCap,
        /// The tube returns to a wall.
        ReturnsToWall,
        /// The tube goes on into another rail.
        Continues,
    }
);

record!(
    /// A point in the site frame.
    SitePoint = survey::SitePoint {
        /// Along the frame's x axis.
        x_mm: MmSigned = x,
        /// Along the frame's y axis.
        y_mm: MmSigned = y,
        /// Height above the frame's zero; 0 where absent.
        #[serde(default)]
        z_mm: MmSigned = z,
        /// Whether it was measured; sketched where absent.
        #[serde(default)]
        measured: bool = measured,
    }
);

record!(
    /// Where a rail lies in the site frame.
    Sketch = survey::Sketch {
        /// The datum.
        start: SitePoint = start,
        /// Direction in which it sets off, degrees clockwise from the frame's y axis.
        bearing_deg: Deg = bearing,
    }
);

record!(
    /// Whose rail it is and whether they agree.
    Ownership = survey::Ownership {
        /// The owner, in words.
        owner: String = owner,
        /// Whether it is a parapet of a bridge or highway.
        #[serde(default)]
        bridge_or_highway: bool = bridge_or_highway,
        /// The owner's consent to drilling.
        consent: Consent = consent,
    }
);

kinds!(
    /// Consent to drill.
    #[schemars(transform = shape::bare_word)]
    Consent = survey::Consent {
        /// In writing.
        InWriting {
            /// Its reference.
            reference: String = 0,
        },
        /// Said, not written.
        Spoken {},
        /// Not asked yet.
        NotAsked {},
        /// Refused.
        Refused {},
    }
);

record!(
    /// What the metal may be joined to. A bond is never removed.
    #[derive(Default)]
    Bonding = survey::Bonding {
        /// Bonded to earth; unknown where absent.
        #[serde(default)]
        bonded: Answer = bonded,
        /// Part of a lightning protection system; unknown where absent.
        #[serde(default)]
        lightning: Answer = lightning,
        /// Near electric traction; unknown where absent.
        #[serde(default)]
        near_traction: Answer = near_traction,
    }
);
