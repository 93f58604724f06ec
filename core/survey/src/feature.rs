//! Features along a rail and whether a cable passes them.

use units::{Degrees, Length};

use crate::{Answer, Id, Measurement};

/// Something at one chainage of a rail.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Feature {
    /// Its id within the rail.
    pub id: Id,
    /// What people call it; empty where it has no name.
    pub label: String,
    /// Chainage of its middle, along the centreline from the datum.
    pub chainage: Measurement,
    /// What it is.
    pub kind: FeatureKind,
    /// Clear length to keep to each side of its edges; the kind's usual length where absent.
    pub keep_clear: Option<Length>,
    /// Whether a cable passes along the bore here.
    pub bore: Passage,
    /// Notes.
    pub note: String,
}

/// Kinds of features.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum FeatureKind {
    /// A post or bracket.
    Post {
        /// Width along the rail.
        width: Length,
        /// How it meets the rail.
        kind: PostKind,
        /// Whether a cable passes between the bore and the post.
        into_post: Passage,
    },
    /// A joint in the tube.
    Joint {
        /// How it is made.
        kind: JointKind,
        /// Length along the rail that it takes up.
        width: Length,
    },
    /// A joint that moves with temperature or load.
    MovementJoint {
        /// Range of movement.
        range: Length,
        /// Length along the rail that it takes up.
        width: Length,
    },
    /// A clamp holding infill.
    InfillClamp {
        /// Width along the rail.
        width: Length,
    },
    /// A hole that is already there.
    ExistingHole {
        /// Its diameter.
        diameter: Length,
        /// Angle around the tube from the top, degrees towards the walked side.
        angle: Option<Degrees>,
        /// What it is for.
        used_for: HoleUse,
    },
    /// Where water would gather.
    LowPoint,
    /// Damage.
    Damage {
        /// Length along the rail.
        width: Length,
    },
    /// Where a cable can enter the tube.
    WayIn {
        /// Clear diameter for cables.
        opening: Length,
        /// The post it leads through, if it does.
        post: Option<Id>,
    },
}

/// How a post or bracket meets the rail.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum PostKind {
    /// Welded under the tube.
    WeldedBelow,
    /// A saddle screwed from below.
    Saddle,
    /// A bracket from the side or wall.
    SideBracket,
    /// The post goes through or interrupts the tube.
    Through,
    /// Something else, in words.
    Other(String),
}

/// How a joint is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum JointKind {
    /// Welded.
    Welded,
    /// A sleeve inside or outside.
    Sleeved,
    /// Bolted.
    Bolted,
    /// Flush with a spigot.
    Flush,
}

/// What an existing hole is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HoleUse {
    /// Drilled for a luminaire: the plan keeps it.
    Luminaire,
    /// Drain, fixing or anything else: the plan stays clear.
    Other,
}

/// Whether a cable passes.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub enum Passage {
    /// Nobody has looked.
    #[default]
    Unknown,
    /// Taken for open, not proved.
    Assumed,
    /// Proved.
    Proved {
        /// How.
        how: Proof,
        /// The widest thing that passed.
        widest: Length,
    },
    /// Known to be shut.
    Blocked {
        /// How it is known.
        how: Proof,
    },
}

/// How passage was proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Proof {
    /// A draw-wire went through.
    DrawWire,
    /// A camera went through.
    Camera,
    /// The tube was open to be seen.
    Seen,
}

impl Feature {
    /// Half of the length it takes up along the rail.
    #[must_use]
    pub fn half_width(&self) -> Length {
        self.kind.width().half()
    }

    /// Clear length beyond each edge: as surveyed, else usual for the kind.
    #[must_use]
    pub fn clear_each_side(&self) -> Length {
        self.keep_clear.unwrap_or_else(|| self.kind.usual_clear())
    }
}

impl FeatureKind {
    /// Length that the thing itself takes up along the rail.
    #[must_use]
    pub const fn width(&self) -> Length {
        match self {
            Self::Post { width, .. }
            | Self::Joint { width, .. }
            | Self::MovementJoint { width, .. }
            | Self::InfillClamp { width }
            | Self::Damage { width } => *width,
            Self::ExistingHole { diameter, .. } => *diameter,
            Self::WayIn { opening, .. } => *opening,
            Self::LowPoint => Length::ZERO,
        }
    }

    /// Clear length usual beyond each edge: 40 mm from a post, joint or damage, 60 mm from a movement joint, 20 mm
    /// otherwise, none at a low point (common practice, no source; the surveyor's own figure wins).
    #[must_use]
    pub const fn usual_clear(&self) -> Length {
        match self {
            Self::Post { .. } | Self::Joint { .. } | Self::Damage { .. } => Length::mm(40),
            Self::MovementJoint { .. } => Length::mm(60),
            Self::InfillClamp { .. } | Self::ExistingHole { .. } | Self::WayIn { .. } => Length::mm(20),
            Self::LowPoint => Length::ZERO,
        }
    }

    /// One or two plain words.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Post { .. } => "post",
            Self::Joint { .. } => "joint",
            Self::MovementJoint { .. } => "movement joint",
            Self::InfillClamp { .. } => "infill clamp",
            Self::ExistingHole { .. } => "existing hole",
            Self::LowPoint => "low point",
            Self::Damage { .. } => "damage",
            Self::WayIn { .. } => "way in",
        }
    }

    /// Whether a cable can get from outside into the bore here, as far as the survey tells.
    #[must_use]
    pub fn is_way_in(&self) -> bool {
        matches!(self, Self::WayIn { .. })
    }
}

impl Passage {
    /// Whether it was proved.
    #[must_use]
    pub const fn is_proved(&self) -> bool {
        matches!(self, Self::Proved { .. })
    }

    /// Whether it is known to be shut.
    #[must_use]
    pub const fn is_blocked(&self) -> bool {
        matches!(self, Self::Blocked { .. })
    }
}

impl From<bool> for Answer {
    fn from(yes: bool) -> Self {
        if yes { Self::Yes } else { Self::No }
    }
}
