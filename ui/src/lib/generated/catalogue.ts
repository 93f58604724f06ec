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
 * A catalogue file: parts with their data, prices and labour times. Lengths are numbers in millimetres or texts with a
 * unit; prices are in the one currency of the catalogue.
 */
export type Catalogue = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * What people call it.
 */
label: string,
/**
 * Whether it is made up, for teaching or trying out.
 */
invented: boolean,
/**
 * Currency of its prices.
 */
currency: Currency,
/**
 * Day of its prices.
 */
priced_on: Day,
/**
 * Luminaires.
 */
luminaires: Array<Luminaire>,
/**
 * Drivers.
 */
drivers: Array<Driver>,
/**
 * Leads and cable.
 */
leads: Array<Lead>,
/**
 * Sensors, relays, dimmers, decoders, wall stations.
 */
controls: Array<Control>,
/**
 * Taps, seals, rivets, end caps, glands, enclosures.
 */
fixings: Array<Fixing>,
/**
 * Labour.
 */
labour: Labour, };

/**
 * Coating of the strands.
 */
export type Coating = "plain" | "coated";

/**
 * Kind of light of a luminaire.
 */
export type ColourKind = { "kind": "white",
/**
 * Colour temperature.
 */
kelvin: number,
/**
 * Colour rendering index.
 */
cri: number, } | { "kind": "colour",
/**
 * The colour, in words.
 */
colour: string, } | { "kind": "variable",
/**
 * Channels.
 */
channels: number, };

/**
 * IEC 60228 class of a conductor.
 */
export type ConductorClass = "solid" | "stranded" | "flexible";

/**
 * A connector.
 */
export type Connector = {
/**
 * Poles.
 */
poles: number,
/**
 * Greatest current of one pole.
 */
limit_a: A,
/**
 * Resistance of one pole, milliohms.
 */
milliohms: number, };

/**
 * A control device.
 */
export type Control = {
/**
 * What it is.
 */
device: ControlKind,
/**
 * Nominal supply voltage of the load side.
 */
nominal_v: V,
/**
 * Greatest current of one contact or channel.
 */
contact_a: A,
/**
 * Greatest peak of inrush that one contact stands.
 */
contact_inrush_a: A | null,
/**
 * Voltage it drops at that current; 0 where absent.
 */
drop_v: VDrop,
/**
 * Voltage of the supply of its own, where it needs one.
 */
own_supply_v: V | null,
/**
 * What it leaves the light at when its control cable or the sensor on it is lost.
 */
when_lost: WhenLost | null,
/**
 * Greatest length of control cable.
 */
greatest_control_cable_mm: MmAbove | null,
/**
 * Ingress code.
 */
ingress: Ingress,
/**
 * Part reference, unique in the catalogue.
 */
part: Part,
/**
 * Description.
 */
description: string,
/**
 * Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
 */
price: Price,
/**
 * Pieces to a pack; 1 where absent.
 */
pack: number,
/**
 * Supplier's reference.
 */
supplier_ref: string, };

/**
 * Kinds of control devices.
 */
export type ControlKind = { "kind": "sensor",
/**
 * Length of walkway that it sees at the mounting height below.
 */
detects_mm: MmAbove,
/**
 * Mounting height for that length.
 */
at_height_mm: MmAbove, } | { "kind": "dusk_sensor", } | { "kind": "relay", } | { "kind": "dimmer", } | { "kind": "decoder",
/**
 * Poles of its inlet.
 */
inlet_poles: number,
/**
 * Poles of its outlet.
 */
outlet_poles: number,
/**
 * Number of control sockets.
 */
control_sockets: number,
/**
 * Poles of each control socket.
 */
control_poles: number, } | { "kind": "wall_station", };

/**
 * A currency by its ISO 4217 code.
 */
export type Currency = string;

/**
 * A day, `YYYY-MM-DD` (ISO 8601).
 */
export type Day = string;

/**
 * A temperature of air or insulation.
 */
export type DegC = number;

/**
 * Full power up to one temperature, then falling in a straight line to a share at another; none beyond.
 */
export type Derating = {
/**
 * Full power up to here.
 */
full_to_c: DegC,
/**
 * The end of the line.
 */
to_c: DegC,
/**
 * Share of rated power left there.
 */
to_percent: number, };

/**
 * A driver with a constant-voltage output.
 */
export type Driver = {
/**
 * Nominal output voltage.
 */
output_v: V,
/**
 * Tolerance of the output voltage, either way.
 */
tolerance_percent: Percent,
/**
 * Rated output power.
 */
rated_w: W,
/**
 * Number of outputs.
 */
outputs: number,
/**
 * Greatest current of one output.
 */
output_limit_a: A,
/**
 * Derating with the air temperature around it.
 */
derating: Derating,
/**
 * Least load as a share of rated power; 0 where absent.
 */
least_load_percent: number,
/**
 * Input current at full load.
 */
input_a: A,
/**
 * Power factor.
 */
power_factor_percent: number,
/**
 * Efficiency.
 */
efficiency_percent: number,
/**
 * Peak inrush current.
 */
inrush_a: AOrNone,
/**
 * Width of the inrush at half height, microseconds.
 */
inrush_us: number,
/**
 * What it does when overloaded.
 */
overload: Overload,
/**
 * What it does at a short circuit.
 */
short_circuit: ShortCircuit,
/**
 * Whether its output is separated extra-low voltage (SELV).
 */
selv: boolean,
/**
 * Ingress code.
 */
ingress: Ingress,
/**
 * Width.
 */
width_mm: MmAbove,
/**
 * Height.
 */
height_mm: MmAbove,
/**
 * Depth.
 */
depth_mm: MmAbove,
/**
 * Part reference, unique in the catalogue.
 */
part: Part,
/**
 * Description.
 */
description: string,
/**
 * Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
 */
price: Price,
/**
 * Pieces to a pack; 1 where absent.
 */
pack: number,
/**
 * Supplier's reference.
 */
supplier_ref: string, };

/**
 * A small part by its purpose.
 */
export type Fixing = {
/**
 * What it is for.
 */
purpose: FixingKind,
/**
 * Part reference, unique in the catalogue.
 */
part: Part,
/**
 * Description.
 */
description: string,
/**
 * Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
 */
price: Price,
/**
 * Pieces to a pack; 1 where absent.
 */
pack: number,
/**
 * Supplier's reference.
 */
supplier_ref: string, };

/**
 * Purposes of small parts.
 */
export type FixingKind = { "kind": "tap",
/**
 * Its resistance, milliohms.
 */
milliohms: number,
/**
 * Room it takes up across the bore.
 */
section_mm2: TenthsMm2,
/**
 * Greatest current.
 */
greatest_a: TenthsAmp, } | { "kind": "end_seal", } | { "kind": "end_cap",
/**
 * Poles.
 */
poles: number, } | { "kind": "rivet",
/**
 * Diameter.
 */
diameter_mm: MmAbove, } | { "kind": "clip", } | { "kind": "containment",
/**
 * Length of one strip.
 */
length_mm: MmAbove, } | { "kind": "slotting",
/**
 * Width of the slot.
 */
slot_mm: MmAbove, } | { "kind": "slotted_tube",
/**
 * Outside diameter.
 */
outside_diameter_mm: MmAbove,
/**
 * Width of the slot.
 */
slot_mm: MmAbove, } | { "kind": "gland",
/**
 * Greatest outside diameter of the cable.
 */
greatest_cable_mm: MmAbove, } | { "kind": "enclosure", } | { "kind": "control_plug",
/**
 * Poles.
 */
poles: number, } | { "kind": "other", };

/**
 * A cross-section with two decimals.
 */
export type HundredthsMm2 = number;

/**
 * An ingress code after IEC 60529, such as `IP66` or, where two tests are declared, `IP66/IP68`.
 */
export type Ingress = string;

/**
 * Labour times in minutes and the rate for an hour.
 */
export type Labour = {
/**
 * Price of an hour.
 */
hour_price: Price,
/**
 * Mark, drill and deburr one hole.
 */
hole_minutes: number,
/**
 * Tap, prove and press in one point luminaire.
 */
point_minutes: number,
/**
 * Fix one linear module.
 */
module_minutes: number,
/**
 * Mount and connect one driver.
 */
driver_minutes: number,
/**
 * Lay ten metres of lead along a route.
 */
lead_minutes_per_10_m: number,
/**
 * Thread ten metres of run through a tube.
 */
thread_minutes_per_10_m: number,
/**
 * Make off one end of a lead.
 */
connection_minutes: number, };

/**
 * A lead.
 */
export type Lead = {
/**
 * What it may be used for.
 */
uses: Array<LeadUse>,
/**
 * How it is sold.
 */
supply: Supply,
/**
 * Construction: sheathed cable, or single unsheathed cores.
 */
construction: LeadKind,
/**
 * Cores.
 */
cores: number,
/**
 * Area of each core.
 */
area_mm2: Mm2,
/**
 * Conductor class (IEC 60228).
 */
class: ConductorClass,
/**
 * Whether the strands are coated; plain where absent.
 */
coating: Coating,
/**
 * Outside diameter (of one core where unsheathed).
 */
outside_diameter_mm: MmAbove,
/**
 * Insulation's highest temperature.
 */
greatest_temperature_c: DegC,
/**
 * Current that it carries in a tube or duct.
 */
carries_a: A,
/**
 * Connector at its ends, if it has one.
 */
connector: Connector | null,
/**
 * Whether it stands weather and sun.
 */
outdoor: boolean,
/**
 * Part reference, unique in the catalogue.
 */
part: Part,
/**
 * Description.
 */
description: string,
/**
 * Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
 */
price: Price,
/**
 * Pieces to a pack; 1 where absent.
 */
pack: number,
/**
 * Supplier's reference.
 */
supplier_ref: string, };

/**
 * Construction.
 */
export type LeadKind = "sheathed" | "single_cores";

/**
 * What a lead may be used for.
 */
export type LeadUse = "mains" | "extension" | "luminaire" | "run" | "link" | "control";

/**
 * What a linear module brings.
 */
export type LinearModule = {
/**
 * Its length.
 */
length_mm: MmAbove,
/**
 * Length to allow at each joint between modules.
 */
joint_allowance_mm: Mm,
/**
 * Slot width it needs.
 */
slot_mm: MmAbove,
/**
 * Depth inside the tube.
 */
depth_mm: MmAbove,
/**
 * Resistance of one of its through-conductors.
 */
through_ohm: OhmOrNone,
/**
 * The maker's longest chain, as summed module length.
 */
longest_chain_mm: MmAbove,
/**
 * Greatest distance between clips.
 */
clip_spacing_mm: MmAbove,
/**
 * Connector at its ends.
 */
connector: Connector, };

/**
 * How a luminaire draws current.
 */
export type LoadModel = { "kind": "current",
/**
 * The current.
 */
amps: A, } | { "kind": "power",
/**
 * The power.
 */
watts: W, } | { "kind": "resistance",
/**
 * The resistance.
 */
ohms: Ohm, };

/**
 * Luminous flux with one decimal.
 */
export type Lumen = number;

/**
 * A luminaire.
 */
export type Luminaire = {
/**
 * Point or module.
 */
shape: LuminaireKind,
/**
 * Nominal voltage.
 */
nominal_v: V,
/**
 * Least voltage at its terminals.
 */
least_v: V,
/**
 * Greatest voltage at its terminals.
 */
greatest_v: V,
/**
 * How it draws current; for colour, one channel at full output.
 */
load: LoadModel,
/**
 * Kind of light.
 */
light: ColourKind,
/**
 * Luminous flux at nominal voltage.
 */
flux_lm: Lumen,
/**
 * Ingress code.
 */
ingress: Ingress,
/**
 * Impact code, IK 0 to 11 (EN 50102 and IEC 62262 go to 10, the later edition to 11; from memory).
 */
impact_ik: number | null,
/**
 * Highest air temperature.
 */
greatest_ambient_c: DegC,
/**
 * Cores of its connection: 2, or 1 + channels.
 */
cores: number,
/**
 * Part reference, unique in the catalogue.
 */
part: Part,
/**
 * Description.
 */
description: string,
/**
 * Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
 */
price: Price,
/**
 * Pieces to a pack; 1 where absent.
 */
pack: number,
/**
 * Supplier's reference.
 */
supplier_ref: string, };

/**
 * Point or module: `kind` beside the fields of the one or the other.
 */
export type LuminaireKind = { "kind": "point" } & PointLuminaire | { "kind": "linear" } & LinearModule;

/**
 * One made-up length with its price.
 */
export type MadeUp = {
/**
 * The length.
 */
length_mm: MmAbove,
/**
 * The price of one.
 */
price: Price, };

/**
 * A length of 0 or more: a number in millimetres, or a text with its unit.
 */
export type Mm = number;

/**
 * Area of a conductor.
 */
export type Mm2 = number;

/**
 * A length above 0.
 */
export type MmAbove = number;

/**
 * Ohms above 0.
 */
export type Ohm = number;

/**
 * Ohms, 0 or more.
 */
export type OhmOrNone = number;

/**
 * Behaviour when overloaded.
 */
export type Overload = "limits_current" | "hiccup" | "shuts_down";

/**
 * A part reference of the catalogue: 1 to 64 characters without control characters.
 */
export type Part = string;

/**
 * A share in per cent with one decimal.
 */
export type Percent = number;

/**
 * What a point luminaire asks of the tube.
 */
export type PointLuminaire = {
/**
 * Diameter of the hole.
 */
hole_mm: MmAbove,
/**
 * Tolerance of the hole, plus or minus.
 */
hole_tolerance_mm: Mm,
/**
 * Thinnest wall that the retainer grips.
 */
wall_least_mm: Mm,
/**
 * Thickest wall that the retainer grips.
 */
wall_greatest_mm: MmAbove,
/**
 * Depth inside the tube.
 */
depth_mm: MmAbove,
/**
 * Least outside diameter of the tube.
 */
tube_least_mm: MmAbove,
/**
 * How it is held.
 */
retention: Retention,
/**
 * Length of its own tail.
 */
tail_mm: Mm,
/**
 * Area of one core of its tail.
 */
tail_mm2: HundredthsMm2, };

/**
 * An amount of money with at most four decimals: a number, or a text of digits.
 */
export type Price = number;

/**
 * How a point luminaire is held.
 */
export type Retention = { "kind": "pressed", } | { "kind": "rivets",
/**
 * Number of rivets.
 */
count: number,
/**
 * Diameter of the rivets.
 */
diameter_mm: MmAbove, };

/**
 * Behaviour at a short circuit.
 */
export type ShortCircuit = { "kind": "limited",
/**
 * The value.
 */
amps: A, } | { "kind": "fused",
/**
 * Rating of the fuse.
 */
rating_a: A,
/**
 * Multiple of the rating at which it clears in time.
 */
clears_at: number, };

/**
 * How a lead is sold.
 */
export type Supply = { "kind": "made_up",
/**
 * The lengths.
 */
lengths: Array<MadeUp>, } | { "kind": "reel",
/**
 * Length of a reel.
 */
length_mm: MmAbove, };

/**
 * A current with one decimal.
 */
export type TenthsAmp = number;

/**
 * A cross-section with one decimal.
 */
export type TenthsMm2 = number;

/**
 * Volts above 0.
 */
export type V = number;

/**
 * Volts, 0 or more.
 */
export type VDrop = number;

/**
 * Watts above 0.
 */
export type W = number;

/**
 * What a device leaves the light at when nothing tells it what to do.
 */
export type WhenLost = "lit" | "dark" | "settable";
