/** What crosses between the open site and the pages: edits, and the site as it is after them. */
import type {
  Answer,
  Aim,
  AOrNone,
  Day,
  Deg,
  DegC,
  Device,
  DriverPlace,
  EndState,
  Exposure,
  Feature,
  Id,
  InsideOrOut,
  MainsKind,
  MainsPoint,
  Mark,
  Material,
  Measurement,
  Mm,
  MmAbove,
  MmSigned,
  Moment,
  Origin,
  Ownership,
  Passage,
  Percent,
  Photo,
  PhotoPosition,
  Piece,
  Profile,
  Rail,
  RailBrief,
  Route,
  RouteEnd,
  RouteKind,
  Shows,
  SitePoint,
  Sketch,
  Sun,
  Survey,
  WalkedSide,
  Zone,
  ZoneControl,
  LampKind,
  Light,
  Part,
  Target,
  FeedWish,
  Locks,
} from '../generated/survey';
import type { SitePage } from '../generated/types';

/** A site as it is now. */
export interface Opened {
  /** The site with its plan. */
  page: SitePage;
  /** What was surveyed. */
  survey: Survey;
  /** What the last change did, in words. */
  said: string | null;
  /** What can be taken back, in words. */
  undo: string | null;
  /** What can be made again, in words. */
  redo: string | null;
}

/** What the survey pages ask of the program; every call answers with the whole site. */
export interface SurveyBackend {
  /** Makes edits as one step; rejects with a `Refusal`, and then nothing is changed. */
  edit: (edits: Edit[]) => Promise<Opened>;
  /** Takes back this device's last step. */
  undo: () => Promise<Opened>;
  /** Makes again what was taken back last. */
  redo: () => Promise<Opened>;
}

/** The fields that every feature has beside those of its kind. */
type FeatureCommon = 'id' | 'label' | 'chainage_mm' | 'keep_clear_mm' | 'bore' | 'note';
type WithoutCommon<F> = F extends Feature ? Omit<F, FeatureCommon> : never;

/** What a feature is, with its details. */
export type FeatureKind = WithoutCommon<Feature>;

/** A thing of a site by its name. */
export type ThingName =
  | { kind: 'rail'; rail: Id }
  | { kind: 'piece'; rail: Id; id: Id }
  | { kind: 'feature'; rail: Id; id: Id }
  | { kind: 'mains_point'; id: Id }
  | { kind: 'driver_place'; id: Id }
  | { kind: 'route'; id: Id }
  | { kind: 'photo'; id: Id }
  | { kind: 'rail_brief'; rail: Id }
  | { kind: 'zone'; id: Id };

/** One field of a thing with its new value, out of a table of fields. */
type Changed<Fields> = { [Name in keyof Fields]: { kind: Name; value: Fields[Name] } }[keyof Fields];

/** A field of the site. */
export type SiteChange = Changed<{
  label: string;
  address: string;
  invented: boolean;
  surveyed_on: Day | null;
  surveyor: string | null;
  origin: Origin | null;
  exposure: Exposure;
  note: string;
}>;

/** What the brief says of the whole site. */
export type BriefChange = Changed<{ reserve_percent: number; drop_percent: Percent; loop_per_hole_mm: Mm; spare_percent: number }>;

/** A field of a rail. */
export type RailChange = Changed<{
  label: string;
  datum_end: string;
  datum_mark: string;
  overall_mm: Measurement | null;
  tube_profile: Profile;
  tube_outside_diameter_mm: Measurement;
  tube_wall_mm: Measurement | null;
  tube_material: Material;
  tube_grade: string | null;
  tube_finish: string | null;
  height_mm: Measurement | null;
  walking_width_mm: Measurement | null;
  walked_side: WalkedSide;
  start_end: EndState;
  far_end: EndState;
  sketch: Sketch | null;
  bonded: Answer;
  lightning: Answer;
  near_traction: Answer;
  guard: Answer;
  sealed: Answer;
  drains: Answer;
  exposure: Exposure | null;
  note: string;
}>;

/** A field of a feature. */
export type FeatureChange = Changed<{
  label: string;
  what: FeatureKind;
  keep_clear_mm: Mm | null;
  bore: Passage;
  note: string;
}>;

/** A field of a mains point. */
export type MainsPointChange = Changed<{
  label: string;
  what: MainsKind;
  device: Device | null;
  rcd: Answer;
  existing_load_a: AOrNone | null;
  place: InsideOrOut;
  exposure: Exposure | null;
  position: SitePoint | null;
  photo: Id | null;
  note: string;
}>;

/** A field of a driver place. */
export type DriverPlaceChange = Changed<{
  label: string;
  width_mm: MmAbove;
  height_mm: MmAbove;
  depth_mm: MmAbove;
  fixing: string;
  sun: Sun;
  ambient_c: DegC;
  above_flood_mm: MmSigned | null;
  exposure: Exposure | null;
  reachable: Answer;
  lockable: Answer;
  position: SitePoint | null;
  note: string;
}>;

/** A field of a route. */
export type RouteChange = Changed<{
  label: string;
  from: RouteEnd;
  to: RouteEnd;
  length_mm: Measurement;
  what: RouteKind;
  clear_mm: MmAbove | null;
  passage: Passage;
  corners: SitePoint[];
  obstacles: string[];
  note: string;
}>;

/** A field of a photo. */
export type PhotoChange = Changed<{
  file: string;
  shows: Shows;
  taken: Moment | null;
  position: PhotoPosition | null;
  heading_deg: Deg | null;
  camera: string | null;
  note: string;
  marks: Mark[];
}>;

/** A field of the brief for one rail. */
export type RailBriefChange = Changed<{
  lamps: LampKind;
  light: Light;
  part: Part | null;
  target: Target;
  end_margin_least_mm: Mm;
  end_margin_greatest_mm: Mm;
  posts_clear_of_holes: boolean;
  aim: Aim;
  match_rail: Id | null;
  concerns: string;
  zone: Id | null;
  feed: FeedWish;
  locks: Locks;
}>;

/** A field of a zone. */
export type ZoneChange = Changed<{ label: string; control: ZoneControl; stairs: Answer }>;

/** One edit of an open site. */
export type Edit =
  | { kind: 'set_site'; change: SiteChange }
  | { kind: 'set_brief'; change: BriefChange }
  | { kind: 'add_rail'; new: Rail }
  | { kind: 'set_rail'; rail: Id; change: RailChange }
  | { kind: 'set_ownership'; rail: Id; ownership: Ownership | null }
  | { kind: 'add_piece'; rail: Id; new: Piece }
  | { kind: 'set_piece'; rail: Id; piece: Piece }
  | { kind: 'add_feature'; rail: Id; new: Feature }
  | { kind: 'move_feature'; rail: Id; feature: Id; to_mm: Measurement }
  | { kind: 'set_feature'; rail: Id; feature: Id; change: FeatureChange }
  | { kind: 'add_mains_point'; new: MainsPoint }
  | { kind: 'set_mains_point'; id: Id; change: MainsPointChange }
  | { kind: 'add_driver_place'; new: DriverPlace }
  | { kind: 'set_driver_place'; id: Id; change: DriverPlaceChange }
  | { kind: 'add_route'; new: Route }
  | { kind: 'set_route'; id: Id; change: RouteChange }
  | { kind: 'add_photo'; new: Photo }
  | { kind: 'set_photo'; id: Id; change: PhotoChange }
  | { kind: 'add_rail_brief'; new: RailBrief }
  | { kind: 'set_rail_brief'; rail: Id; change: RailBriefChange }
  | { kind: 'add_zone'; new: Zone }
  | { kind: 'set_zone'; id: Id; change: ZoneChange }
  | { kind: 'reorder'; thing: ThingName; after: ThingName | null }
  | { kind: 'remove'; thing: ThingName }
  | { kind: 'restore'; thing: ThingName };
