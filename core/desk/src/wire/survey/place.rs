//! Mains points, driver places and the routes between them and the rails.

use super::{Answer, Exposure, Measurement, Passage, SitePoint};
use crate::wire::mirror::{kinds, record, words};
use crate::wire::scalar::{A, AOrNone, DegC, Id, MmAbove, MmSigned};

record!(
    /// Where mains can be had. Work on it belongs to a licensed person.
    MainsPoint = survey::MainsPoint {
        /// Its id, unique among mains points.
        id: Id = id,
        /// What people call it.
        label: String = label,
        /// What it is.
        kind: MainsKind = kind,
        /// Device that protects it.
        #[serde(default)]
        device: Option<Device> = device,
        /// Whether a residual current device protects it; unknown where absent.
        #[serde(default)]
        rcd: Answer = rcd,
        /// Load already on it, where known.
        #[serde(default)]
        existing_load_a: Option<AOrNone> = existing_load,
        /// Inside or outside.
        place: InsideOrOut = place,
        /// Its own exposure where it differs from the site's.
        #[serde(default)]
        exposure: Option<Exposure> = exposure,
        /// Where it is.
        #[serde(default)]
        position: Option<SitePoint> = position,
        /// A photograph of it, by its id.
        #[serde(default)]
        photo: Option<Id> = photo,
        /// Notes.
        #[serde(default)]
        note: String = note,
    }
);

words!(
    /// Kinds of mains points.
    MainsKind = survey::MainsKind {
        /// A fused connection unit.
        FusedConnectionUnit,
        /// A socket outlet.
        SocketOutlet,
        /// An isolator.
        Isolator,
        /// A way of a distribution board.
        BoardWay,
    }
);

record!(
    /// A protective device.
    Device = survey::Device {
        /// Its type.
        kind: DeviceKind = kind,
        /// Its rating.
        rating_a: A = rating,
    }
);

words!(
    /// Type of a protective device (IEC 60898-1 curves, or a fuse).
    DeviceKind = survey::DeviceKind {
        /// A fuse.
        Fuse,
        /// A circuit-breaker of curve B.
        CurveB,
        /// A circuit-breaker of curve C.
        CurveC,
        /// A circuit-breaker of curve D.
        CurveD,
    }
);

words!(
    /// Inside or outside.
    InsideOrOut = survey::InsideOrOut {
        /// Inside.
        Inside,
        /// Outside.
        Outside,
    }
);

record!(
    /// Where a driver can stand.
    DriverPlace = survey::DriverPlace {
        /// Its id, unique among driver places.
        id: Id = id,
        /// What people call it.
        label: String = label,
        /// Clear width.
        width_mm: MmAbove = width,
        /// Clear height.
        height_mm: MmAbove = height,
        /// Clear depth.
        depth_mm: MmAbove = depth,
        /// What it can be fixed to, in words.
        #[serde(default)]
        fixing: String = fixing,
        /// Sun on it.
        sun: Sun = sun,
        /// Highest air temperature around the driver.
        ambient_c: DegC = ambient,
        /// Height above the highest water expected, where there is water.
        #[serde(default)]
        above_flood_mm: Option<MmSigned> = above_flood,
        /// Its own exposure where it differs from the site's.
        #[serde(default)]
        exposure: Option<Exposure> = exposure,
        /// Whether it can be reached without dismantling; unknown where absent.
        #[serde(default)]
        reachable: Answer = reachable,
        /// Whether it can be locked; unknown where absent.
        #[serde(default)]
        lockable: Answer = lockable,
        /// Where it is.
        #[serde(default)]
        position: Option<SitePoint> = position,
        /// Notes.
        #[serde(default)]
        note: String = note,
    }
);

words!(
    /// Sun on a place.
    Sun = survey::Sun {
        /// In the shade.
        Shade,
        /// Part of the day.
        Part,
        /// Full sun.
        Full,
    }
);

record!(
    /// A measured way for a cable.
    Route = survey::Route {
        /// Its id, unique among routes.
        id: Id = id,
        /// What people call it.
        #[serde(default)]
        label: String = label,
        /// One end.
        from: RouteEnd = from,
        /// The other end; a cable may go either way.
        to: RouteEnd = to,
        /// Length along it.
        length_mm: Measurement = length,
        /// What it runs in or on.
        kind: RouteKind = kind,
        /// Clear width for cables, where it is bounded.
        #[serde(default)]
        clear_mm: Option<MmAbove> = clear,
        /// Whether a cable passes; unknown where absent.
        #[serde(default)]
        passage: Passage = passage,
        /// Corners and ends in the site frame.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        corners: Vec<SitePoint> = corners,
        /// Obstacles, in words.
        #[serde(default)]
        #[schemars(length(max = 1000))]
        obstacles: Vec<String> = obstacles,
        /// Notes.
        #[serde(default)]
        note: String = note,
    }
);

kinds!(
    /// An end of a route.
    RouteEnd = survey::RouteEnd {
        /// A mains point.
        MainsPoint {
            /// Its id.
            id: Id = 0,
        },
        /// A driver place.
        DriverPlace {
            /// Its id.
            id: Id = 0,
        },
        /// A way in of a rail.
        WayIn {
            /// The rail.
            rail: Id = rail,
            /// The feature that is the way in.
            feature: Id = feature,
        },
    }
);

words!(
    /// What a route runs in or on.
    RouteKind = survey::RouteKind {
        /// Clipped to a surface.
        Surface,
        /// In a duct.
        Duct,
        /// Inside a post.
        InsidePost,
        /// Under a deck.
        UnderDeck,
    }
);
