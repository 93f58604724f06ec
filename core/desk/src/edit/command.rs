//! The edits that can be asked for, and how each becomes an edit of the document.

use record::document::{Kind, Thing};
use record::edit::{Edit as Stored, NewThing};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::change::{
    BriefChange, DriverPlaceChange, FeatureChange, MainsPointChange, PhotoChange, RailBriefChange, RailChange,
    RouteChange, SiteChange, ZoneChange,
};
use crate::wire::Mirror;
use crate::wire::scalar::Id;
use crate::wire::survey::{
    DriverPlace, Feature, MainsPoint, Measurement, Ownership, Photo, Piece, Rail, RailBrief, Route, Zone,
};

/// One edit of a stored site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[allow(clippy::large_enum_variant, reason = "one at a time crosses, and is taken apart at once")]
pub enum Edit {
    /// Writes a field of the site.
    SetSite {
        /// The field.
        change: SiteChange,
    },
    /// Writes what the brief says of the whole site.
    SetBrief {
        /// The field.
        change: BriefChange,
    },
    /// Adds a rail with its pieces and features, after the others.
    AddRail {
        /// The rail.
        new: Rail,
    },
    /// Writes a field of a rail.
    SetRail {
        /// The rail.
        rail: Id,
        /// The field.
        change: RailChange,
    },
    /// Writes whose rail it is.
    SetOwnership {
        /// The rail.
        rail: Id,
        /// The owner; nobody is known where absent.
        ownership: Option<Ownership>,
    },
    /// Adds a piece at the far end of a rail.
    AddPiece {
        /// The rail.
        rail: Id,
        /// The piece.
        new: Piece,
    },
    /// Writes a piece anew, whole.
    SetPiece {
        /// The rail.
        rail: Id,
        /// The piece, under the id it has.
        piece: Piece,
    },
    /// Adds a feature to a rail.
    AddFeature {
        /// The rail.
        rail: Id,
        /// The feature.
        new: Feature,
    },
    /// Moves a feature along its rail.
    MoveFeature {
        /// The rail.
        rail: Id,
        /// The feature.
        feature: Id,
        /// Its chainage.
        to_mm: Measurement,
    },
    /// Writes a field of a feature.
    SetFeature {
        /// The rail.
        rail: Id,
        /// The feature.
        feature: Id,
        /// The field.
        change: FeatureChange,
    },
    /// Adds a mains point.
    AddMainsPoint {
        /// The mains point.
        new: MainsPoint,
    },
    /// Writes a field of a mains point.
    SetMainsPoint {
        /// The mains point.
        id: Id,
        /// The field.
        change: MainsPointChange,
    },
    /// Adds a driver place.
    AddDriverPlace {
        /// The driver place.
        new: DriverPlace,
    },
    /// Writes a field of a driver place.
    SetDriverPlace {
        /// The driver place.
        id: Id,
        /// The field.
        change: DriverPlaceChange,
    },
    /// Adds a route.
    AddRoute {
        /// The route.
        new: Route,
    },
    /// Writes a field of a route.
    SetRoute {
        /// The route.
        id: Id,
        /// The field.
        change: RouteChange,
    },
    /// Adds a photo.
    AddPhoto {
        /// The photo.
        new: Photo,
    },
    /// Writes a field of a photo.
    SetPhoto {
        /// The photo.
        id: Id,
        /// The field.
        change: PhotoChange,
    },
    /// Adds the brief for a rail.
    AddRailBrief {
        /// The brief.
        new: RailBrief,
    },
    /// Writes a field of the brief for a rail.
    SetRailBrief {
        /// The rail.
        rail: Id,
        /// The field.
        change: RailBriefChange,
    },
    /// Adds a zone.
    AddZone {
        /// The zone.
        new: Zone,
    },
    /// Writes a field of a zone.
    SetZone {
        /// The zone.
        id: Id,
        /// The field.
        change: ZoneChange,
    },
    /// Puts a thing between others of its list.
    Reorder {
        /// The thing.
        thing: ThingName,
        /// The one before it; the start of the list where absent.
        after: Option<ThingName>,
    },
    /// Removes a thing to which nothing refers; it can be restored with everything in it.
    Remove {
        /// The thing.
        thing: ThingName,
    },
    /// Restores a removed thing.
    Restore {
        /// The thing.
        thing: ThingName,
    },
}

/// Edits that are made as one change.
#[derive(Clone, Debug, PartialEq, Deserialize, JsonSchema)]
pub struct Edits {
    /// The edits, each built on those before it.
    pub edits: Vec<Edit>,
}

/// A thing of a site by its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum ThingName {
    /// A rail.
    Rail {
        /// Its id.
        rail: Id,
    },
    /// A piece of a rail.
    Piece {
        /// The rail.
        rail: Id,
        /// Its id.
        id: Id,
    },
    /// A feature of a rail.
    Feature {
        /// The rail.
        rail: Id,
        /// Its id.
        id: Id,
    },
    /// A mains point.
    MainsPoint {
        /// Its id.
        id: Id,
    },
    /// A driver place.
    DriverPlace {
        /// Its id.
        id: Id,
    },
    /// A route.
    Route {
        /// Its id.
        id: Id,
    },
    /// A photo.
    Photo {
        /// Its id.
        id: Id,
    },
    /// The brief for a rail.
    RailBrief {
        /// The rail.
        rail: Id,
    },
    /// A zone.
    Zone {
        /// Its id.
        id: Id,
    },
}

impl ThingName {
    /// The thing in the document.
    pub(super) fn thing(&self) -> Thing {
        match self {
            Self::Rail { rail } => Thing::rail(rail.0.as_str()),
            Self::Piece { rail, id } => Thing::piece(rail.0.as_str(), id.0.as_str()),
            Self::Feature { rail, id } => Thing::feature(rail.0.as_str(), id.0.as_str()),
            Self::MainsPoint { id } => Thing::new(Kind::MainsPoint, id.0.as_str()),
            Self::DriverPlace { id } => Thing::new(Kind::DriverPlace, id.0.as_str()),
            Self::Route { id } => Thing::new(Kind::Route, id.0.as_str()),
            Self::Photo { id } => Thing::new(Kind::Photo, id.0.as_str()),
            Self::RailBrief { rail } => Thing::new(Kind::Wish, rail.0.as_str()),
            Self::Zone { id } => Thing::new(Kind::Zone, id.0.as_str()),
        }
    }
}

impl Edit {
    /// The edit of the document.
    pub(super) fn into_stored(self) -> Stored {
        let text = |id: &Id| id.0.as_str().to_owned();
        let add = |new: NewThing| Stored::Add(Box::new(new));
        match self {
            Self::SetSite { change } => change.of(Thing::site()),
            Self::SetBrief { change } => change.of(Thing::brief()),
            Self::AddRail { new } => add(NewThing::Rail(new.into_plain())),
            Self::SetRail { rail, change } => change.of(Thing::rail(rail.0.as_str())),
            Self::SetOwnership { rail, ownership } => {
                Stored::ownership(rail.0.as_str(), ownership.into_plain().as_ref())
            }
            Self::AddPiece { rail, new } => add(NewThing::Piece { rail: text(&rail), piece: new.into_plain() }),
            Self::SetPiece { rail, piece } => Stored::shape(rail.0.as_str(), &piece.into_plain()),
            Self::AddFeature { rail, new } => add(NewThing::Feature { rail: text(&rail), feature: new.into_plain() }),
            Self::MoveFeature { rail, feature, to_mm } => {
                Stored::Move { rail: text(&rail), feature: text(&feature), to: to_mm.into_plain() }
            }
            Self::SetFeature { rail, feature, change } => {
                change.of(Thing::feature(rail.0.as_str(), feature.0.as_str()))
            }
            Self::AddMainsPoint { new } => add(NewThing::MainsPoint(new.into_plain())),
            Self::SetMainsPoint { id, change } => change.of(Thing::new(Kind::MainsPoint, id.0.as_str())),
            Self::AddDriverPlace { new } => add(NewThing::DriverPlace(new.into_plain())),
            Self::SetDriverPlace { id, change } => change.of(Thing::new(Kind::DriverPlace, id.0.as_str())),
            Self::AddRoute { new } => add(NewThing::Route(new.into_plain())),
            Self::SetRoute { id, change } => change.of(Thing::new(Kind::Route, id.0.as_str())),
            Self::AddPhoto { new } => add(NewThing::Photo(new.into_plain())),
            Self::SetPhoto { id, change } => change.of(Thing::new(Kind::Photo, id.0.as_str())),
            Self::AddRailBrief { new } => add(NewThing::Wish(new.into_plain())),
            Self::SetRailBrief { rail, change } => change.of(Thing::new(Kind::Wish, rail.0.as_str())),
            Self::AddZone { new } => add(NewThing::Zone(new.into_plain())),
            Self::SetZone { id, change } => change.of(Thing::new(Kind::Zone, id.0.as_str())),
            Self::Reorder { thing, after } => {
                Stored::Reorder { thing: thing.thing(), after: after.map(|after| after.thing()) }
            }
            Self::Remove { thing } => Stored::Remove(thing.thing()),
            Self::Restore { thing } => Stored::Restore(thing.thing()),
        }
    }
}
