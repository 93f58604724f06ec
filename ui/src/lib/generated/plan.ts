// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.

/**
 * Another layout.
 */
export type Alternative = {
/**
 * Its figures.
 */
figures: Pattern,
/**
 * Hole centres.
 */
chainages_mm: Array<number>, };

/**
 * A conductor or connection.
 */
export type Branch = {
/**
 * Node towards the source.
 */
from: string,
/**
 * Node away from the source.
 */
to: string,
/**
 * What it is.
 */
kind: BranchKind,
/**
 * `plus`, `minus`, `common` or `channel`.
 */
conductor: string,
/**
 * Channel number from 1, for colour.
 */
channel: number | null,
/**
 * Its length; 0 for a connection.
 */
length_mm: number,
/**
 * Its area; 0 for a connection.
 */
area_mm2: number,
/**
 * Its resistance.
 */
ohms: number,
/**
 * Its current, from `from` to `to`; null where unsolved.
 */
amps: number | null, };

/**
 * Kinds of branches.
 */
export type BranchKind = "source" | "lead" | "run" | "module" | "tap" | "plug";

/**
 * A cable.
 */
export type Cable = {
/**
 * Its reference.
 */
ref: string,
/**
 * What it is.
 */
kind: CableKind,
/**
 * Part of the catalogue.
 */
part: string | null,
/**
 * The circuit it belongs to.
 */
circuit: string | null,
/**
 * From where, in words.
 */
from: string,
/**
 * To where, in words.
 */
to: string,
/**
 * Cores.
 */
cores: number,
/**
 * Area of each core.
 */
area_mm2: number,
/**
 * Length along its way.
 */
route_mm: number,
/**
 * Loops, tails and slack.
 */
allowance_mm: number,
/**
 * Length to cut.
 */
cut_mm: number,
/**
 * Made-up length, where it is bought so.
 */
made_up_mm: number | null,
/**
 * Current, worst case; null where unsolved or not computed.
 */
amps: number | null,
/**
 * Drop along it, both conductors.
 */
drop_volts: number | null,
/**
 * Volts between its conductors at its far end.
 */
end_volts: number | null,
/**
 * Connectors and seals, in words.
 */
connectors: string,
/**
 * Gland, in words.
 */
gland: string,
/**
 * Ids of the routes it follows.
 */
routes: Array<string>,
/**
 * The stretch of rail between the two modules that a link lead joins; null for every other cable.
 */
along: TubeSpan | null, };

/**
 * Kinds of cables.
 */
export type CableKind = "mains" | "extension" | "luminaire" | "run" | "link" | "control";

/**
 * One chain solved as a network in the worst case.
 */
export type Circuit = {
/**
 * Its reference.
 */
id: string,
/**
 * The driver.
 */
driver: string,
/**
 * The output.
 */
output: string,
/**
 * The rail.
 */
rail: string,
/**
 * The way in through which it enters the tube.
 */
way_in: string | null,
/**
 * Whether the network has a solution.
 */
solved: boolean,
/**
 * Why it has none.
 */
reason: string | null,
/**
 * The source.
 */
source: Source,
/**
 * Nodes.
 */
nodes: Array<Node>,
/**
 * Conductors and connections.
 */
branches: Array<Branch>,
/**
 * Loads.
 */
loads: Array<Load>,
/**
 * Nominal voltage.
 */
nominal_v: number,
/**
 * Least voltage over all loads.
 */
least_load_volts: number | null,
/**
 * The luminaire that has it.
 */
least_luminaire: string | null,
/**
 * Least voltage allowed by the rule for the drop.
 */
limit_by_drop_volts: number,
/**
 * Least voltage allowed by the luminaire.
 */
limit_by_luminaire_volts: number,
/**
 * The limit in force, the tighter of the two.
 */
limit_volts: number,
/**
 * Current from the source, worst case.
 */
amps: number,
/**
 * Current from the source at the high end of the tolerance.
 */
amps_high: number,
/**
 * Greatest load voltage at the high end of the tolerance.
 */
greatest_load_volts_high: number | null,
/**
 * Conductor temperature that resistances are taken at.
 */
conductor_temperature_c: number,
/**
 * A short at the far end.
 */
short: ShortCheck, };

/**
 * Kinds of control devices.
 */
export type ControlDevice = "sensor" | "dusk_sensor" | "relay" | "dimmer" | "decoder" | "wall_station";

/**
 * Devices that control cable joins one after the other.
 */
export type ControlLine = {
/**
 * References of the devices in the order of the line.
 */
devices: Array<string>,
/**
 * References of the cables between them, one fewer.
 */
cables: Array<string>,
/**
 * Control cable in it.
 */
length_mm: number,
/**
 * Least of the greatest lengths that its parts state.
 */
limit_mm: number | null, };

/**
 * A setting to record.
 */
export type ControlSetting = {
/**
 * Its name.
 */
name: string,
/**
 * Its value.
 */
value: string, };

/**
 * One cut.
 */
export type Cut = {
/**
 * The cable it is for.
 */
cable: string,
/**
 * Its length.
 */
length_mm: number, };

/**
 * A number, or words where there is no number.
 */
export type Figure = number | string;

/**
 * What one rule says about one thing.
 */
export type Finding = {
/**
 * Name of the rule.
 */
rule: string,
/**
 * What it is about.
 */
subject: Subject,
/**
 * `stop`, `not_evaluated`, `caution` or `pass`.
 */
verdict: Verdict,
/**
 * What was found; null where it is no single figure.
 */
measured: Figure | null,
/**
 * What it was held against.
 */
limit: Figure | null,
/**
 * Unit of both; empty where there is none.
 */
unit: string,
/**
 * Standard with clause, or "common practice, no source".
 */
source: string,
/**
 * What is the matter, in a sentence.
 */
message: string,
/**
 * What to do next; empty for a pass.
 */
advice: string, };

/**
 * A hole.
 */
export type Hole = {
/**
 * The rail.
 */
rail: string,
/**
 * Reference of the hole, the same as its luminaire's.
 */
hole: string,
/**
 * Running dimension from the datum.
 */
chainage_mm: number,
/**
 * The straight it is in.
 */
straight: string,
/**
 * Running dimension from the straight's own mark.
 */
from_mark_mm: number,
/**
 * Distance from the previous hole on this straight.
 */
spacing_mm: number | null,
/**
 * Diameter.
 */
diameter_mm: number,
/**
 * Offset around the tube from the underside's line, towards the walked side.
 */
girth_mm: number,
/**
 * Whether it is there already.
 */
existing: boolean, };

/**
 * Figures of a layout of linear modules.
 */
export type Lit = {
/**
 * Sum of the modules' lengths.
 */
lit_mm: number,
/**
 * Number of modules.
 */
pieces: number,
/**
 * Clear lengths of slotted tube that modules could stand in.
 */
rooms: number,
/**
 * Sum of those lengths.
 */
clear_mm: number,
/**
 * Clips that hold the modules.
 */
clips: number, };

/**
 * A load.
 */
export type Load = {
/**
 * The luminaire.
 */
luminaire: string,
/**
 * Channel number from 1, for colour.
 */
channel: number | null,
/**
 * Node at its more positive terminal.
 */
from: string,
/**
 * Node at its more negative terminal.
 */
to: string,
/**
 * How it draws current: `current` in A, `power` in W, `resistance` in ohm.
 */
model: LoadKind,
/**
 * Value of the model.
 */
value: number,
/**
 * Unit of the value.
 */
unit: string,
/**
 * Volts across it; null where unsolved.
 */
volts: number | null,
/**
 * Its current; null where unsolved.
 */
amps: number | null, };

/**
 * How a load draws current.
 */
export type LoadKind = "current" | "power" | "resistance";

/**
 * What locks change: the plan with them against the plan without, everything else being equal.
 */
export type LockEffect = {
/**
 * Cost of feeds with the lock less the cost without it, in the currency of the plan; null where no scheme keeps every
 * limit with it, or without it, or where it was not worked out. Never below 0 for a driver; a hole may save cost at the expense of the spacing.
 */
cost: number | null,
/**
 * Whether both costs are proved to be the least.
 */
exact: boolean,
/**
 * Whether it was worked out: very many locks are weighed together only, or not at all.
 */
weighed: boolean,
/**
 * Worst departure of a gap from the target in the plan; null where no hole is locked.
 */
departure_mm: number | null,
/**
 * The same without the lock.
 */
departure_without_mm: number | null,
/**
 * Luminaires in the plan; null where no hole is locked.
 */
luminaires: number | null,
/**
 * The same without the lock.
 */
luminaires_without: number | null, };

/**
 * What can be locked.
 */
export type LockKind = "hole" | "driver";

/**
 * A node.
 */
export type Node = {
/**
 * Its id within the circuit.
 */
id: string,
/**
 * Volts above the source's minus terminal; null where unsolved.
 */
volts: number | null,
/**
 * The rail, where it lies in one.
 */
rail: string | null,
/**
 * The chainage, where it lies in a rail.
 */
chainage_mm: number | null, };

/**
 * Cost of feeds, material and labour that was minimised.
 */
export type Objective = {
/**
 * Cost of the plan, in the currency of the plan.
 */
cost: number,
/**
 * Proven lower bound, in the currency of the plan.
 */
lower_bound: number,
/**
 * Cost less the bound; 0 where the plan is proved the cheapest.
 */
gap: number, };

/**
 * An output of a driver.
 */
export type Output = {
/**
 * Its reference.
 */
id: string,
/**
 * References of the circuits that it feeds.
 */
circuits: Array<string>,
/**
 * Current, worst case.
 */
amps: number,
/**
 * Greatest current of the output.
 */
limit_amps: number, };

/**
 * A line of the parts list.
 */
export type PartLine = {
/**
 * Part of the catalogue.
 */
part: string,
/**
 * Its description.
 */
description: string,
/**
 * Quantity that the layout uses, in `unit`.
 */
quantity: number,
/**
 * Spares on top, in `unit`.
 */
spare: number,
/**
 * `piece` or `m`.
 */
unit: string,
/**
 * Pieces to a pack.
 */
pack: number,
/**
 * Packs (or reels) to order for quantity and spares.
 */
packs: number, };

/**
 * Figures of a layout.
 */
export type Pattern = {
/**
 * `even_pattern` or `even_spacing`.
 */
kind: PatternKind,
/**
 * Number of luminaires.
 */
count: number,
/**
 * Least gap between neighbours.
 */
least_gap_mm: number | null,
/**
 * Greatest gap between neighbours.
 */
greatest_gap_mm: number | null,
/**
 * Mean gap between neighbours.
 */
mean_gap_mm: number | null,
/**
 * Greatest departure of a gap from the target.
 */
worst_departure_mm: number,
/**
 * Chainage of the gap's start where that is.
 */
worst_at_mm: number | null,
/**
 * Sum of squared departures.
 */
squares_mm2: number, };

/**
 * Kinds of pattern.
 */
export type PatternKind = "even_pattern" | "even_spacing";

/**
 * A whole plan with everything that was found about it.
 */
export type PlanDocument = {
/**
 * Version of this shape.
 */
schema_version: number,
/**
 * Hash of the canonical planning inputs and the engine version.
 */
plan_id: string,
/**
 * Version of the engine.
 */
engine_version: string,
/**
 * Whether site or catalogue are made up.
 */
invented: boolean,
/**
 * Currency of every cost (ISO 4217).
 */
currency: string,
/**
 * Rails that the brief names, in order of id.
 */
rails: Array<PlannedRail>,
/**
 * Drivers, in order of their first rail.
 */
drivers: Array<PlannedDriver>,
/**
 * Circuits, each one chain solved as a network in the worst case.
 */
circuits: Array<Circuit>,
/**
 * Zones whose rails are lit, with their control, in order of id.
 */
zones: Array<PlannedZone>,
/**
 * Control devices, by zone and along each control line.
 */
controls: Array<PlannedControl>,
/**
 * Cable schedule.
 */
cables: Array<Cable>,
/**
 * End caps of chains of modules, in the order of their circuits.
 */
end_caps: Array<PlannedEndCap>,
/**
 * Cut list over reels.
 */
reels: Array<Reel>,
/**
 * Drilling schedule, by rail and chainage.
 */
drilling: Array<Hole>,
/**
 * Parts.
 */
parts: Array<PartLine>,
/**
 * Tests with expected values.
 */
tests: Array<TestLine>,
/**
 * Findings of the survey, the planning and the rules, worst first.
 */
findings: Array<Finding>,
/**
 * What was minimised, over all rails.
 */
objective: Objective, };

/**
 * A control device.
 */
export type PlannedControl = {
/**
 * The zone.
 */
zone: string,
/**
 * Reference of the device.
 */
device: string,
/**
 * Part of the catalogue.
 */
part: string,
/**
 * What it is.
 */
kind: ControlDevice,
/**
 * Where it is fixed, in words.
 */
place: string,
/**
 * The rail that it stands at, for a sensor on a rail.
 */
rail: string | null,
/**
 * Its chainage there.
 */
chainage_mm: number | null,
/**
 * Its cable: towards the next device of its line, for the last one towards the one before.
 */
cable_ref: string | null,
/**
 * What it switches or dims: circuits between driver and chain, or drivers in their mains lead.
 */
serves: Array<string>,
/**
 * Greatest current of its contact or busiest channel.
 */
load_amps: number | null,
/**
 * Sum of the inrush peaks on its contact, where it switches drivers.
 */
inrush_amps: number | null,
/**
 * Stretches of tube that its cable lies in.
 */
in_tube: Array<TubeSpan>,
/**
 * What a presence sensor on a rail sees along it.
 */
sees: SensorReach | null,
/**
 * Settings to record.
 */
settings: Array<ControlSetting>, };

/**
 * A driver.
 */
export type PlannedDriver = {
/**
 * Its reference.
 */
id: string,
/**
 * Part of the catalogue.
 */
part: string,
/**
 * The surveyed place; null where the place is only proposed.
 */
place: string | null,
/**
 * Words for a proposed place.
 */
proposed: string | null,
/**
 * The mains point that feeds it.
 */
mains_point: string | null,
/**
 * Ids of the rails that it serves; its cost stands with the first.
 */
rails: Array<string>,
/**
 * Its outputs that are used, rail by rail.
 */
outputs: Array<Output>,
/**
 * Power drawn from it, worst case.
 */
load_w: number,
/**
 * Rated power.
 */
rated_w: number,
/**
 * Power that may be drawn, after derating and reserve.
 */
usable_w: number,
/**
 * Share left by derating, 0 to 1.
 */
derating: number,
/**
 * Reserve.
 */
reserve_percent: number, };

/**
 * The cap that closes the far end of a chain of modules.
 */
export type PlannedEndCap = {
/**
 * The circuit that ends there.
 */
circuit: string,
/**
 * Part of the catalogue; null where it lists none with so many poles.
 */
part: string | null,
/**
 * Poles.
 */
poles: number,
/**
 * The luminaire that it closes, the last of the chain.
 */
luminaire: string,
/**
 * The rail.
 */
rail: string,
/**
 * Chainage of that luminaire's far end.
 */
chainage_mm: number, };

/**
 * A lock of the brief with what it costs.
 */
export type PlannedLock = {
/**
 * What is kept where a person put it.
 */
kind: LockKind,
/**
 * Running dimension of a hole from the datum; null for a driver.
 */
chainage_mm: number | null,
/**
 * The driver place; null for a hole.
 */
place: string | null,
/**
 * The driver's part, where that is fixed too.
 */
part: string | null,
/**
 * Cost of feeds with the lock less the cost without it, in the currency of the plan; null where no scheme keeps every
 * limit with it, or without it, or where it was not worked out. Never below 0 for a driver; a hole may save cost at the expense of the spacing.
 */
cost: number | null,
/**
 * Whether both costs are proved to be the least.
 */
exact: boolean,
/**
 * Whether it was worked out: very many locks are weighed together only, or not at all.
 */
weighed: boolean,
/**
 * Worst departure of a gap from the target in the plan; null where no hole is locked.
 */
departure_mm: number | null,
/**
 * The same without the lock.
 */
departure_without_mm: number | null,
/**
 * Luminaires in the plan; null where no hole is locked.
 */
luminaires: number | null,
/**
 * The same without the lock.
 */
luminaires_without: number | null, };

/**
 * A luminaire.
 */
export type PlannedLuminaire = {
/**
 * Its reference, unique in the plan.
 */
id: string,
/**
 * Part of the catalogue.
 */
part: string,
/**
 * Chainage where it starts (for a point: its hole's centre).
 */
start_mm: number,
/**
 * Chainage where it ends (for a point: its hole's centre).
 */
end_mm: number,
/**
 * Whether the hole is there already or was fixed by a person.
 */
fixed: boolean, };

/**
 * One rail.
 */
export type PlannedRail = {
/**
 * Id of the rail.
 */
id: string,
/**
 * Its label.
 */
label: string,
/**
 * Length along the centreline.
 */
length_mm: number,
/**
 * Whether drilling may start: nothing in `not_ready`, and no stop about the rail.
 */
drilling_ready: boolean,
/**
 * What must be ready before drilling may start.
 */
not_ready: Array<string>,
/**
 * Nominal voltage of its luminaires.
 */
nominal_v: number | null,
/**
 * The spacing that the brief asked for.
 */
target_mm: number | null,
/**
 * Luminaires by chainage.
 */
luminaires: Array<PlannedLuminaire>,
/**
 * Figures of the layout that is planned.
 */
pattern: Pattern | null,
/**
 * Figures of its linear modules, where it has any.
 */
lit: Lit | null,
/**
 * Other layouts that were worked out.
 */
alternatives: Array<Alternative>,
/**
 * What a person has fixed on it, holes by chainage before drivers by place, each with what it costs.
 */
locks: Array<PlannedLock>,
/**
 * What all of them together cost; null where there are none.
 */
locks_together: LockEffect | null,
/**
 * What was minimised on this rail. A driver that serves several rails is counted with the first of them.
 */
objective: Objective, };

/**
 * A zone with its control.
 */
export type PlannedZone = {
/**
 * Its id.
 */
id: string,
/**
 * What people call it.
 */
label: string,
/**
 * Its control lines: devices that control cable joins one after the other.
 */
lines: Array<ControlLine>,
/**
 * Cost of its control devices and cables with the labour for them.
 */
objective: Objective, };

/**
 * Cuts from one reel.
 */
export type Reel = {
/**
 * Part of the catalogue.
 */
part: string,
/**
 * Number of this reel from 1.
 */
number: number,
/**
 * Length on the reel.
 */
length_mm: number,
/**
 * Cuts from it.
 */
cuts: Array<Cut>,
/**
 * What is left.
 */
waste_mm: number,
/**
 * Fewest reels of this part that any cutting could do with.
 */
lower_bound: number, };

/**
 * What a presence sensor sees along its rail.
 */
export type SensorReach = {
/**
 * Lower chainage seen.
 */
from_mm: number,
/**
 * Higher chainage seen.
 */
to_mm: number,
/**
 * Length of walkway seen at its height, before an end of the rail or a turn cuts it.
 */
seen_mm: number,
/**
 * Height above the walkway that it is reckoned at.
 */
height_mm: number, };

/**
 * A far-end short.
 */
export type ShortCheck = {
/**
 * Prospective current.
 */
prospective_amps: number,
/**
 * Current that flows for longer than a moment.
 */
lasting_amps: number,
/**
 * Least current-carrying capacity in its way.
 */
least_capacity_amps: number,
/**
 * Whether it is limited or cleared within what every conductor stands.
 */
cleared: boolean,
/**
 * One sentence.
 */
reason: string, };

/**
 * The source of a circuit.
 */
export type Source = {
/**
 * Node of its plus terminal.
 */
plus: string,
/**
 * Node of its minus terminal.
 */
minus: string,
/**
 * Volts between them.
 */
volts: number, };

/**
 * What a finding is about.
 */
export type Subject = { "kind": "site", } | { "kind": "rail",
/**
 * Its id.
 */
rail: string, } | { "kind": "feature",
/**
 * The rail's id.
 */
rail: string,
/**
 * Its id.
 */
feature: string, } | { "kind": "mains_point",
/**
 * Its id.
 */
id: string, } | { "kind": "driver_place",
/**
 * Its id.
 */
id: string, } | { "kind": "route",
/**
 * Its id.
 */
id: string, } | { "kind": "luminaire",
/**
 * The rail's id.
 */
rail: string,
/**
 * Its reference.
 */
luminaire: string, } | { "kind": "driver",
/**
 * Its reference.
 */
id: string, } | { "kind": "circuit",
/**
 * Its reference.
 */
id: string, } | { "kind": "cable",
/**
 * Its reference.
 */
id: string, } | { "kind": "zone",
/**
 * Its id.
 */
id: string, } | { "kind": "part",
/**
 * Its reference.
 */
part: string, };

/**
 * A test.
 */
export type TestLine = {
/**
 * What is tested.
 */
subject: string,
/**
 * Which test.
 */
kind: string,
/**
 * Value to expect.
 */
expected: number,
/**
 * Plus or minus; 0 for a floor.
 */
tolerance: number,
/**
 * Unit.
 */
unit: string,
/**
 * Whether `expected` is the least that passes, rather than the middle.
 */
is_floor: boolean, };

/**
 * A stretch of tube, by chainage.
 */
export type TubeSpan = {
/**
 * The rail.
 */
rail: string,
/**
 * Lower chainage.
 */
from_mm: number,
/**
 * Higher chainage.
 */
to_mm: number, };

/**
 * A judgement.
 */
export type Verdict = "stop" | "not_evaluated" | "caution" | "pass";
