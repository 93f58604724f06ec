//! Mains points, driver places, devices and the routes between them and the rails.

use units::{Amps, Celsius, Length};

use crate::{Answer, Exposure, Id, Measurement, Passage, SitePoint};

/// Where mains can be had. Work on it belongs to a licensed person.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct MainsPoint {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// What it is.
    pub kind: MainsKind,
    /// Device that protects it.
    pub device: Option<Device>,
    /// Whether a residual current device protects it.
    pub rcd: Answer,
    /// Load already on it, where known.
    pub existing_load: Option<Amps>,
    /// Inside or outside.
    pub place: InsideOrOut,
    /// Its own exposure where it differs from the site's.
    pub exposure: Option<Exposure>,
    /// Where it is.
    pub position: Option<SitePoint>,
    /// A photograph of it.
    pub photo: Option<Id>,
    /// Notes.
    pub note: String,
}

/// Kinds of mains points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MainsKind {
    /// A fused connection unit.
    FusedConnectionUnit,
    /// A socket outlet.
    SocketOutlet,
    /// An isolator.
    Isolator,
    /// A way of a distribution board.
    BoardWay,
}

/// A protective device.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Device {
    /// Its type.
    pub kind: DeviceKind,
    /// Its rating.
    pub rating: Amps,
}

/// Type of a protective device (IEC 60898-1 curves, or a fuse).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DeviceKind {
    /// A fuse.
    Fuse,
    /// A circuit-breaker of curve B.
    CurveB,
    /// A circuit-breaker of curve C.
    CurveC,
    /// A circuit-breaker of curve D.
    CurveD,
}

/// Inside or outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum InsideOrOut {
    /// Inside.
    Inside,
    /// Outside.
    Outside,
}

/// Where a driver can stand.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct DriverPlace {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// Clear width.
    pub width: Length,
    /// Clear height.
    pub height: Length,
    /// Clear depth.
    pub depth: Length,
    /// What it can be fixed to, in words.
    pub fixing: String,
    /// Sun on it.
    pub sun: Sun,
    /// Highest air temperature around the driver.
    pub ambient: Celsius,
    /// Height above the highest water expected, where there is water.
    pub above_flood: Option<Length>,
    /// Its own exposure where it differs from the site's.
    pub exposure: Option<Exposure>,
    /// Whether it can be reached without dismantling.
    pub reachable: Answer,
    /// Whether it can be locked.
    pub lockable: Answer,
    /// Where it is.
    pub position: Option<SitePoint>,
    /// Notes.
    pub note: String,
}

/// Sun on a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sun {
    /// In the shade.
    Shade,
    /// Part of the day.
    Part,
    /// Full sun.
    Full,
}

/// A measured way for a cable.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Route {
    /// Its id.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// One end.
    pub from: RouteEnd,
    /// The other end; a cable may go either way.
    pub to: RouteEnd,
    /// Length along it.
    pub length: Measurement,
    /// What it runs in or on.
    pub kind: RouteKind,
    /// Clear width for cables, where it is bounded.
    pub clear: Option<Length>,
    /// Whether a cable passes; surfaces are open by nature and count as proved when stated so.
    pub passage: Passage,
    /// Corners and ends in the site frame.
    pub corners: Vec<SitePoint>,
    /// Obstacles, in words.
    pub obstacles: Vec<String>,
    /// Notes.
    pub note: String,
}

/// An end of a route.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RouteEnd {
    /// A mains point.
    MainsPoint(Id),
    /// A driver place.
    DriverPlace(Id),
    /// A way in of a rail.
    WayIn {
        /// The rail.
        rail: Id,
        /// The feature that is the way in.
        feature: Id,
    },
}

/// What a route runs in or on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RouteKind {
    /// Clipped to a surface.
    Surface,
    /// In a duct.
    Duct,
    /// Inside a post.
    InsidePost,
    /// Under a deck.
    UnderDeck,
}
