/** What is known of a photo, in words. */
import { grouped } from '../figures';
import type { Photo } from '../generated/survey';
import type { Shot } from './lines';
import type { OffsetSource } from '../generated/photos';
import type { PhotoFile } from '../generated/types';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

const SOURCES: Record<OffsetSource, string> = {
  camera: 'offset written by the camera',
  satellites: 'offset from the satellites’ time',
  assumed: 'offset assumed when it was added',
  unknown: 'local time, offset unknown',
};

/** When it was taken, as the clock of the place stood: never turned into this computer's own time. */
export function takenWords(taken: string | null): string {
  if (taken === null) return 'unknown';
  const parts = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2}(?::\d{2})?)(?:\.\d+)?(Z|[+-]\d{2}:\d{2})?$/.exec(taken);
  if (parts === null) return taken;
  const [, year, month, day, time, offset] = parts;
  const zone = offset === undefined ? '' : offset === 'Z' ? ', UTC' : `, UTC${offset.replace('-', '−')}`;
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}, ${time}${zone}`;
}

/** How the time stands to UTC and who says so. */
export function offsetWords(photo: Photo, line: PhotoFile | null): string {
  if (photo.taken === null) return '';
  return line?.offset_source ? SOURCES[line.offset_source] : 'corrected or entered by hand';
}

/** Where it was taken, with how far that may be out. */
export function positionWords(photo: Photo): string {
  const at = photo.position;
  if (at === null) return 'unknown: the file has no position';
  const side = (degrees: number, plus: string, minus: string) => `${Math.abs(degrees).toFixed(6)}° ${degrees < 0 ? minus : plus}`;
  const out = at.accuracy_mm === null ? 'the receiver states no accuracy' : `within ${metresOf(at.accuracy_mm)}`;
  return `${side(at.latitude_deg, 'N', 'S')}, ${side(at.longitude_deg, 'E', 'W')}, ${out}`;
}

/** Which way the camera pointed, and from which north that is counted. */
export function headingWords(photo: Photo, line: PhotoFile | null): string {
  if (photo.heading_deg !== null) return `${round(photo.heading_deg)}° from true north`;
  const heading = line?.heading;
  if (!heading) return 'unknown';
  const north = { true: 'true north', magnetic: 'magnetic north (declination not applied)', not_stated: 'a north the camera does not name' }[heading.north];
  return `${round(heading.degrees)}° from ${north}`;
}

/** The camera and its lens. */
export function cameraWords(photo: Photo, line: PhotoFile | null): string {
  const lens = line?.focal_length_mm ? `${round(line.focal_length_mm)} mm` : '';
  const film = line?.focal_length_35mm_mm ? `as ${round(line.focal_length_35mm_mm)} mm on 35 mm film` : '';
  return [photo.camera ?? 'unknown', lens, film].filter((part) => part !== '').join(', ');
}

/** The file: kind, size in pixels and in bytes. */
export function fileWords(line: PhotoFile | null): string {
  if (line === null) return 'unknown';
  const size = line.width_px !== null && line.height_px !== null ? `${grouped(line.width_px)} × ${grouped(line.height_px)} px` : '';
  const bytes = line.bytes === null ? '' : line.bytes < 1e6 ? `${Math.ceil(line.bytes / 1000)} kB` : `${(line.bytes / 1e6).toFixed(1)} MB`;
  return [line.file_kind ?? '', size, bytes].filter((part) => part !== '').join(', ') || 'unknown';
}

/** All of it, as pairs. */
export function facts({ photo, line }: Shot): [string, string, string?][] {
  return [
    ['Taken', takenWords(photo.taken), offsetWords(photo, line)],
    ['Position', positionWords(photo), line?.from_site ? `${distance(line.from_site.distance_m)} from the site’s origin` : undefined],
    ['Looks', headingWords(photo, line)],
    ['Camera', cameraWords(photo, line)],
    ['File', fileWords(line)],
  ];
}

/** A distance on the ground: "41 m", "4.1 km". */
export function distance(metres: number): string {
  return metres < 1000 ? `${round(metres)} m` : `${(metres / 1000).toFixed(1)} km`;
}

function metresOf(mm: number): string {
  return `${round(mm / 1000)} m`;
}

function round(value: number): string {
  return String(Math.round(value * 10) / 10);
}
