//! The survey file: what is on site, and the brief for it.

mod brief;
mod exposure;
mod feature;
mod measurement;
mod photo;
mod place;
mod rail;
mod site;

pub use brief::{
    Aim, Brief, Control, DriverLock, FeedWish, LampKind, Light, Locks, RailBrief, Target, Zone, ZoneControl,
};
pub use exposure::{Exposure, PublicReach, Salt, Setting, SpecialLocation};
pub use feature::{Feature, FeatureKind, HoleUse, JointKind, Passage, PostKind, Proof};
pub use measurement::{Instrument, Measurement, TapeClass};
pub use photo::{Mark, Photo, PhotoPosition, Shows};
pub use place::{Device, DeviceKind, DriverPlace, InsideOrOut, MainsKind, MainsPoint, Route, RouteEnd, RouteKind, Sun};
pub use rail::{
    Answer, Bonding, Consent, Datum, EndState, Material, Ownership, Piece, Plane, Profile, Rail, SitePoint, Sketch,
    Taped, TapedLine, Tube, WalkedSide,
};
pub use site::{Origin, Site, Survey};
