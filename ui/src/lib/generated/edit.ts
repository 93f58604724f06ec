// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.
import type { AOrNone, Aim, Answer, Day, Deg, DegC, Device, DriverPlace, EndState, Exposure, Feature, FeedWish, HoleUse, Id, InsideOrOut, JointKind, LampKind, Light, Locks, MainsKind, MainsPoint, Mark, Material, Measurement, Mm, MmAbove, MmSigned, Moment, Origin, Ownership, Part, Passage, Percent, Photo, PhotoPosition, Piece, PostKind, Profile, Rail, RailBrief, Route, RouteEnd, RouteKind, Sha256, Shows, SitePoint, Sketch, Sun, Target, WalkedSide, Zone, ZoneControl } from './survey';

/**
 * What the brief says of the whole site.
 */
export type BriefChange = { "kind": "reserve_percent",
/**
 * The new value.
 */
value: number, } | { "kind": "drop_percent",
/**
 * The new value.
 */
value: Percent, } | { "kind": "loop_per_hole_mm",
/**
 * The new value.
 */
value: Mm, } | { "kind": "spare_percent",
/**
 * The new value.
 */
value: number, };

/**
 * A field of a driver place.
 */
export type DriverPlaceChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "width_mm",
/**
 * The new value.
 */
value: MmAbove, } | { "kind": "height_mm",
/**
 * The new value.
 */
value: MmAbove, } | { "kind": "depth_mm",
/**
 * The new value.
 */
value: MmAbove, } | { "kind": "fixing",
/**
 * The new value.
 */
value: string, } | { "kind": "sun",
/**
 * The new value.
 */
value: Sun, } | { "kind": "ambient_c",
/**
 * The new value.
 */
value: DegC, } | { "kind": "above_flood_mm",
/**
 * The new value.
 */
value: MmSigned | null, } | { "kind": "exposure",
/**
 * The new value.
 */
value: Exposure | null, } | { "kind": "reachable",
/**
 * The new value.
 */
value: Answer, } | { "kind": "lockable",
/**
 * The new value.
 */
value: Answer, } | { "kind": "position",
/**
 * The new value.
 */
value: SitePoint | null, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * One edit of a stored site.
 */
export type Edit = { "kind": "set_site",
/**
 * The field.
 */
change: SiteChange, } | { "kind": "set_brief",
/**
 * The field.
 */
change: BriefChange, } | { "kind": "add_rail",
/**
 * The rail.
 */
new: Rail, } | { "kind": "set_rail",
/**
 * The rail.
 */
rail: Id,
/**
 * The field.
 */
change: RailChange, } | { "kind": "set_ownership",
/**
 * The rail.
 */
rail: Id,
/**
 * The owner; nobody is known where absent.
 */
ownership: Ownership | null, } | { "kind": "add_piece",
/**
 * The rail.
 */
rail: Id,
/**
 * The piece.
 */
new: Piece, } | { "kind": "set_piece",
/**
 * The rail.
 */
rail: Id,
/**
 * The piece, under the id it has.
 */
piece: Piece, } | { "kind": "add_feature",
/**
 * The rail.
 */
rail: Id,
/**
 * The feature.
 */
new: Feature, } | { "kind": "move_feature",
/**
 * The rail.
 */
rail: Id,
/**
 * The feature.
 */
feature: Id,
/**
 * Its chainage.
 */
to_mm: Measurement, } | { "kind": "set_feature",
/**
 * The rail.
 */
rail: Id,
/**
 * The feature.
 */
feature: Id,
/**
 * The field.
 */
change: FeatureChange, } | { "kind": "add_mains_point",
/**
 * The mains point.
 */
new: MainsPoint, } | { "kind": "set_mains_point",
/**
 * The mains point.
 */
id: Id,
/**
 * The field.
 */
change: MainsPointChange, } | { "kind": "add_driver_place",
/**
 * The driver place.
 */
new: DriverPlace, } | { "kind": "set_driver_place",
/**
 * The driver place.
 */
id: Id,
/**
 * The field.
 */
change: DriverPlaceChange, } | { "kind": "add_route",
/**
 * The route.
 */
new: Route, } | { "kind": "set_route",
/**
 * The route.
 */
id: Id,
/**
 * The field.
 */
change: RouteChange, } | { "kind": "add_photo",
/**
 * The photo.
 */
new: Photo, } | { "kind": "set_photo",
/**
 * The photo.
 */
id: Id,
/**
 * The field.
 */
change: PhotoChange, } | { "kind": "add_rail_brief",
/**
 * The brief.
 */
new: RailBrief, } | { "kind": "set_rail_brief",
/**
 * The rail.
 */
rail: Id,
/**
 * The field.
 */
change: RailBriefChange, } | { "kind": "add_zone",
/**
 * The zone.
 */
new: Zone, } | { "kind": "set_zone",
/**
 * The zone.
 */
id: Id,
/**
 * The field.
 */
change: ZoneChange, } | { "kind": "reorder",
/**
 * The thing.
 */
thing: ThingName,
/**
 * The one before it; the start of the list where absent.
 */
after: ThingName | null, } | { "kind": "remove",
/**
 * The thing.
 */
thing: ThingName, } | { "kind": "restore",
/**
 * The thing.
 */
thing: ThingName, };

/**
 * A field of a feature; moving it is an edit of its own.
 */
export type FeatureChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "what",
/**
 * The new value.
 */
value: FeatureKind, } | { "kind": "keep_clear_mm",
/**
 * The new value.
 */
value: Mm | null, } | { "kind": "bore",
/**
 * The new value.
 */
value: Passage, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * Kinds of features.
 */
export type FeatureKind = { "kind": "post",
/**
 * Width along the rail.
 */
width_mm: MmAbove,
/**
 * How it meets the rail.
 */
meets: PostKind,
/**
 * Whether a cable passes between the bore and the post; unknown where absent.
 */
into_post: Passage, } | { "kind": "joint",
/**
 * How it is made.
 */
made: JointKind,
/**
 * Length along the rail that it takes up.
 */
width_mm: Mm, } | { "kind": "movement_joint",
/**
 * Range of movement.
 */
range_mm: Mm,
/**
 * Length along the rail that it takes up.
 */
width_mm: Mm, } | { "kind": "infill_clamp",
/**
 * Width along the rail.
 */
width_mm: MmAbove, } | { "kind": "existing_hole",
/**
 * Its diameter.
 */
diameter_mm: MmAbove,
/**
 * Angle around the tube from the top, degrees towards the walked side.
 */
angle_deg: Deg | null,
/**
 * What it is for.
 */
used_for: HoleUse, } | { "kind": "low_point", } | { "kind": "damage",
/**
 * Length along the rail.
 */
width_mm: Mm, } | { "kind": "way_in",
/**
 * Clear diameter for cables.
 */
opening_mm: MmAbove,
/**
 * The post it leads through, if it does.
 */
post: Id | null, };

/**
 * A field of a mains point.
 */
export type MainsPointChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "what",
/**
 * The new value.
 */
value: MainsKind, } | { "kind": "device",
/**
 * The new value.
 */
value: Device | null, } | { "kind": "rcd",
/**
 * The new value.
 */
value: Answer, } | { "kind": "existing_load_a",
/**
 * The new value.
 */
value: AOrNone | null, } | { "kind": "place",
/**
 * The new value.
 */
value: InsideOrOut, } | { "kind": "exposure",
/**
 * The new value.
 */
value: Exposure | null, } | { "kind": "position",
/**
 * The new value.
 */
value: SitePoint | null, } | { "kind": "photo",
/**
 * The new value.
 */
value: Id | null, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * A field of a photo.
 */
export type PhotoChange = { "kind": "file",
/**
 * The new value.
 */
value: string, } | { "kind": "content_sha256",
/**
 * The new value.
 */
value: Sha256 | null, } | { "kind": "shows",
/**
 * The new value.
 */
value: Shows, } | { "kind": "taken",
/**
 * The new value.
 */
value: Moment | null, } | { "kind": "position",
/**
 * The new value.
 */
value: PhotoPosition | null, } | { "kind": "heading_deg",
/**
 * The new value.
 */
value: Deg | null, } | { "kind": "camera",
/**
 * The new value.
 */
value: string | null, } | { "kind": "note",
/**
 * The new value.
 */
value: string, } | { "kind": "marks",
/**
 * The new value.
 */
value: Array<Mark>, };

/**
 * A field of the brief for one rail.
 */
export type RailBriefChange = { "kind": "lamps",
/**
 * The new value.
 */
value: LampKind, } | { "kind": "light",
/**
 * The new value.
 */
value: Light, } | { "kind": "part",
/**
 * The new value.
 */
value: Part | null, } | { "kind": "target",
/**
 * The new value.
 */
value: Target, } | { "kind": "end_margin_least_mm",
/**
 * The new value.
 */
value: Mm, } | { "kind": "end_margin_greatest_mm",
/**
 * The new value.
 */
value: Mm, } | { "kind": "posts_clear_of_holes",
/**
 * The new value.
 */
value: boolean, } | { "kind": "aim",
/**
 * The new value.
 */
value: Aim, } | { "kind": "match_rail",
/**
 * The new value.
 */
value: Id | null, } | { "kind": "concerns",
/**
 * The new value.
 */
value: string, } | { "kind": "zone",
/**
 * The new value.
 */
value: Id | null, } | { "kind": "feed",
/**
 * The new value.
 */
value: FeedWish, } | { "kind": "locks",
/**
 * The new value.
 */
value: Locks, };

/**
 * A field of a rail; its ownership has an edit of its own.
 */
export type RailChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "datum_end",
/**
 * The new value.
 */
value: string, } | { "kind": "datum_mark",
/**
 * The new value.
 */
value: string, } | { "kind": "overall_mm",
/**
 * The new value.
 */
value: Measurement | null, } | { "kind": "tube_profile",
/**
 * The new value.
 */
value: Profile, } | { "kind": "tube_outside_diameter_mm",
/**
 * The new value.
 */
value: Measurement, } | { "kind": "tube_wall_mm",
/**
 * The new value.
 */
value: Measurement | null, } | { "kind": "tube_material",
/**
 * The new value.
 */
value: Material, } | { "kind": "tube_grade",
/**
 * The new value.
 */
value: string | null, } | { "kind": "tube_finish",
/**
 * The new value.
 */
value: string | null, } | { "kind": "height_mm",
/**
 * The new value.
 */
value: Measurement | null, } | { "kind": "walking_width_mm",
/**
 * The new value.
 */
value: Measurement | null, } | { "kind": "walked_side",
/**
 * The new value.
 */
value: WalkedSide, } | { "kind": "start_end",
/**
 * The new value.
 */
value: EndState, } | { "kind": "far_end",
/**
 * The new value.
 */
value: EndState, } | { "kind": "sketch",
/**
 * The new value.
 */
value: Sketch | null, } | { "kind": "bonded",
/**
 * The new value.
 */
value: Answer, } | { "kind": "lightning",
/**
 * The new value.
 */
value: Answer, } | { "kind": "near_traction",
/**
 * The new value.
 */
value: Answer, } | { "kind": "guard",
/**
 * The new value.
 */
value: Answer, } | { "kind": "sealed",
/**
 * The new value.
 */
value: Answer, } | { "kind": "drains",
/**
 * The new value.
 */
value: Answer, } | { "kind": "exposure",
/**
 * The new value.
 */
value: Exposure | null, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * A field of a route.
 */
export type RouteChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "from",
/**
 * The new value.
 */
value: RouteEnd, } | { "kind": "to",
/**
 * The new value.
 */
value: RouteEnd, } | { "kind": "length_mm",
/**
 * The new value.
 */
value: Measurement, } | { "kind": "what",
/**
 * The new value.
 */
value: RouteKind, } | { "kind": "clear_mm",
/**
 * The new value.
 */
value: MmAbove | null, } | { "kind": "passage",
/**
 * The new value.
 */
value: Passage, } | { "kind": "corners",
/**
 * The new value.
 */
value: Array<SitePoint>, } | { "kind": "obstacles",
/**
 * The new value.
 */
value: Array<string>, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * A field of the site.
 */
export type SiteChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "address",
/**
 * The new value.
 */
value: string, } | { "kind": "invented",
/**
 * The new value.
 */
value: boolean, } | { "kind": "surveyed_on",
/**
 * The new value.
 */
value: Day | null, } | { "kind": "surveyor",
/**
 * The new value.
 */
value: string | null, } | { "kind": "origin",
/**
 * The new value.
 */
value: Origin | null, } | { "kind": "exposure",
/**
 * The new value.
 */
value: Exposure, } | { "kind": "note",
/**
 * The new value.
 */
value: string, };

/**
 * A thing of a site by its name.
 */
export type ThingName = { "kind": "rail",
/**
 * Its id.
 */
rail: Id, } | { "kind": "piece",
/**
 * The rail.
 */
rail: Id,
/**
 * Its id.
 */
id: Id, } | { "kind": "feature",
/**
 * The rail.
 */
rail: Id,
/**
 * Its id.
 */
id: Id, } | { "kind": "mains_point",
/**
 * Its id.
 */
id: Id, } | { "kind": "driver_place",
/**
 * Its id.
 */
id: Id, } | { "kind": "route",
/**
 * Its id.
 */
id: Id, } | { "kind": "photo",
/**
 * Its id.
 */
id: Id, } | { "kind": "rail_brief",
/**
 * The rail.
 */
rail: Id, } | { "kind": "zone",
/**
 * Its id.
 */
id: Id, };

/**
 * A field of a zone.
 */
export type ZoneChange = { "kind": "label",
/**
 * The new value.
 */
value: string, } | { "kind": "control",
/**
 * The new value.
 */
value: ZoneControl, } | { "kind": "stairs",
/**
 * The new value.
 */
value: Answer, };
