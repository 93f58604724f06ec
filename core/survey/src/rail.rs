//! A rail: its tube, its pieces in order, its features.

use units::{Degrees, Length};

use crate::{Exposure, Feature, Id, Measurement, Passage};

/// An answer that may not have been found yet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Answer {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Not found out yet.
    #[default]
    Unknown,
}

/// One rail along one line of tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Rail {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// Where chainage starts.
    pub datum: Datum,
    /// Pieces from the datum on.
    pub pieces: Vec<Piece>,
    /// The whole length measured once more as a check.
    pub overall: Option<Measurement>,
    /// The tube.
    pub tube: Tube,
    /// Height of the top above the walking surface.
    pub height: Option<Measurement>,
    /// Clear walking width beside it.
    pub walking_width: Option<Measurement>,
    /// Which side people walk, seen from the datum.
    pub walked_side: WalkedSide,
    /// The end at the datum.
    pub start_end: EndState,
    /// The far end.
    pub far_end: EndState,
    /// Features by chainage; the order in the list means nothing.
    pub features: Vec<Feature>,
    /// Start and bearing in the site frame.
    pub sketch: Option<Sketch>,
    /// Whose rail it is.
    pub ownership: Option<Ownership>,
    /// What it is bonded to.
    pub bonding: Bonding,
    /// Whether it is or belongs to a guard that carries people's weight.
    pub guard: Answer,
    /// Whether the tube is sealed against water.
    pub sealed: Answer,
    /// Whether water drains from its low points.
    pub drains: Answer,
    /// Its own exposure where it differs from the site's.
    pub exposure: Option<Exposure>,
    /// Notes.
    pub note: String,
}

/// Where chainage starts and how the place is marked on the tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Datum {
    /// Which end, in words ("foot of the stair").
    pub end: String,
    /// How it is marked.
    pub mark: String,
}

/// One piece of tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Piece {
    /// A straight length.
    Straight(Straight),
    /// A bend.
    Bend(Bend),
}

/// A straight length of tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Straight {
    /// Its id within the rail.
    pub id: Id,
    /// Length along the tube.
    pub length: Measurement,
    /// Slope, degrees up from the datum end.
    pub slope: Degrees,
    /// How its own start is marked, from which its holes are also dimensioned.
    pub mark: Option<String>,
}

/// A bend in plan or in elevation.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Bend {
    /// Its id within the rail.
    pub id: Id,
    /// How far it turns.
    pub angle: Degrees,
    /// Which way it turns.
    pub plane: Plane,
    /// Radius of the tube's centreline.
    pub centreline_radius: Length,
    /// What was taped around it, if anything.
    pub taped: Option<Taped>,
    /// Whether a cable passes along the bore.
    pub bore: Passage,
    /// Length to keep clear on each straight beside it.
    pub keep_clear: Option<Length>,
}

/// Which way a bend turns, seen from the datum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Plane {
    /// In plan, to the left.
    Left,
    /// In plan, to the right.
    Right,
    /// In elevation, upwards.
    Up,
    /// In elevation, downwards.
    Down,
}

/// A length taped around a bend and the line it followed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Taped {
    /// The line.
    pub line: TapedLine,
    /// The length along it.
    pub length: Measurement,
}

/// The line along which a bend was taped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TapedLine {
    /// The tube's centreline.
    Centreline,
    /// The crown of the tube.
    Top,
    /// The outside of the bend.
    Outside,
}

/// The tube.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Tube {
    /// Its shape.
    pub profile: Profile,
    /// Outside diameter (the greater side of a flat).
    pub outside_diameter: Measurement,
    /// Wall thickness where it could be measured.
    pub wall: Option<Measurement>,
    /// What it is made of.
    pub material: Material,
    /// Grade as marked or tested ("1.4401").
    pub grade: Option<String>,
    /// Surface ("ground 320 grit", "powder coated").
    pub finish: Option<String>,
}

/// The tube's shape.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Profile {
    /// Round.
    Round,
    /// Round with a slot along it.
    RoundSlotted {
        /// Width of the slot.
        slot_width: Length,
    },
    /// Flat or rectangular.
    Flat {
        /// The smaller outside dimension.
        thickness: Length,
    },
    /// Another shape, in words.
    Other(String),
}

/// What the tube is made of.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Material {
    /// Stainless steel.
    StainlessSteel,
    /// Carbon steel, painted or coated.
    CarbonSteel,
    /// Galvanised steel.
    GalvanisedSteel,
    /// Aluminium.
    Aluminium,
    /// Brass or bronze.
    Brass,
    /// Something else, in words.
    Other(String),
}

/// Which side of the rail people walk, seen from the datum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WalkedSide {
    /// Left of the rail.
    Left,
    /// Right of the rail.
    Right,
    /// Both.
    Both,
}

/// How a rail ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EndState {
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

/// A point in the site frame.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct SitePoint {
    /// Along the frame's x axis.
    pub x: Length,
    /// Along the frame's y axis.
    pub y: Length,
    /// Height above the frame's zero.
    pub z: Length,
    /// Whether it was measured; otherwise it is sketched.
    pub measured: bool,
}

/// Where a rail lies in the site frame.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Sketch {
    /// The datum.
    pub start: SitePoint,
    /// Direction in which it sets off, degrees clockwise from the frame's y axis.
    pub bearing: Degrees,
}

/// Whose rail it is and whether they agree.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Ownership {
    /// The owner, in words.
    pub owner: String,
    /// Whether it is a parapet of a bridge or highway.
    pub bridge_or_highway: bool,
    /// The owner's consent to drilling.
    pub consent: Consent,
}

/// Consent to drill.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Consent {
    /// In writing, with its reference.
    InWriting(String),
    /// Said, not written.
    Spoken,
    /// Not asked yet.
    NotAsked,
    /// Refused.
    Refused,
}

/// What the metal may be joined to. A bond is never removed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Bonding {
    /// Bonded to earth.
    pub bonded: Answer,
    /// Part of a lightning protection system.
    pub lightning: Answer,
    /// Near electric traction.
    pub near_traction: Answer,
}
