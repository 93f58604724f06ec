//! Features along a rail and whether a cable passes them.

use super::Measurement;
use crate::wire::mirror::{Mirror, kinds, words};
use crate::wire::scalar::{Deg, Id, Mm, MmAbove};
use crate::wire::shape;

/// Something at one chainage of a rail: what every feature has, and beside it the fields of its `kind`.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
pub struct Feature {
    /// Its id, unique among the rail's pieces and features.
    pub id: Id,
    /// What people call it.
    #[serde(default)]
    pub label: String,
    /// Chainage of its middle, along the centreline from the datum.
    pub chainage_mm: Measurement,
    /// What it is.
    #[serde(flatten)]
    pub kind: FeatureKind,
    /// Clear length to keep to each side of its edges; the kind's usual length where absent (40 mm from a post, joint
    /// or damage, 60 mm from a movement joint, none at a low point, 20 mm otherwise).
    #[serde(default)]
    pub keep_clear_mm: Option<Mm>,
    /// Whether a cable passes along the bore here; unknown where absent.
    #[serde(default)]
    pub bore: Passage,
    /// Notes.
    #[serde(default)]
    pub note: String,
}

impl Mirror for Feature {
    type Plain = survey::Feature;
    fn from_plain(plain: &Self::Plain) -> Self {
        Self {
            id: Mirror::from_plain(&plain.id),
            label: plain.label.clone(),
            chainage_mm: Mirror::from_plain(&plain.chainage),
            kind: Mirror::from_plain(&plain.kind),
            keep_clear_mm: Mirror::from_plain(&plain.keep_clear),
            bore: Mirror::from_plain(&plain.bore),
            note: plain.note.clone(),
        }
    }
    fn into_plain(self) -> Self::Plain {
        survey::Feature {
            id: self.id.into_plain(),
            label: self.label,
            chainage: self.chainage_mm.into_plain(),
            kind: self.kind.into_plain(),
            keep_clear: self.keep_clear_mm.into_plain(),
            bore: self.bore.into_plain(),
            note: self.note,
        }
    }
}

kinds!(
    /// Kinds of features.
    FeatureKind = survey::FeatureKind {
        /// A post or bracket.
        Post {
            /// Width along the rail.
            width_mm: MmAbove = width,
            /// How it meets the rail.
            meets: PostKind = kind,
            /// Whether a cable passes between the bore and the post; unknown where absent.
            #[serde(default)]
            into_post: Passage = into_post,
        },
        /// A joint in the tube.
        Joint {
            /// How it is made.
            made: JointKind = kind,
            /// Length along the rail that it takes up.
            width_mm: Mm = width,
        },
        /// A joint that moves with temperature or load.
        MovementJoint {
            /// Range of movement.
            range_mm: Mm = range,
            /// Length along the rail that it takes up.
            width_mm: Mm = width,
        },
        /// A clamp holding infill.
        InfillClamp {
            /// Width along the rail.
            width_mm: MmAbove = width,
        },
        /// A hole that is already there.
        ExistingHole {
            /// Its diameter.
            diameter_mm: MmAbove = diameter,
            /// Angle around the tube from the top, degrees towards the walked side.
            #[serde(default)]
            angle_deg: Option<Deg> = angle,
            /// What it is for.
            used_for: HoleUse = used_for,
        },
        /// Where water would gather.
        LowPoint {},
        /// Damage.
        Damage {
            /// Length along the rail.
            width_mm: Mm = width,
        },
        /// Where a cable can enter the tube.
        WayIn {
            /// Clear diameter for cables.
            opening_mm: MmAbove = opening,
            /// The post it leads through, if it does.
            #[serde(default)]
            post: Option<Id> = post,
        },
    }
);

kinds!(
    /// How a post or bracket meets the rail.
    #[schemars(transform = shape::bare_word)]
    PostKind = survey::PostKind {
        /// Welded under the tube.
        WeldedBelow {},
        /// A saddle screwed from below.
        Saddle {},
        /// A bracket from the side or wall.
        SideBracket {},
        /// The post goes through or interrupts the tube.
        Through {},
        /// Something else, in words.
        Other {
            /// The words.
            words: String = 0,
        },
    }
);

words!(
    /// How a joint is made.
    JointKind = survey::JointKind {
        /// Welded.
        Welded,
        /// A sleeve inside or outside.
        Sleeved,
        /// Bolted.
        Bolted,
        /// Flush with a spigot.
        Flush,
    }
);

words!(
    /// What an existing hole is for.
    HoleUse = survey::HoleUse {
        /// Drilled for a luminaire: the plan keeps it.
        Luminaire,
        /// Drain, fixing or anything else: the plan stays clear.
        Other,
    }
);

kinds!(
    /// Whether a cable passes.
    #[schemars(transform = shape::bare_word)]
    Passage = survey::Passage {
        /// Nobody has looked.
        Unknown {},
        /// Taken for open, not proved.
        Assumed {},
        /// Proved.
        Proved {
            /// How.
            how: Proof = how,
            /// The widest thing that passed.
            widest_mm: MmAbove = widest,
        },
        /// Known to be shut.
        Blocked {
            /// How it is known.
            how: Proof = how,
        },
    }
);

impl Default for Passage {
    fn default() -> Self {
        Self::Unknown {}
    }
}

words!(
    /// How passage was proved.
    Proof = survey::Proof {
        /// A draw-wire went through.
        DrawWire,
        /// A camera went through.
        Camera,
        /// The tube was open to be seen.
        Seen,
    }
);
