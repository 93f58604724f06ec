// Generated from core/desk/src/view by `make bless`; changes here are overwritten.
import type { ExchangeRound, ExchangeState, ExchangeStatus } from './exchange';
import type { ClockDrift, OffsetSource, PhotoHeading, PhotoNearest, PhotoState, PhotoWay, PhotosAway } from './photos';
import type { Subject } from './plan';
import type { DeviceLine, DisagreementLine, SetAsideLine, SiteLine } from './sites';
import type { Survey } from './survey';

/**
 * A number as a person reads it.
 */
export type Figure = {
/**
 * The number itself, unrounded.
 */
value: number,
/**
 * Its unit; empty for a count.
 */
unit: string,
/**
 * Decimals to show.
 */
decimals: number, };

/**
 * How far a part, a rail or a question satisfies a rule.
 */
export type Mark = "pass" | "caution" | "not_evaluated" | "stop";

/**
 * How many findings carry each verdict.
 */
export type Tally = {
/**
 * Findings that pass.
 */
pass: number,
/**
 * Findings that could not be evaluated.
 */
not_evaluated: number,
/**
 * Cautions.
 */
caution: number,
/**
 * Stops.
 */
stop: number, };

/**
 * One opened site.
 */
export type SitePage = {
/**
 * The site's name.
 */
title: string,
/**
 * What else the heading says: invented or real, when surveyed.
 */
subtitle: string,
/**
 * Where it was read from, as the person gave it.
 */
file: string,
/**
 * The identity of the plan: the same inputs give the same text.
 */
plan_id: string,
/**
 * The rails in the survey's order.
 */
rails: Array<RailPage>,
/**
 * The mains points.
 */
mains_points: Array<MainsLine>,
/**
 * The zones with lit rails and their control.
 */
zones: Array<ZoneLine>,
/**
 * Every finding of the site, stops first.
 */
findings: Array<FindingLine>,
/**
 * The findings counted.
 */
tally: Tally, };

/**
 * One rail, straightened out.
 */
export type RailPage = {
/**
 * Identity in the survey.
 */
id: string,
/**
 * The surveyor's label.
 */
label: string,
/**
 * Length along the tube [mm].
 */
length_mm: number,
/**
 * Outside diameter or greatest width of the tube [mm].
 */
outside_mm: number | null,
/**
 * What a person wants to know at a glance: tube, material, what is fitted, voltage, zone.
 */
facts: Array<string>,
/**
 * How the datum is marked.
 */
datum: string,
/**
 * Why the drilling papers wait; empty when they are ready.
 */
drilling_waits: Array<string>,
/**
 * The worst verdict among the rail's findings.
 */
mark: Mark,
/**
 * Straights and bends in order.
 */
pieces: Array<PieceSpan>,
/**
 * What is on the rail, by chainage.
 */
features: Array<FeatureRow>,
/**
 * What is planned on it, by chainage.
 */
luminaires: Array<LuminaireRow>,
/**
 * Where power enters.
 */
feeds: Array<FeedMark>,
/**
 * The volts along the rail, chain by chain.
 */
chains: Array<ChainLine>,
/**
 * The limits of those volts.
 */
limits: Array<VoltLimit>,
/**
 * Link leads between its modules.
 */
links: Array<LinkSpan>,
/**
 * Caps that close its chains of modules.
 */
end_caps: Array<EndCap>,
/**
 * Control devices that stand on it, by chainage.
 */
controls: Array<ControlMark>,
/**
 * Cables that serve this rail.
 */
cables: Array<CableRow>,
/**
 * What feeding it costs, in words; empty where nothing is fed.
 */
cost: string,
/**
 * What feeding it costs, with the least that is proved to be possible.
 */
objective: Bounded,
/**
 * How evenly its points lie; absent where it has none.
 */
pattern: PatternLine | null,
/**
 * What a person has fixed on it, with what that costs.
 */
locks: Array<LockRow>,
/**
 * The other layout that was weighed, in words; empty where there is none.
 */
alternatives: Array<string>, };

/**
 * A cost with the least that is proved to be possible.
 */
export type Bounded = {
/**
 * The cost.
 */
cost: Figure,
/**
 * Nothing costs less than this.
 */
lower_bound: Figure, };

/**
 * How evenly the points of a rail lie.
 */
export type PatternLine = {
/**
 * The spacing asked for [mm].
 */
target_mm: number,
/**
 * Greatest departure of a gap from it [mm].
 */
worst_departure_mm: number,
/**
 * The hole before that gap [mm].
 */
worst_at_mm: number | null, };

/**
 * What a piece of rail is.
 */
export type PieceShape = "straight" | "bend";

/**
 * A straight or a bend by chainage.
 */
export type PieceSpan = {
/**
 * Identity within the rail.
 */
id: string,
/**
 * Straight or bend.
 */
shape: PieceShape,
/**
 * Where it starts [mm].
 */
start_mm: number,
/**
 * Where it ends [mm].
 */
end_mm: number,
/**
 * A short name for the drawing.
 */
name: string,
/**
 * What was measured.
 */
detail: string, };

/**
 * How a feature is drawn.
 */
export type FeatureShape = "post" | "joint" | "movement_joint" | "way_in" | "hole" | "clamp" | "low_point" | "damage" | "bend";

/**
 * One line of the table of features.
 */
export type FeatureRow = {
/**
 * Identity in the survey.
 */
id: string,
/**
 * How to draw it.
 */
shape: FeatureShape,
/**
 * Distance from the datum [mm].
 */
chainage_mm: number,
/**
 * What it is, in words.
 */
what: string,
/**
 * A short name for the drawing; empty where the shape says enough.
 */
name: string,
/**
 * Width along the rail [mm], where it has one.
 */
width_mm: number | null,
/**
 * Length kept clear on each side [mm].
 */
keep_clear_mm: number | null,
/**
 * Whether a cable passes along the bore.
 */
bore: string,
/**
 * Whether that was proved.
 */
bore_mark: Mark,
/**
 * The surveyor's note.
 */
note: string, };

/**
 * A planned luminaire with its hole.
 */
export type LuminaireRow = {
/**
 * Identity in the plan.
 */
id: string,
/**
 * The part.
 */
part: string,
/**
 * Where it starts [mm].
 */
start_mm: number,
/**
 * Where it ends [mm].
 */
end_mm: number,
/**
 * The hole's running dimension from the datum [mm]; absent for a module.
 */
hole_mm: number | null,
/**
 * From the straight's own mark [mm].
 */
from_mark_mm: number | null,
/**
 * From the hole before it [mm].
 */
spacing_mm: number | null,
/**
 * Diameter of the hole [mm].
 */
diameter_mm: number | null,
/**
 * Along the girth from the line under the tube, towards the walked side [mm].
 */
girth_mm: number | null,
/**
 * Whether the hole was there already or a person fixed it.
 */
fixed: boolean,
/**
 * Volts in the worst case; absent where the network has no solution.
 */
volts: number | null,
/**
 * The driver that feeds it.
 */
driver: string | null, };

/**
 * Where a lead enters this rail from a driver.
 */
export type FeedMark = {
/**
 * The driver.
 */
driver: string,
/**
 * The driver's part.
 */
part: string,
/**
 * The driver place where it stands; absent where none was surveyed.
 */
place: string | null,
/**
 * Where the lead enters [mm].
 */
chainage_mm: number,
/**
 * The lead's reference in the cable schedule.
 */
lead: string | null,
/**
 * What the leads do, in words.
 */
leads_text: string,
/**
 * The mains lead, in words; empty where there is none.
 */
mains_text: string,
/**
 * Labels of the other rails that the driver serves.
 */
also_serves: Array<string>,
/**
 * What the driver carries.
 */
load: Figure,
/**
 * What it may carry here, after derating and reserve, where stated; else its rating.
 */
rated: Figure, };

/**
 * A chain's voltages along one rail.
 */
export type ChainLine = {
/**
 * The circuit.
 */
circuit: string,
/**
 * Whether its network has a solution; if not, why not.
 */
unsolved: string | null,
/**
 * By chainage.
 */
points: Array<VoltPoint>, };

/**
 * The volts at one place.
 */
export type VoltPoint = {
/**
 * The luminaire.
 */
luminaire: string,
/**
 * The channel of a colour chain; empty otherwise.
 */
channel: string,
/**
 * Distance from the datum [mm].
 */
chainage_mm: number,
/**
 * Volts across the luminaire, worst case.
 */
volts: number, };

/**
 * The least voltage allowed by one rule.
 */
export type VoltLimit = {
/**
 * What sets it.
 */
name: string,
/**
 * Volts.
 */
volts: number,
/**
 * Whether it is the one that binds.
 */
governs: boolean, };

/**
 * One line of the cable schedule.
 */
export type CableRow = {
/**
 * Reference.
 */
reference: string,
/**
 * What it is for.
 */
kind: string,
/**
 * From and to.
 */
between: string,
/**
 * Cores and area, as written on a drum.
 */
cores: string,
/**
 * Length to cut or made-up length to order [mm].
 */
length_mm: number,
/**
 * Amps.
 */
amps: number | null,
/**
 * Drop along it [V].
 */
drop_volts: number | null,
/**
 * Volts at its end.
 */
end_volts: number | null, };

/**
 * A link lead between two modules, or a piece of one.
 */
export type LinkSpan = {
/**
 * Its reference in the cable schedule.
 */
reference: string,
/**
 * Where it starts along the rail [mm].
 */
from_mm: number,
/**
 * Where it ends [mm].
 */
to_mm: number,
/**
 * Its cores.
 */
cores: number, };

/**
 * The cap that closes a chain of modules.
 */
export type EndCap = {
/**
 * The circuit that ends there.
 */
circuit: string,
/**
 * Distance from the datum [mm].
 */
chainage_mm: number,
/**
 * Its poles.
 */
poles: number, };

/**
 * A control device that stands on a rail.
 */
export type ControlMark = {
/**
 * Its reference.
 */
device: string,
/**
 * What it is, in words.
 */
what: string,
/**
 * Distance from the datum [mm].
 */
chainage_mm: number,
/**
 * The stretch of rail that a presence sensor sees; absent for what watches nothing.
 */
reach: Stretch | null, };

/**
 * A stretch of rail.
 */
export type Stretch = {
/**
 * Lower chainage [mm].
 */
from_mm: number,
/**
 * Higher chainage [mm].
 */
to_mm: number, };

/**
 * One line of the table of locks.
 */
export type LockRow = {
/**
 * What is kept; absent in the row that tells what all of them cost together.
 */
lock: KeptThing | null,
/**
 * The same in words.
 */
what: string,
/**
 * What that costs more than the plan without it, in words.
 */
cost: string,
/**
 * Worst departure of a gap from the target [mm]; absent where no hole is locked.
 */
departure_mm: number | null,
/**
 * The same without the lock [mm].
 */
departure_without_mm: number | null, };

/**
 * Something that is kept in its place, as the brief names it.
 */
export type KeptThing = { "kind": "hole",
/**
 * Its running dimension from the datum [mm].
 */
at_mm: number, } | { "kind": "driver",
/**
 * The driver place.
 */
place: string,
/**
 * Its part, where that is kept too.
 */
part: string | null, };

/**
 * A place where mains can be had.
 */
export type MainsLine = {
/**
 * Identity in the survey.
 */
id: string,
/**
 * The surveyor's label.
 */
label: string,
/**
 * What it is and who may work on it.
 */
detail: string,
/**
 * Rating of the protective device.
 */
rating: Figure | null, };

/**
 * A zone with its control.
 */
export type ZoneLine = {
/**
 * Identity in the brief.
 */
id: string,
/**
 * What people call it.
 */
label: string,
/**
 * How it is controlled and whether it lights stairs, in words.
 */
control: string,
/**
 * Its control devices, along each control line.
 */
devices: Array<DeviceRow>, };

/**
 * A control device.
 */
export type DeviceRow = {
/**
 * Its reference.
 */
device: string,
/**
 * The part.
 */
part: string,
/**
 * Where it stands and what it stands between.
 */
place: string,
/**
 * The control cable at it; `null` where it has none.
 */
cable: string | null,
/**
 * What is set up on it and recorded.
 */
settings: Array<SettingLine>, };

/**
 * A value that is set up.
 */
export type SettingLine = {
/**
 * What is set.
 */
name: string,
/**
 * To what.
 */
value: string, };

/**
 * A finding as it is shown.
 */
export type FindingLine = {
/**
 * Place in the plan's list.
 */
index: number,
/**
 * The rule.
 */
rule: string,
/**
 * What it is about.
 */
about: Subject,
/**
 * The same in words.
 */
subject: string,
/**
 * The rails that it touches.
 */
rails: Array<string>,
/**
 * The verdict.
 */
mark: Mark,
/**
 * What is the matter.
 */
message: string,
/**
 * Measured and limit in words; empty where there is none.
 */
figures: string,
/**
 * What to do.
 */
advice: string,
/**
 * The standard or practice behind it.
 */
source: string, };

/**
 * A number that a person asks about.
 */
export type Asked = { "about": "luminaire_volts",
/**
 * The luminaire.
 */
luminaire: string, } | { "about": "position",
/**
 * The luminaire.
 */
luminaire: string, } | { "about": "rail_length",
/**
 * The rail.
 */
rail: string, } | { "about": "rail_cost",
/**
 * The rail.
 */
rail: string, } | { "about": "lock",
/**
 * The rail.
 */
rail: string,
/**
 * Its place in the rail's list; one past the last for all of them together.
 */
index: number, } | { "about": "feature",
/**
 * The rail.
 */
rail: string,
/**
 * The feature.
 */
feature: string, } | { "about": "driver_load",
/**
 * The driver.
 */
driver: string, } | { "about": "cable",
/**
 * The reference.
 */
reference: string, } | { "about": "end_cap",
/**
 * The circuit that ends there.
 */
circuit: string, } | { "about": "control",
/**
 * Its reference.
 */
device: string, } | { "about": "mains",
/**
 * The mains point.
 */
id: string, } | { "about": "finding",
/**
 * Its place in the plan's list.
 */
index: number, };

/**
 * What a step of an explanation does to the figure.
 */
export type StepRole = "start" | "change" | "given" | "result";

/**
 * One step of an explanation.
 */
export type Step = {
/**
 * What happens.
 */
what: string,
/**
 * What it does.
 */
role: StepRole,
/**
 * The figure; absent where the step is words only.
 */
figure: Figure | null,
/**
 * The numbers put in and where they come from.
 */
note: string, };

/**
 * Why a number is what it is.
 */
export type Explanation = {
/**
 * The number asked about; absent where there is none.
 */
figure: Figure | null,
/**
 * What it is and what is allowed.
 */
title: string,
/**
 * The verdict on it, where a rule gives one.
 */
mark: Mark | null,
/**
 * From the first figure to the last.
 */
steps: Array<Step>,
/**
 * What is still open, and what to do about it.
 */
notes: Array<Note>, };

/**
 * A remark under an explanation.
 */
export type Note = {
/**
 * How serious it is.
 */
mark: Mark,
/**
 * What it says.
 */
text: string, };

/**
 * Why a file could not be opened.
 */
export type Refusal = {
/**
 * In one sentence.
 */
message: string,
/**
 * One line for each fault: place, value, what is accepted.
 */
faults: Array<string>, };

/**
 * A site as it is after what was asked for.
 */
export type Opened = {
/**
 * The site's id.
 */
id: string,
/**
 * The site with its plan.
 */
page: SitePage,
/**
 * Which of all the pages that this program has shown of open sites this is: what is tried beside it names it. 0 where
 * nothing can be tried beside it.
 */
page_number: number,
/**
 * What is on site and what the client wants, as survey files have it.
 */
survey: Survey,
/**
 * What was done, in words; absent where the site was only opened.
 */
said: string | null,
/**
 * What can be taken back now, in words.
 */
undo: string | null,
/**
 * What can be made again now, in words.
 */
redo: string | null,
/**
 * Why nothing can be changed, in words; absent where it can.
 */
read_only: string | null,
/**
 * The moment as of which it is shown, in UTC (RFC 3339); absent where it is shown as it is.
 */
as_of: string | null,
/**
 * What can be done about it.
 */
way_on: WayOn,
/**
 * The catalogue that it is planned with.
 */
catalogue: CatalogueNote,
/**
 * What parts and labour of all feeds cost.
 */
cost: Figure,
/**
 * Feeds of this site cannot cost less: proved.
 */
bound: Figure,
/**
 * Luminaires of the catalogue that a brief may ask for, in order of part.
 */
luminaire_parts: Array<PartChoice>, };

/**
 * The catalogue that a site is planned with.
 */
export type CatalogueNote = {
/**
 * What people call it.
 */
label: string,
/**
 * Day of its prices (ISO 8601).
 */
priced_on: string,
/**
 * Whether its parts and prices are invented.
 */
invented: boolean,
/**
 * Why the demo catalogue stands in for one of the firm's own, in words; absent where it does not.
 */
stands_in: string | null, };

/**
 * A luminaire of the catalogue.
 */
export type PartChoice = {
/**
 * Its part reference.
 */
part: string,
/**
 * Its description.
 */
description: string, };

/**
 * How a person gets from a page that cannot be changed to one that can.
 */
export type WayOn = "none" | "take_in" | "to_now";

/**
 * A site as it would be with edits that were not kept.
 */
export type Tried = {
/**
 * The site with the plan that it would have, beside the page of the open site where the asker has that.
 */
page: BesidePage,
/**
 * What parts and labour of the feeds would cost, in the catalogue's currency.
 */
cost: Figure,
/**
 * What they cost as the site is.
 */
cost_now: Figure,
/**
 * Feeds cannot cost less than this with the edits: proved.
 */
bound: Figure,
/**
 * Nor than this as the site is.
 */
bound_now: Figure, };

/**
 * A [`SitePage`] beside that of the open site.
 */
export type BesidePage = {
/**
 * The site's name.
 */
title: string,
/**
 * What else the heading says: invented or real, when surveyed.
 */
subtitle: string,
/**
 * Where it was read from, as the person gave it.
 */
file: string,
/**
 * The identity of the plan: the same inputs give the same text.
 */
plan_id: string,
/**
 * The rails in the survey's order.
 */
rails: Array<Beside<RailPage>>,
/**
 * The mains points.
 */
mains_points: Array<MainsLine>,
/**
 * The zones with lit rails and their control.
 */
zones: Array<ZoneLine>,
/**
 * Every finding of the site, stops first; one that is the same may have another index there.
 */
findings: Array<Beside<FindingLine>>,
/**
 * The findings counted.
 */
tally: Tally, };

/**
 * An entry of a list beside another list: the position of the same there, or a new one.
 */
export type Beside<T> = number | T;

/**
 * What was changed, and over what people disagree.
 */
export type HistoryPage = {
/**
 * The changes, last first.
 */
changes: Array<PastChange>,
/**
 * Changes that do not count, and why.
 */
set_aside: Array<SetAsideLine>,
/**
 * Fields over which people disagree.
 */
disagreements: Array<DisagreementLine>, };

/**
 * One change.
 */
export type PastChange = {
/**
 * Its name, by which the site can be seen as it was with it.
 */
change: string,
/**
 * When, in UTC (RFC 3339).
 */
when: string,
/**
 * Who, by its own word.
 */
person: string,
/**
 * What the device is called, by its own word; empty where it was never heard of.
 */
device: string,
/**
 * Whether it was made on this device.
 */
here: boolean,
/**
 * What, in words.
 */
sentence: string, };

/**
 * What is known of a site's photos beside its survey, which the page has already: of thousands of photos every word counts.
 */
export type PhotosPage = {
/**
 * The site's id.
 */
id: string,
/**
 * Their files, in the survey's order.
 */
files: Array<PhotoFile>,
/**
 * Photos taken far from the site, in clusters, the nearest first.
 */
away: Array<PhotosAway>,
/**
 * Cameras whose clock seems wrong.
 */
clocks: Array<ClockDrift>, };

/**
 * The file of a photo.
 */
export type PhotoFile = {
/**
 * The photo's id.
 */
id: string,
/**
 * Where the picture is.
 */
state: PhotoState,
/**
 * What the file is: JPEG, PNG, TIFF, WebP or HEIC.
 */
file_kind: string | null,
/**
 * Size of the file.
 */
bytes: number | null,
/**
 * Width of the upright picture.
 */
width_px: number | null,
/**
 * Height of the upright picture.
 */
height_px: number | null,
/**
 * Whether a picture of it can be shown on this device, as far as is known before it is made.
 */
has_picture: boolean,
/**
 * Where the offset of the camera's time from UTC comes from.
 */
offset_source: OffsetSource | null,
/**
 * Which way the camera pointed, from whichever north.
 */
heading: PhotoHeading | null,
/**
 * Focal length.
 */
focal_length_mm: number | null,
/**
 * Focal length that gives the same angle on film 36 mm wide.
 */
focal_length_35mm_mm: number | null,
/**
 * From the site's origin to where it was taken.
 */
from_site: PhotoWay | null,
/**
 * The rail next to it, and where on the rail.
 */
nearest: PhotoNearest | null,
/**
 * What could not be read in the file and what was assumed, in sentences.
 */
remarks: Array<string>, };

/**
 * How far an import has come: the event `photo-progress`; or the writing of copies: `copies-progress`.
 */
export type AddProgress = {
/**
 * Files that were worked on.
 */
done: number,
/**
 * All of them; 0 until they are known.
 */
all: number,
/**
 * The file that was worked on last.
 */
name: string,
/**
 * So many of them lie in the site by now.
 */
kept: number, };

/**
 * What copies for a client tell; whatever is not named here is left out.
 */
export type CopiesTell = {
/**
 * Where they were taken and which way the camera pointed.
 */
position: boolean,
/**
 * The camera with its serial number.
 */
camera: boolean,
/**
 * Who owns the camera and took the picture.
 */
owner: boolean, };

/**
 * A sheet of a catalogue: one of its lists of parts, or what it says of itself or of labour.
 */
export type Sheet = "catalogue" | "luminaires" | "drivers" | "leads" | "controls" | "fixings" | "labour";

/**
 * A field of a part as a form or a table shows it.
 */
export type FieldForm = {
/**
 * Its name in a table, such as `shape.hole_mm`.
 */
name: string,
/**
 * What people call it.
 */
label: string,
/**
 * What else is to be known of it; empty where nothing is.
 */
says: string,
/**
 * Its unit; empty where it has none.
 */
unit: string,
/**
 * How it is given.
 */
input: Input,
/**
 * What can be chosen, where something is chosen.
 */
choices: Array<Choice>,
/**
 * Whether it must be given where it is asked for.
 */
needed: boolean,
/**
 * What counts where nothing is given; empty where nothing does.
 */
usual: string,
/**
 * It is asked for only where each of these is so.
 */
only_with: Array<OnlyWith>,
/**
 * What is accepted, in words.
 */
accepted: string, };

/**
 * How a field is given.
 */
export type Input = "words" | "code" | "number" | "length" | "money" | "choice" | "choices" | "yes_no" | "length_prices";

/**
 * A word that can be chosen.
 */
export type Choice = {
/**
 * As files have it.
 */
word: string,
/**
 * What it means.
 */
says: string, };

/**
 * What another field must say for this one to be asked for.
 */
export type OnlyWith = {
/**
 * The other field.
 */
field: string,
/**
 * One of these.
 */
is: Array<string>, };

/**
 * What is wrong with one field.
 */
export type FieldFault = {
/**
 * The field, by its name.
 */
field: string,
/**
 * The value that it is about; empty where something is missing.
 */
value: string,
/**
 * What is the matter with it, in words.
 */
matter: string,
/**
 * What is accepted, in words; empty where the matter says all.
 */
accepted: string, };

/**
 * What a file would change.
 */
export type Preview = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The file.
 */
file: string,
/**
 * SHA-256 of the file's bytes.
 */
file_sha256: string,
/**
 * What the catalogue is called that it goes into.
 */
catalogue: string,
/**
 * SHA-256 of that catalogue as it is; empty where the file becomes one of its own.
 */
content_sha256: string,
/**
 * Parts that are not in the catalogue yet.
 */
added: Array<PartChange>,
/**
 * Parts, or what is said of the catalogue or of labour, that would be changed.
 */
changed: Array<PartChange>,
/**
 * How many parts are the same already.
 */
unchanged: number,
/**
 * How many parts of the catalogue the file does not name; they stay as they are.
 */
not_named: number,
/**
 * What of the file is not taken, and why.
 */
refused: Array<Refused>, };

/**
 * A part that would be added or changed.
 */
export type PartChange = {
/**
 * The list that it is of.
 */
sheet: Sheet,
/**
 * Its reference; empty for the catalogue itself and for labour.
 */
part: string,
/**
 * Its description.
 */
description: string,
/**
 * Its fields that would be other than they are; of a new part all that are given.
 */
fields: Array<FieldChange>, };

/**
 * A field that would be changed.
 */
export type FieldChange = {
/**
 * Its name.
 */
field: string,
/**
 * What it says now; empty where it says nothing.
 */
before: string,
/**
 * What it would say.
 */
after: string, };

/**
 * A cell of a row, or a field of a part, that keeps the part from being taken.
 */
export type Refused = {
/**
 * Line of the file from 1.
 */
line: number,
/**
 * Column of a CSV row from 1, counted in cells; 0 where the row has none for it, and in other files.
 */
column: number,
/**
 * The list that the part is of.
 */
sheet: Sheet,
/**
 * The part's reference; empty where it has none.
 */
part: string,
/**
 * The field by its name; empty where the part as a whole is meant.
 */
field: string,
/**
 * The value as written; empty where something is missing.
 */
value: string,
/**
 * What is the matter with it, in words.
 */
matter: string,
/**
 * What is accepted, in words.
 */
accepted: string, };

/**
 * For which spreadsheets a file is written.
 */
export type CsvStyle = "points" | "commas";

/**
 * The catalogues, and the one that is looked at, after what was asked for.
 */
export type CataloguePage = {
/**
 * What was done, in words.
 */
said: string | null,
/**
 * The catalogues: the firm's own, then the built-in demo.
 */
catalogues: Array<CatalogueEntry>,
/**
 * The one that is looked at.
 */
open: OpenCatalogue,
/**
 * Why the demo catalogue stands in for one of the firm's own, in words; absent where one is in force.
 */
stands_in: string | null,
/**
 * The sites of this computer, by label: each is planned with the catalogue in force.
 */
sites: Array<string>,
/**
 * What can be taken back now, in words.
 */
undo: string | null,
/**
 * What can be made again now, in words.
 */
redo: string | null,
/**
 * Why nothing can be changed, in words; absent where it can.
 */
read_only: string | null,
/**
 * Whether the open site was planned anew.
 */
replanned: boolean, };

/**
 * A catalogue in the list.
 */
export type CatalogueEntry = {
/**
 * What it is known by.
 */
id: string,
/**
 * What people call it.
 */
name: string,
/**
 * How many parts it has.
 */
parts: number,
/**
 * Day of its prices (ISO 8601).
 */
priced_on: string,
/**
 * Whether its parts and prices are invented.
 */
invented: boolean,
/**
 * Whether it is built in and cannot be changed.
 */
built_in: boolean,
/**
 * Whether sites are planned with it.
 */
in_force: boolean,
/**
 * Why it cannot be used, in words; absent where it can.
 */
unusable: string | null, };

/**
 * A catalogue with its parts.
 */
export type OpenCatalogue = {
/**
 * What it is known by.
 */
id: string,
/**
 * What people call it.
 */
name: string,
/**
 * Whether it is built in and cannot be changed.
 */
built_in: boolean,
/**
 * Currency of its prices (ISO 4217).
 */
currency: string,
/**
 * A name for a copy that no other has.
 */
copy_name: string,
/**
 * What it says of itself, a text for each field.
 */
head: { [key in string]: string },
/**
 * Labour, a text for each field.
 */
labour: { [key in string]: string },
/**
 * Where people changed it at once, each in another way: their versions.
 */
disagreement: DisagreementLine | null,
/**
 * Its parts, list by list in the order of its file.
 */
parts: Array<PartLine>, };

/**
 * A part.
 */
export type PartLine = {
/**
 * The list that it is of.
 */
sheet: Sheet,
/**
 * Its reference.
 */
part: string,
/**
 * A text for each field, by its name.
 */
cells: { [key in string]: string }, };

/**
 * The fields of a sheet.
 */
export type SheetForm = {
/**
 * The sheet.
 */
sheet: Sheet,
/**
 * Its fields, in the order of a form.
 */
fields: Array<FieldForm>, };

/**
 * In what form a catalogue leaves this computer.
 */
export type CatalogueForm = { "kind": "toml" } | { "kind": "csv",
/**
 * The list.
 */
sheet: Sheet,
/**
 * For which spreadsheets.
 */
style: CsvStyle, } | { "kind": "template",
/**
 * The list.
 */
sheet: Sheet,
/**
 * For which spreadsheets.
 */
style: CsvStyle, };

/**
 * The sites of this computer, after what was asked for.
 */
export type SitesPage = {
/**
 * What was done, in words.
 */
said: string | null,
/**
 * The site that it was done to, or that was made.
 */
site: string | null,
/**
 * The sites, last changed first.
 */
sites: Array<SiteLine>,
/**
 * Devices whose changes wait until somebody here says that they count.
 */
unknown_devices: Array<DeviceLine>,
/**
 * Why nothing can be changed, in words; absent where it can.
 */
read_only: string | null,
/**
 * The folder that holds the sites.
 */
home: string,
/**
 * Who works here, by the device's own word.
 */
person: string,
/**
 * What this device is called.
 */
device: string, };

/**
 * In what form a site leaves this computer.
 */
export type ExportForm = "site" | "survey";

/**
 * The page of the shared folder, after what was asked for.
 */
export type SharedPage = {
/**
 * What was done, in words.
 */
said: string | null,
/**
 * The team, what waits, and what is not shared yet.
 */
status: ExchangeStatus,
/**
 * Whether somebody has said who works on this device: a team knows it by that.
 */
named: boolean,
/**
 * What the head of the window says.
 */
sign: SharedSign,
/**
 * What the last round of this window did; absent before the first.
 */
last: ExchangeRound | null,
/**
 * The sites that are not in the archive, in the order of the list.
 */
sites: Array<SharedSite>,
/**
 * Why nothing can be changed, in words; absent where it can.
 */
read_only: string | null, };

/**
 * How it stands with sharing, in little: told whenever it changes.
 */
export type SharedSign = {
/**
 * How this device stands to a team.
 */
state: ExchangeState,
/**
 * How far the round on its way has come; absent while none is.
 */
sharing: SharedProgress | null,
/**
 * Changes, and what belongs to them, that are not in the folder yet.
 */
unshared_items: number,
/**
 * Photo files, smaller copies included, that are not in the folder yet.
 */
unshared_photo_files: number,
/**
 * When a round last came to its end, in UTC (RFC 3339).
 */
last_round: string | null,
/**
 * Since when none has, in UTC (RFC 3339).
 */
failing_since: string | null,
/**
 * Why, and what to do.
 */
failure: string | null,
/**
 * Whether that passes by itself.
 */
passing: boolean,
/**
 * Whether a person has stopped the last round.
 */
stopped: boolean,
/**
 * How many devices ask to be let in.
 */
asking: number,
/**
 * Whether the store is open for reading only: then nothing is shared from here.
 */
read_only: boolean,
/**
 * How many rounds of this window have brought something: where it grows, what is on the screen is out of date.
 */
arrivals: number, };

/**
 * How far a round has come.
 */
export type SharedProgress = {
/**
 * Items that came: changes, and what belongs to them.
 */
took: number,
/**
 * Items that were given.
 */
gave: number,
/**
 * Bytes of photos that were carried, either way.
 */
photo_bytes: number, };

/**
 * A site that may be kept with the originals of its photos.
 */
export type SharedSite = {
/**
 * Its id.
 */
id: string,
/**
 * What people call it.
 */
label: string,
/**
 * How many photos it has.
 */
photos: number,
/**
 * Whether it is kept so on this device.
 */
kept: boolean, };

/**
 * How a person likes to see things.
 */
export type Settings = {
/**
 * Day or dark.
 */
theme: ThemeChoice,
/**
 * Metric or imperial lengths.
 */
units: Units, };

/**
 * The colours of the window.
 */
export type ThemeChoice = "desktop" | "day" | "dark";

/**
 * In what lengths are shown. They are kept in whole micrometres either way.
 */
export type Units = "metric" | "imperial";

/**
 * What the window shows first.
 */
export type Start = {
/**
 * How this person likes to see things.
 */
settings: Settings,
/**
 * The first screen.
 */
first: First, };

/**
 * The first screen.
 */
export type First = { "show": "sites" } | { "show": "site",
/**
 * Opened to look at.
 */
opened: Opened, } | { "show": "refused",
/**
 * Why.
 */
refusal: Refusal, };
