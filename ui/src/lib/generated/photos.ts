// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.
import type { PhotoPosition, Shows } from './survey';

/**
 * What a camera's clock is compared with.
 */
export type ClockAgainst = "survey_day" | "satellites";

/**
 * A camera whose clock seems wrong.
 */
export type ClockDrift = {
/**
 * The camera.
 */
camera: string,
/**
 * Its photos.
 */
photos: Array<string>,
/**
 * How far its clock is ahead, negative where it is behind.
 */
ahead_s: number,
/**
 * Against what.
 */
against: ClockAgainst,
/**
 * The question in a sentence.
 */
sentence: string, };

/**
 * What became of a file.
 */
export type ImportOutcome = "added" | "linked" | "restored" | "duplicate" | "refused" | "not_reached";

/**
 * A file and what became of it.
 */
export type ImportedFile = {
/**
 * Its path.
 */
path: string,
/**
 * What became of it.
 */
outcome: ImportOutcome,
/**
 * The photo that it is.
 */
photo: string | null,
/**
 * Why it was not taken in, or of which file it is a duplicate.
 */
reason: string | null,
/**
 * Everything else that a person should know about it, in sentences.
 */
remarks: Array<string>, };

/**
 * What a direction is counted from.
 */
export type North = "true" | "magnetic" | "not_stated";

/**
 * Where the offset of a camera's time from UTC comes from.
 */
export type OffsetSource = "camera" | "satellites" | "assumed" | "unknown";

/**
 * Copies for a client.
 */
export type PhotoCopies = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site's id.
 */
id: string,
/**
 * Whether it was stopped before the last; what was written before stays.
 */
stopped: boolean,
/**
 * Every photo that was asked for.
 */
copies: Array<PhotoCopy>, };

/**
 * A copy, or why there is none.
 */
export type PhotoCopy = {
/**
 * The photo.
 */
photo: string,
/**
 * The copy's path.
 */
copy: string | null,
/**
 * Why there is none.
 */
reason: string | null, };

/**
 * A direction.
 */
export type PhotoHeading = {
/**
 * Degrees clockwise from north.
 */
degrees: number,
/**
 * Which north.
 */
north: North, };

/**
 * What became of files that were added to a site.
 */
export type PhotoImport = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site's id.
 */
id: string,
/**
 * Whether it was stopped before the last file; what was added stays.
 */
stopped: boolean,
/**
 * Photos that are new to the site.
 */
added: number,
/**
 * Photos that the survey named and that have their file now.
 */
linked: number,
/**
 * Photos of the site whose original was not on this device and is now.
 */
restored: number,
/**
 * Files with the same bytes as another photo of the site.
 */
duplicates: number,
/**
 * Files that were not taken in.
 */
refused: number,
/**
 * Files that were not looked at, since it was stopped before.
 */
not_reached: number,
/**
 * Every file, in order.
 */
files: Array<ImportedFile>, };

/**
 * A photo in the list.
 */
export type PhotoLine = {
/**
 * Its id.
 */
id: string,
/**
 * The name of its file.
 */
file: string,
/**
 * SHA-256 of the file's bytes.
 */
content_sha256: string | null,
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
 * The thumbnail of 320 pixels on this device, where there is one.
 */
thumbnail_320: string | null,
/**
 * The thumbnail of 1,600 pixels on this device, where there is one.
 */
thumbnail_1600: string | null,
/**
 * When it was taken (ISO 8601).
 */
taken: string | null,
/**
 * Where the offset of the camera's time from UTC comes from.
 */
offset_source: OffsetSource | null,
/**
 * Where it was taken.
 */
position: PhotoPosition | null,
/**
 * Which way the camera pointed.
 */
heading: PhotoHeading | null,
/**
 * The camera.
 */
camera: string | null,
/**
 * Focal length.
 */
focal_length_mm: number | null,
/**
 * Focal length that gives the same angle on film 36 mm wide.
 */
focal_length_35mm_mm: number | null,
/**
 * What it shows.
 */
shows: Shows,
/**
 * What it shows, in words.
 */
shows_text: string,
/**
 * Notes.
 */
note: string,
/**
 * How many marks are drawn over it.
 */
marks: number,
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
 * The photos of a site, in the survey's order.
 */
export type PhotoList = {
/**
 * Version of this shape: 1.
 */
schema_version: number,
/**
 * The site's id.
 */
id: string,
/**
 * The photos.
 */
photos: Array<PhotoLine>,
/**
 * Photos taken far from the site, in clusters, the nearest first.
 */
away: Array<PhotosAway>,
/**
 * Cameras whose clock seems wrong.
 */
clocks: Array<ClockDrift>, };

/**
 * A rail by which a photo was taken, as its position has it.
 */
export type PhotoNearest = {
/**
 * The rail.
 */
rail: string,
/**
 * What people call it.
 */
label: string,
/**
 * The chainage nearest to the photo.
 */
chainage_mm: number,
/**
 * The least chainage that is as near within the uncertainty.
 */
least_chainage_mm: number,
/**
 * The greatest.
 */
greatest_chainage_mm: number,
/**
 * From the photo to that chainage.
 */
way: PhotoWay,
/**
 * Radius within which photo and site agree.
 */
uncertainty_m: number,
/**
 * Whether the receiver stated no accuracy, so that it is assumed.
 */
accuracy_assumed: boolean,
/**
 * Whether no other rail is as near within the uncertainty and this one is within reach.
 */
certain: boolean,
/**
 * All of it in a sentence.
 */
sentence: string, };

/**
 * Where the picture of a photo is.
 */
export type PhotoState = "here" | "missing" | "named";

/**
 * The shortest way on the ellipsoid (WGS 84).
 */
export type PhotoWay = {
/**
 * Its length.
 */
distance_m: number,
/**
 * The direction in which it sets off, degrees clockwise from true north.
 */
bearing_deg: number, };

/**
 * Photos that were taken together, far from the site.
 */
export type PhotosAway = {
/**
 * The photos.
 */
photos: Array<string>,
/**
 * From the site to the nearest of them.
 */
distance_m: number,
/**
 * Its direction from the site, degrees clockwise from true north.
 */
bearing_deg: number,
/**
 * The question in a sentence.
 */
sentence: string, };
