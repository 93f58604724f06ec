/**
 * Photos of a site as the program answers them: `core/desk/src/wire/photos.rs` in TypeScript, until `make bless` writes
 * these types too.
 */
import type { PhotoPosition, Shows } from '../generated/survey';

/** Where the picture of a photo is: on this device, known but elsewhere, or only named by the survey. */
export type PhotoState = 'here' | 'missing' | 'named';

/** Where the offset of a camera's time from UTC comes from. */
export type OffsetSource = 'camera' | 'satellites' | 'assumed' | 'unknown';

/** What a direction is counted from. */
export type North = 'true' | 'magnetic' | 'not_stated';

export interface PhotoHeading {
  /** Clockwise from north. */
  degrees: number;
  north: North;
}

/** The shortest way on the ellipsoid. */
export interface PhotoWay {
  distance_m: number;
  bearing_deg: number;
}

/** A rail by which a photo was taken, as its position has it. */
export interface PhotoNearest {
  rail: string;
  label: string;
  chainage_mm: number;
  least_chainage_mm: number;
  greatest_chainage_mm: number;
  way: PhotoWay;
  uncertainty_m: number;
  /** The receiver stated no accuracy, so that it is assumed. */
  accuracy_assumed: boolean;
  /** No other rail is as near within the uncertainty, and this one is within reach. */
  certain: boolean;
  sentence: string;
}

/** A photo in the list. */
export interface PhotoLine {
  id: string;
  file: string;
  content_sha256: string | null;
  state: PhotoState;
  file_kind: string | null;
  bytes: number | null;
  width_px: number | null;
  height_px: number | null;
  thumbnail_320: string | null;
  thumbnail_1600: string | null;
  taken: string | null;
  offset_source: OffsetSource | null;
  position: PhotoPosition | null;
  heading: PhotoHeading | null;
  camera: string | null;
  focal_length_mm: number | null;
  focal_length_35mm_mm: number | null;
  shows: Shows;
  shows_text: string;
  note: string;
  marks: number;
  from_site: PhotoWay | null;
  nearest: PhotoNearest | null;
  remarks: string[];
}

/** Photos that were taken together, far from the site. */
export interface PhotosAway {
  photos: string[];
  distance_m: number;
  bearing_deg: number;
  sentence: string;
}

/** A camera whose clock seems wrong. */
export interface ClockDrift {
  camera: string;
  photos: string[];
  /** Negative where it is behind. */
  ahead_s: number;
  against: 'survey_day' | 'satellites';
  sentence: string;
}

export interface PhotoList {
  schema_version: number;
  id: string;
  photos: PhotoLine[];
  away: PhotosAway[];
  clocks: ClockDrift[];
}

export type ImportOutcome = 'added' | 'linked' | 'restored' | 'duplicate' | 'refused' | 'not_reached';

/** A file and what became of it. */
export interface ImportedFile {
  path: string;
  outcome: ImportOutcome;
  photo: string | null;
  /** Why it was not taken in, or of which file it is a duplicate. */
  reason: string | null;
  remarks: string[];
}

/** What became of files that were added to a site. */
export interface PhotoImport {
  schema_version: number;
  id: string;
  /** It was stopped before the last file; what was added stays. */
  stopped: boolean;
  added: number;
  linked: number;
  restored: number;
  duplicates: number;
  refused: number;
  not_reached: number;
  files: ImportedFile[];
}

/** A copy, or why there is none. */
export interface PhotoCopy {
  photo: string;
  copy: string | null;
  reason: string | null;
}

export interface PhotoCopies {
  schema_version: number;
  id: string;
  copies: PhotoCopy[];
}
