// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.

/**
 * Amperes above 0.
 */
export type A = number;

/**
 * Amperes, 0 or more.
 */
export type AOrNone = number;

/**
 * Which way the holes look.
 */
export type Aim = {
/**
 * Angle around the tube from straight down, towards the walked side; 0 looks down, 90 sideways.
 */
angle_deg: Deg, };

/**
 * An answer that may not have been found yet.
 */
export type Answer = "yes" | "no" | "unknown";

/**
 * What the metal may be joined to. A bond is never removed.
 */
export type Bonding = {
/**
 * Bonded to earth; unknown where absent.
 */
bonded: Answer,
/**
 * Part of a lightning protection system; unknown where absent.
 */
lightning: Answer,
/**
 * Near electric traction; unknown where absent.
 */
near_traction: Answer, };

/**
 * The brief for a site.
 */
export type Brief = {
/**
 * Wishes per rail; a rail without one is not lit.
 */
rails: Array<RailBrief>,
/**
 * Zones that switch together.
 */
zones: Array<Zone>,
/**
 * Share of a driver's rated power to keep free; 20 where absent (common practice, no source).
 */
reserve_percent: number,
/**
 * Greatest voltage drop between driver and luminaire as a share of the nominal voltage; 5 where absent.
 */
drop_percent: Percent,
/**
 * Extra conductor left at each hole so that a luminaire can be tapped outside the tube; 100 mm where absent
 * (common practice, no source).
 */
loop_per_hole_mm: Mm,
/**
 * Spare luminaires to order, rounded up; 2 where absent (common practice, no source).
 */
spare_percent: number, };

/**
 * Consent to drill.
 */
export type Consent = { "kind": "in_writing",
/**
 * Its reference.
 */
reference: string, } | { "kind": "spoken", } | { "kind": "not_asked", } | { "kind": "refused", };

/**
 * Ways to control a zone.
 */
export type Control = "always_on" | "dusk" | "presence_after_dusk" | "wall_station" | "dimmed";

/**
 * Where chainage starts and how the place is marked on the tube.
 */
export type Datum = {
/**
 * Which end, in words ("foot of the stair").
 */
end: string,
/**
 * How it is marked.
 */
mark: string, };

/**
 * A day, `YYYY-MM-DD` (ISO 8601).
 */
export type Day = string;

/**
 * An angle or bearing.
 */
export type Deg = number;

/**
 * A temperature of air or insulation.
 */
export type DegC = number;

/**
 * A protective device.
 */
export type Device = {
/**
 * Its type.
 */
kind: DeviceKind,
/**
 * Its rating.
 */
rating_a: A, };

/**
 * Type of a protective device (IEC 60898-1 curves, or a fuse).
 */
export type DeviceKind = "fuse" | "curve_b" | "curve_c" | "curve_d";

/**
 * A driver that a person put somewhere.
 */
export type DriverLock = {
/**
 * The driver place, by its id.
 */
place: Id,
/**
 * The part, if fixed too.
 */
part: Part | null, };

/**
 * Where a driver can stand.
 */
export type DriverPlace = {
/**
 * Its id, unique among driver places.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * Clear width.
 */
width_mm: MmAbove,
/**
 * Clear height.
 */
height_mm: MmAbove,
/**
 * Clear depth.
 */
depth_mm: MmAbove,
/**
 * What it can be fixed to, in words.
 */
fixing: string,
/**
 * Sun on it.
 */
sun: Sun,
/**
 * Highest air temperature around the driver.
 */
ambient_c: DegC,
/**
 * Height above the highest water expected, where there is water.
 */
above_flood_mm: MmSigned | null,
/**
 * Its own exposure where it differs from the site's.
 */
exposure: Exposure | null,
/**
 * Whether it can be reached without dismantling; unknown where absent.
 */
reachable: Answer,
/**
 * Whether it can be locked; unknown where absent.
 */
lockable: Answer,
/**
 * Where it is.
 */
position: SitePoint | null,
/**
 * Notes.
 */
note: string, };

/**
 * How a rail ends.
 */
export type EndState = "open" | "removable_cap" | "welded_cap" | "returns_to_wall" | "continues";

/**
 * Exposure of a place.
 */
export type Exposure = {
/**
 * Setting.
 */
setting: Setting,
/**
 * Salt; none near where absent.
 */
salt: Salt,
/**
 * How it is cleaned, in words.
 */
cleaning: string,
/**
 * Who can reach it.
 */
public_reach: PublicReach,
/**
 * Lowest air temperature.
 */
least_temperature_c: DegC,
/**
 * Highest air temperature.
 */
greatest_temperature_c: DegC,
/**
 * Whether the sun shines on the rail.
 */
in_sun: boolean,
/**
 * A place with rules of its own.
 */
special: SpecialLocation | null, };

/**
 * Something at one chainage of a rail: what every feature has, and beside it the fields of its `kind`.
 */
export type Feature = {
/**
 * Its id, unique among the rail's pieces and features.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * Chainage of its middle, along the centreline from the datum.
 */
chainage_mm: Measurement,
/**
 * Clear length to keep to each side of its edges; the kind's usual length where absent (40 mm from a post, joint
 * or damage, 60 mm from a movement joint, none at a low point, 20 mm otherwise).
 */
keep_clear_mm: Mm | null,
/**
 * Whether a cable passes along the bore here; unknown where absent.
 */
bore: Passage,
/**
 * Notes.
 */
note: string, } & ({ "kind": "post",
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
post: Id | null, });

/**
 * A wish for feed positions.
 */
export type FeedWish = "cheapest" | "ends" | "middle";

/**
 * What an existing hole is for.
 */
export type HoleUse = "luminaire" | "other";

/**
 * The id of one thing: 1 to 64 characters without control characters.
 */
export type Id = string;

/**
 * Inside or outside.
 */
export type InsideOrOut = "inside" | "outside";

/**
 * What a value was measured with.
 */
export type Instrument = { "kind": "tape",
/**
 * Its accuracy class; II where absent.
 */
class: TapeClass, } | { "kind": "laser", } | { "kind": "calliper", } | { "kind": "thickness_gauge", } | { "kind": "wheel", } | { "kind": "drawing", } | { "kind": "estimate", } | { "kind": "other",
/**
 * The words.
 */
words: string, };

/**
 * How a joint is made.
 */
export type JointKind = "welded" | "sleeved" | "bolted" | "flush";

/**
 * Kind of lighting for a rail.
 */
export type LampKind = "points" | "modules" | "modules_else_points";

/**
 * Degrees north.
 */
export type Latitude = number;

/**
 * Kind of light.
 */
export type Light = { "kind": "fixed_white",
/**
 * Colour temperature.
 */
kelvin: number,
/**
 * Least colour rendering index, if wished.
 */
cri: number | null, } | { "kind": "fixed_colour",
/**
 * The colour, in words.
 */
colour: string, } | { "kind": "variable_colour", };

/**
 * What a person has fixed.
 */
export type Locks = {
/**
 * Chainages of holes to keep.
 */
holes_mm: Array<Mm>,
/**
 * Drivers to keep.
 */
drivers: Array<DriverLock>, };

/**
 * Degrees east.
 */
export type Longitude = number;

/**
 * Illuminance with one decimal.
 */
export type Lux = number;

/**
 * Kinds of mains points.
 */
export type MainsKind = "fused_connection_unit" | "socket_outlet" | "isolator" | "board_way";

/**
 * Where mains can be had. Work on it belongs to a licensed person.
 */
export type MainsPoint = {
/**
 * Its id, unique among mains points.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * What it is.
 */
kind: MainsKind,
/**
 * Device that protects it.
 */
device: Device | null,
/**
 * Whether a residual current device protects it; unknown where absent.
 */
rcd: Answer,
/**
 * Load already on it, where known.
 */
existing_load_a: AOrNone | null,
/**
 * Inside or outside.
 */
place: InsideOrOut,
/**
 * Its own exposure where it differs from the site's.
 */
exposure: Exposure | null,
/**
 * Where it is.
 */
position: SitePoint | null,
/**
 * A photograph of it, by its id.
 */
photo: Id | null,
/**
 * Notes.
 */
note: string, };

/**
 * Mark-up.
 */
export type Mark = { "kind": "arrow",
/**
 * Tail.
 */
from: Spot,
/**
 * Head.
 */
to: Spot, } | { "kind": "dimension",
/**
 * One end.
 */
from: Spot,
/**
 * Other end.
 */
to: Spot,
/**
 * What it measures.
 */
length_mm: Mm, } | { "kind": "frame",
/**
 * A corner.
 */
from: Spot,
/**
 * The opposite corner.
 */
to: Spot, } | { "kind": "words",
/**
 * Where they stand.
 */
at: Spot,
/**
 * The words.
 */
text: string, };

/**
 * What the tube is made of.
 */
export type Material = { "kind": "stainless_steel", } | { "kind": "carbon_steel", } | { "kind": "galvanised_steel", } | { "kind": "aluminium", } | { "kind": "brass", } | { "kind": "other",
/**
 * The words.
 */
words: string, };

/**
 * A measured length: a bare length (taken with a class II tape), or its value with the instrument.
 */
export type Measurement = {
/**
 * The value.
 */
value_mm: Mm,
/**
 * What it was measured with; a class II tape where absent.
 */
instrument: Instrument,
/**
 * Tolerance stated by the surveyor; the instrument's own where absent.
 */
tolerance_mm: Mm | null, };

/**
 * A length of 0 or more: a number in millimetres, or a text with its unit.
 */
export type Mm = number;

/**
 * A length above 0.
 */
export type MmAbove = number;

/**
 * A coordinate, which may be negative.
 */
export type MmSigned = number;

/**
 * A moment as a camera writes it, `YYYY-MM-DDThh:mm:ss` with an offset where one is known (ISO 8601).
 */
export type Moment = string;

/**
 * A WGS 84 position with its stated accuracy, and how the site frame lies there.
 */
export type Origin = {
/**
 * Latitude, degrees north.
 */
latitude_deg: Latitude,
/**
 * Longitude, degrees east.
 */
longitude_deg: Longitude,
/**
 * Radius within which the position is believed.
 */
accuracy_mm: Mm | null,
/**
 * Bearing of the frame's y axis, degrees clockwise from true north; 0 where absent.
 */
bearing_deg: Deg,
/**
 * Height of the frame's zero above the level that the surveyor used.
 */
level_mm: MmSigned | null, };

/**
 * Whose rail it is and whether they agree.
 */
export type Ownership = {
/**
 * The owner, in words.
 */
owner: string,
/**
 * Whether it is a parapet of a bridge or highway.
 */
bridge_or_highway: boolean,
/**
 * The owner's consent to drilling.
 */
consent: Consent, };

/**
 * A part reference of the catalogue: 1 to 64 characters without control characters.
 */
export type Part = string;

/**
 * Whether a cable passes.
 */
export type Passage = { "kind": "unknown", } | { "kind": "assumed", } | { "kind": "proved",
/**
 * How.
 */
how: Proof,
/**
 * The widest thing that passed.
 */
widest_mm: MmAbove, } | { "kind": "blocked",
/**
 * How it is known.
 */
how: Proof, };

/**
 * A share in per cent with one decimal.
 */
export type Percent = number;

/**
 * One photograph.
 */
export type Photo = {
/**
 * Its id, unique among photographs.
 */
id: Id,
/**
 * File name as taken, relative to the survey file.
 */
file: string,
/**
 * SHA-256 of the file's bytes; absent while the survey merely names it.
 */
content_sha256: Sha256 | null,
/**
 * What it shows.
 */
shows: Shows,
/**
 * When it was taken, as written by the camera.
 */
taken: Moment | null,
/**
 * Where it was taken.
 */
position: PhotoPosition | null,
/**
 * Which way the camera pointed, degrees clockwise from true north.
 */
heading_deg: Deg | null,
/**
 * The camera.
 */
camera: string | null,
/**
 * Notes.
 */
note: string,
/**
 * Mark-up over the untouched original.
 */
marks: Array<Mark>, };

/**
 * Where a photograph was taken.
 */
export type PhotoPosition = {
/**
 * Latitude, degrees north.
 */
latitude_deg: Latitude,
/**
 * Longitude, degrees east.
 */
longitude_deg: Longitude,
/**
 * Altitude.
 */
altitude_mm: MmSigned | null,
/**
 * Stated accuracy.
 */
accuracy_mm: Mm | null, };

/**
 * One piece of tube.
 */
export type Piece = { "kind": "straight",
/**
 * Its id, unique among the rail's pieces and features.
 */
id: Id,
/**
 * Length along the tube.
 */
length_mm: Measurement,
/**
 * Slope, degrees up from the datum end; 0 where absent.
 */
slope_deg: Deg,
/**
 * How its own start is marked, from which its holes are also dimensioned.
 */
mark: string | null, } | { "kind": "bend",
/**
 * Its id, unique among the rail's pieces and features.
 */
id: Id,
/**
 * How far it turns.
 */
angle_deg: Deg,
/**
 * Which way it turns, seen from the datum.
 */
plane: Plane,
/**
 * Radius of the tube's centreline.
 */
centreline_radius_mm: MmAbove,
/**
 * What was taped around it, if anything.
 */
taped: Taped | null,
/**
 * Whether a cable passes along the bore; unknown where absent.
 */
bore: Passage,
/**
 * Length to keep clear on each straight beside it.
 */
keep_clear_mm: Mm | null, };

/**
 * Which way a bend turns, seen from the datum.
 */
export type Plane = "left" | "right" | "up" | "down";

/**
 * How a post or bracket meets the rail.
 */
export type PostKind = { "kind": "welded_below", } | { "kind": "saddle", } | { "kind": "side_bracket", } | { "kind": "through", } | { "kind": "other",
/**
 * The words.
 */
words: string, };

/**
 * The tube's shape.
 */
export type Profile = { "kind": "round", } | { "kind": "round_slotted",
/**
 * Width of the slot.
 */
slot_width_mm: MmAbove, } | { "kind": "flat",
/**
 * The smaller outside dimension.
 */
thickness_mm: MmAbove, } | { "kind": "other",
/**
 * The words.
 */
words: string, };

/**
 * How passage was proved.
 */
export type Proof = "draw_wire" | "camera" | "seen";

/**
 * Who can reach it.
 */
export type PublicReach = "staff" | "public_watched" | "public_always";

/**
 * One rail along one line of tube.
 */
export type Rail = {
/**
 * Its id, unique among rails.
 */
id: Id,
/**
 * What people call it, unique among rails since luminaires are named after it.
 */
label: string,
/**
 * Where chainage starts.
 */
datum: Datum,
/**
 * Pieces from the datum on.
 */
pieces: Array<Piece>,
/**
 * The whole length measured once more as a check.
 */
overall_mm: Measurement | null,
/**
 * The tube.
 */
tube: Tube,
/**
 * Height of the top above the walking surface.
 */
height_mm: Measurement | null,
/**
 * Clear walking width beside it.
 */
walking_width_mm: Measurement | null,
/**
 * Which side people walk, seen from the datum.
 */
walked_side: WalkedSide,
/**
 * The end at the datum.
 */
start_end: EndState,
/**
 * The far end.
 */
far_end: EndState,
/**
 * Features along the rail, in any order.
 */
features: Array<Feature>,
/**
 * Where it lies in the site frame.
 */
sketch: Sketch | null,
/**
 * Whose rail it is.
 */
ownership: Ownership | null,
/**
 * What it is bonded to; everything unknown where absent.
 */
bonding: Bonding,
/**
 * Whether it is or belongs to a guard that carries people's weight; unknown where absent.
 */
guard: Answer,
/**
 * Whether the tube is sealed against water; unknown where absent.
 */
sealed: Answer,
/**
 * Whether water drains from its low points; unknown where absent.
 */
drains: Answer,
/**
 * Its own exposure where it differs from the site's.
 */
exposure: Exposure | null,
/**
 * Notes.
 */
note: string, };

/**
 * Wishes for one rail.
 */
export type RailBrief = {
/**
 * The rail, by its id.
 */
rail: Id,
/**
 * Points, modules, or both.
 */
lamps: LampKind,
/**
 * Kind of light.
 */
light: Light,
/**
 * Part to use; the cheapest that fits where absent.
 */
part: Part | null,
/**
 * What to aim for.
 */
target: Target,
/**
 * Least distance from the end of a straight to the first hole's centre; 75 mm where absent.
 */
end_margin_least_mm: Mm,
/**
 * Greatest distance from the end of a straight to the first hole's centre; 300 mm where absent.
 */
end_margin_greatest_mm: Mm,
/**
 * Whether posts stand clear of the holes, so that a bay is the whole straight.
 */
posts_clear_of_holes: boolean,
/**
 * Which way the holes look; straight down where absent.
 */
aim: Aim,
/**
 * A rail opposite whose pattern this one should match.
 */
match_rail: Id | null,
/**
 * Concerns about glare, neighbours, wildlife or water below, in words.
 */
concerns: string,
/**
 * The zone it switches with.
 */
zone: Id | null,
/**
 * Where feeds are wished; wherever is cheapest where absent.
 */
feed: FeedWish,
/**
 * What a person has fixed.
 */
locks: Locks, };

/**
 * A measured way for a cable.
 */
export type Route = {
/**
 * Its id, unique among routes.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * One end.
 */
from: RouteEnd,
/**
 * The other end; a cable may go either way.
 */
to: RouteEnd,
/**
 * Length along it.
 */
length_mm: Measurement,
/**
 * What it runs in or on.
 */
kind: RouteKind,
/**
 * Clear width for cables, where it is bounded.
 */
clear_mm: MmAbove | null,
/**
 * Whether a cable passes; unknown where absent.
 */
passage: Passage,
/**
 * Corners and ends in the site frame.
 */
corners: Array<SitePoint>,
/**
 * Obstacles, in words.
 */
obstacles: Array<string>,
/**
 * Notes.
 */
note: string, };

/**
 * An end of a route.
 */
export type RouteEnd = { "kind": "mains_point",
/**
 * Its id.
 */
id: Id, } | { "kind": "driver_place",
/**
 * Its id.
 */
id: Id, } | { "kind": "way_in",
/**
 * The rail.
 */
rail: Id,
/**
 * The feature that is the way in.
 */
feature: Id, };

/**
 * What a route runs in or on.
 */
export type RouteKind = "surface" | "duct" | "inside_post" | "under_deck";

/**
 * Distances from salt.
 */
export type Salt = {
/**
 * Distance from salt water, if any is near.
 */
salt_water_mm: Mm | null,
/**
 * Distance from where de-icing salt is spread, if it is.
 */
deicing_mm: Mm | null, };

/**
 * Setting of a place.
 */
export type Setting = "indoor_dry" | "indoor_damp" | "outdoor_sheltered" | "outdoor_open" | "outdoor_hosed" | "may_submerge";

/**
 * The SHA-256 of some bytes, 64 hexadecimal digits in lower case (FIPS 180-4).
 */
export type Sha256 = string;

/**
 * What a photograph shows.
 */
export type Shows = { "kind": "rail",
/**
 * The rail.
 */
rail: Id,
/**
 * The chainage, where known.
 */
chainage_mm: Mm | null, } | { "kind": "mains_point",
/**
 * Its id.
 */
id: Id, } | { "kind": "route",
/**
 * Its id.
 */
id: Id, } | { "kind": "defect",
/**
 * The words.
 */
words: string, } | { "kind": "general", };

/**
 * The site, its frame and what holds for all of it.
 */
export type Site = {
/**
 * Its id.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * Where it is, in words.
 */
address: string,
/**
 * Whether the whole site is made up, for teaching or trying out; every paper then says so.
 */
invented: boolean,
/**
 * The day of the survey.
 */
surveyed_on: Day | null,
/**
 * Who surveyed.
 */
surveyor: string | null,
/**
 * The origin of the site frame, if a position was taken.
 */
origin: Origin | null,
/**
 * Exposure of everything that states none of its own.
 */
exposure: Exposure,
/**
 * Notes.
 */
note: string, };

/**
 * A point in the site frame.
 */
export type SitePoint = {
/**
 * Along the frame's x axis.
 */
x_mm: MmSigned,
/**
 * Along the frame's y axis.
 */
y_mm: MmSigned,
/**
 * Height above the frame's zero; 0 where absent.
 */
z_mm: MmSigned,
/**
 * Whether it was measured; sketched where absent.
 */
measured: boolean, };

/**
 * Where a rail lies in the site frame.
 */
export type Sketch = {
/**
 * The datum.
 */
start: SitePoint,
/**
 * Direction in which it sets off, degrees clockwise from the frame's y axis.
 */
bearing_deg: Deg, };

/**
 * A place with rules of its own: the plan stops and defers.
 */
export type SpecialLocation = "pool" | "basin" | "bathroom";

/**
 * A place in a picture: thousandths of its width and height from the upper left corner.
 */
export type Spot = {
/**
 * Thousandths of the width.
 */
x_permille: number,
/**
 * Thousandths of the height.
 */
y_permille: number, };

/**
 * Sun on a place.
 */
export type Sun = "shade" | "part" | "full";

/**
 * A survey file: one site with the brief for it. Lengths are numbers in millimetres or texts with a unit ("2.45 m",
 * "8' 3 1/2\"").
 */
export type Survey = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site itself.
 */
site: Site,
/**
 * Rails.
 */
rails: Array<Rail>,
/**
 * Where mains can be had.
 */
mains_points: Array<MainsPoint>,
/**
 * Where a driver can stand.
 */
driver_places: Array<DriverPlace>,
/**
 * Measured ways for cables.
 */
routes: Array<Route>,
/**
 * Photographs.
 */
photos: Array<Photo>,
/**
 * What the client wants; nothing is lit where it is absent.
 */
brief: Brief, };

/**
 * Accuracy class of a tape.
 */
export type TapeClass = "I" | "II" | "III";

/**
 * A length taped around a bend and the line it followed.
 */
export type Taped = {
/**
 * The line.
 */
line: TapedLine,
/**
 * The length along it.
 */
length_mm: Measurement, };

/**
 * The line along which a bend was taped.
 */
export type TapedLine = "centreline" | "top" | "outside";

/**
 * What a layout aims for.
 */
export type Target = { "kind": "spacing",
/**
 * The spacing.
 */
spacing_mm: MmAbove, } | { "kind": "illuminance",
/**
 * The illuminance.
 */
lux: Lux, } | { "kind": "lit_length", };

/**
 * The tube.
 */
export type Tube = {
/**
 * Its shape.
 */
profile: Profile,
/**
 * Outside diameter (the greater side of a flat).
 */
outside_diameter_mm: Measurement,
/**
 * Wall thickness where it could be measured.
 */
wall_mm: Measurement | null,
/**
 * What it is made of.
 */
material: Material,
/**
 * Grade as marked or tested ("1.4401").
 */
grade: string | null,
/**
 * Surface ("ground 320 grit", "powder coated").
 */
finish: string | null, };

/**
 * Volts above 0.
 */
export type V = number;

/**
 * Which side of the rail people walk, seen from the datum.
 */
export type WalkedSide = "left" | "right" | "both";

/**
 * A zone that switches together.
 */
export type Zone = {
/**
 * Its id, unique among zones.
 */
id: Id,
/**
 * What people call it.
 */
label: string,
/**
 * How it is controlled.
 */
control: ZoneControl,
/**
 * Whether it lights stairs, which stay lit when a sensor or its cable is lost; unknown where absent.
 */
stairs: Answer, };

/**
 * How a zone is controlled.
 */
export type ZoneControl = {
/**
 * The way.
 */
kind: Control,
/**
 * Hold time for presence.
 */
hold_seconds: number | null,
/**
 * Dusk threshold.
 */
dusk_lux: number | null,
/**
 * Control voltage, for a wall station with a supply of its own.
 */
supply_v: V | null,
/**
 * Height of presence sensors above the walking surface; that of the rail's top where absent.
 */
sensor_height_mm: MmAbove | null,
/**
 * The driver place, by its id, where the wall station is to hang.
 */
station: Id | null, };
