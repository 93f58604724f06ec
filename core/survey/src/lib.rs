//! What is on site and what the client wants, as plain data: no file, clock, network or wire format in here.
//!
//! Chainages run along the centreline of a rail from its datum. Every type can be hashed, so that a plan can be named
//! by what it was computed from; [`Survey::planning_part`] leaves out what changes no figure.

mod brief;
mod exposure;
mod feature;
mod finding;
mod id;
mod measurement;
mod photo;
mod place;
mod rail;

pub mod consistency;
pub mod geometry;

pub use brief::{
    Aim, Brief, Control, DriverLock, FeedWish, LampKind, Light, Locks, RailBrief, Target, Zone, ZoneControl,
};
pub use exposure::{Exposure, PublicReach, Salt, Setting, SpecialLocation};
pub use feature::{Feature, FeatureKind, HoleUse, JointKind, Passage, PostKind, Proof};
pub use finding::{Figure, Finding, Subject, Verdict};
pub use id::Id;
pub use measurement::{Instrument, Measurement, TapeClass};
pub use photo::{Mark, Photo, PhotoPosition, Shows};
pub use place::{Device, DeviceKind, DriverPlace, InsideOrOut, MainsKind, MainsPoint, Route, RouteEnd, RouteKind, Sun};
pub use rail::{
    Answer, Bend, Bonding, Consent, Datum, EndState, Material, Ownership, Piece, Plane, Profile, Rail, SitePoint,
    Sketch, Straight, Taped, TapedLine, Tube, WalkedSide,
};

/// The version of the survey's shape that this release writes.
pub const SCHEMA_VERSION: u32 = 1;

/// One site as surveyed, with the brief for it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Survey {
    /// The site itself.
    pub site: Site,
    /// Rails, in the order they were written; nothing is computed from that order.
    pub rails: Vec<Rail>,
    /// Where mains can be had.
    pub mains_points: Vec<MainsPoint>,
    /// Where a driver can stand.
    pub driver_places: Vec<DriverPlace>,
    /// Measured ways for cables.
    pub routes: Vec<Route>,
    /// Photographs.
    pub photos: Vec<Photo>,
    /// What the client wants.
    pub brief: Brief,
}

/// The site, its frame and what holds for all of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Site {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// Where it is, in words.
    pub address: String,
    /// Whether the whole site is made up, for teaching or trying out; every paper then says so.
    pub invented: bool,
    /// The day of the survey as written (ISO 8601).
    pub surveyed_on: Option<String>,
    /// Who surveyed.
    pub surveyor: Option<String>,
    /// The origin of the site frame, if a position was taken.
    pub origin: Option<Origin>,
    /// Exposure of everything that states none of its own.
    pub exposure: Exposure,
    /// Notes.
    pub note: String,
}

/// A WGS 84 position with its stated accuracy.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Origin {
    /// Latitude, degrees north.
    pub latitude: units::Degrees,
    /// Longitude, degrees east.
    pub longitude: units::Degrees,
    /// Radius within which the position is believed.
    pub accuracy: Option<units::Length>,
    /// Bearing of the frame's y axis, degrees clockwise from true north.
    pub bearing: units::Degrees,
    /// Height of the frame's zero above the level that the surveyor used.
    pub level: Option<units::Length>,
}

impl Survey {
    /// The rail with this id.
    #[must_use]
    pub fn rail(&self, id: &Id) -> Option<&Rail> {
        self.rails.iter().find(|r| &r.id == id)
    }

    /// The exposure in force at a rail: its own where stated, else the site's.
    #[must_use]
    pub fn exposure_of<'a>(&'a self, rail: &'a Rail) -> &'a Exposure {
        rail.exposure.as_ref().unwrap_or(&self.site.exposure)
    }

    /// The survey with everything left out that changes no figure of a plan (photos, notes, names, addresses), every
    /// list in order of id.
    #[must_use]
    pub fn planning_part(&self) -> Self {
        let mut part = self.clone();
        part.photos.clear();
        part.site.label.clear();
        part.site.address.clear();
        part.site.note.clear();
        part.site.surveyor = None;
        part.site.surveyed_on = None;
        for rail in &mut part.rails {
            rail.note.clear();
            for feature in &mut rail.features {
                feature.note.clear();
            }
            rail.features.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
        }
        for point in &mut part.mains_points {
            point.note.clear();
            point.photo = None;
        }
        for place in &mut part.driver_places {
            place.note.clear();
        }
        for route in &mut part.routes {
            route.note.clear();
        }
        part.rails.sort_by(|a, b| a.id.cmp(&b.id));
        part.mains_points.sort_by(|a, b| a.id.cmp(&b.id));
        part.driver_places.sort_by(|a, b| a.id.cmp(&b.id));
        part.routes.sort_by(|a, b| a.id.cmp(&b.id));
        part.brief.rails.sort_by(|a, b| a.rail.cmp(&b.rail));
        part.brief.zones.sort_by(|a, b| a.id.cmp(&b.id));
        part
    }
}
