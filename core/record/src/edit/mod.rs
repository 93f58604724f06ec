//! Edits: what a person can do to a site, as targeted puts, each with a sentence that a surveyor reads.

mod apply;
mod note;
mod sentence;

pub use apply::{EditError, Put, apply, puts};
pub(crate) use apply::{apply_all, open, write};
pub(crate) use note::{Note, Way, WrittenPut};
pub use sentence::sentence;
pub(crate) use sentence::{changed, like, name, together};

use automerge::ScalarValue;
use survey::{
    DriverPlace, Feature, FeatureKind, Locks, MainsPoint, Measurement, Ownership, Photo, Piece, Rail, RailBrief, Route,
    Zone,
};

use crate::document::Thing;
use crate::stored::{OwnedBy, Shape, Stored};

/// One edit.
#[derive(Clone, Debug)]
pub enum Edit {
    /// Writes one field of a thing, whole.
    Set {
        /// The thing.
        thing: Thing,
        /// The field's name.
        field: String,
        /// Its new value; [`Edit::set`] makes it from a plain value.
        value: ScalarValue,
    },
    /// Moves a feature to another chainage.
    Move {
        /// The rail.
        rail: String,
        /// The feature.
        feature: String,
        /// The chainage.
        to: Measurement,
    },
    /// Says that a feature is something else, with all its details.
    ChangeKind {
        /// The rail.
        rail: String,
        /// The feature.
        feature: String,
        /// What it is.
        to: FeatureKind,
    },
    /// Fixes holes and drivers of a rail.
    Lock {
        /// The rail.
        rail: String,
        /// What is fixed.
        locks: Locks,
    },
    /// Adds a thing at the end of its list.
    Add(Box<NewThing>),
    /// Puts a thing between two others of its list.
    Reorder {
        /// The thing.
        thing: Thing,
        /// The one before it; the start of the list where absent.
        after: Option<Thing>,
    },
    /// Removes a thing; it can be restored with everything in it.
    Remove(Thing),
    /// Restores a removed thing.
    Restore(Thing),
}

/// A thing to add.
#[allow(clippy::large_enum_variant, reason = "an edit holds it in a box")]
#[derive(Clone, Debug)]
pub enum NewThing {
    /// A rail with its pieces and features.
    Rail(Rail),
    /// A piece of a rail.
    Piece {
        /// The rail.
        rail: String,
        /// The piece.
        piece: Piece,
    },
    /// A feature of a rail.
    Feature {
        /// The rail.
        rail: String,
        /// The feature.
        feature: Feature,
    },
    /// A mains point.
    MainsPoint(MainsPoint),
    /// A driver place.
    DriverPlace(DriverPlace),
    /// A route.
    Route(Route),
    /// A photo.
    Photo(Photo),
    /// The brief for a rail.
    Wish(RailBrief),
    /// A zone.
    Zone(Zone),
}

impl NewThing {
    /// Where it will stand.
    #[must_use]
    pub fn thing(&self) -> Thing {
        use crate::document::Kind;
        match self {
            Self::Rail(t) => Thing::rail(t.id.as_str()),
            Self::Piece { rail, piece } => Thing::piece(rail, piece.id().as_str()),
            Self::Feature { rail, feature } => Thing::feature(rail, feature.id.as_str()),
            Self::MainsPoint(t) => Thing::new(Kind::MainsPoint, t.id.as_str()),
            Self::DriverPlace(t) => Thing::new(Kind::DriverPlace, t.id.as_str()),
            Self::Route(t) => Thing::new(Kind::Route, t.id.as_str()),
            Self::Photo(t) => Thing::new(Kind::Photo, t.id.as_str()),
            Self::Wish(t) => Thing::new(Kind::Wish, t.rail.as_str()),
            Self::Zone(t) => Thing::new(Kind::Zone, t.id.as_str()),
        }
    }
}

impl Edit {
    /// Writes one field of a thing.
    #[must_use]
    pub fn set<T: Stored>(thing: Thing, field: &str, value: &T) -> Self {
        Self::Set { thing, field: field.to_owned(), value: value.to_scalar() }
    }

    /// Writes what a piece of a rail is, whole.
    #[must_use]
    pub fn shape(rail: &str, piece: &Piece) -> Self {
        Self::set(Thing::piece(rail, piece.id().as_str()), "shape", &Shape(piece.clone()))
    }

    /// Writes whose rail it is.
    #[must_use]
    pub fn ownership(rail: &str, owned: Option<&Ownership>) -> Self {
        Self::set(Thing::rail(rail), "ownership", &OwnedBy(owned.cloned()))
    }

    /// The thing that it changes.
    #[must_use]
    pub fn thing(&self) -> Thing {
        match self {
            Self::Set { thing, .. } | Self::Reorder { thing, .. } | Self::Remove(thing) | Self::Restore(thing) => {
                thing.clone()
            }
            Self::Move { rail, feature, .. } | Self::ChangeKind { rail, feature, .. } => Thing::feature(rail, feature),
            Self::Lock { rail, .. } => Thing::new(crate::document::Kind::Wish, rail),
            Self::Add(new) => new.thing(),
        }
    }
}
