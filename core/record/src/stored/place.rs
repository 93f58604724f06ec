//! Stored shapes of mains points, driver places, routes and photos.

use survey::{Device, DeviceKind, InsideOrOut, MainsKind, Mark, PhotoPosition, RouteEnd, RouteKind, Shows, Sun};

use super::{kinds, record};

kinds!(MainsKind {
    FusedConnectionUnit = "fused_connection_unit",
    SocketOutlet = "socket_outlet",
    Isolator = "isolator",
    BoardWay = "board_way",
});
kinds!(DeviceKind { Fuse = "fuse", CurveB = "curve_b", CurveC = "curve_c", CurveD = "curve_d" });
record!(Device { kind = "type", rating = "rating_a" });
kinds!(InsideOrOut { Inside = "inside", Outside = "outside" });
kinds!(Sun { Shade = "shade", Part = "part", Full = "full" });
kinds!(RouteEnd {
    MainsPoint(point) = "mains_point",
    DriverPlace(place) = "driver_place",
    WayIn { rail: "rail", feature: "feature" } = "way_in",
});
kinds!(RouteKind {
    Surface = "surface",
    Duct = "duct",
    InsidePost = "inside_post",
    UnderDeck = "under_deck",
});
kinds!(Shows {
    Rail { rail: "rail", chainage: "chainage_um" } = "rail",
    MainsPoint(point) = "mains_point",
    Route(route) = "route",
    Defect(words) = "defect",
    General = "general",
});
record!(PhotoPosition {
    latitude = "latitude_deg",
    longitude = "longitude_deg",
    altitude = "altitude_um",
    accuracy = "accuracy_um",
});
kinds!(Mark {
    Arrow { from: "from", to: "to" } = "arrow",
    Dimension { from: "from", to: "to", length: "length_um" } = "dimension",
    Frame { from: "from", to: "to" } = "box",
    Words { at: "at", text: "text" } = "words",
});
