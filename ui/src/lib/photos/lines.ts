/** The photos as they are shown: what the program knows of their files, with what the survey says of them now. */
import type { Photo, Shows, Survey } from '../generated/survey';
import { units } from '../units/setting.svelte';
import { length } from '../units/show';
import type { PhotoFile } from '../generated/types';

/** A photo on the page. */
export interface Shot {
  photo: Photo;
  /** What is known of its file; null until the program has answered. */
  line: PhotoFile | null;
}

/** The photos of the survey; what an edit or an undo changed is seen at once, without asking for the list again. */
export function shotsOf(survey: Survey, lines: readonly PhotoFile[]): Shot[] {
  const known = new Map(lines.map((line) => [line.id, line]));
  return survey.photos.map((photo) => ({ photo, line: known.get(photo.id) ?? null }));
}

/** What of the survey the list depends on: when this changes, the list is asked for again. */
export function listKey(survey: Survey): string {
  return survey.photos.map((photo) => `${photo.id} ${photo.content_sha256 ?? ''} ${photo.taken ?? ''}`).join('\n');
}

/** What a photo shows, by the names that people know. */
export function showsWords(survey: Survey, shows: Shows): string {
  switch (shows.kind) {
    case 'rail': {
      const label = survey.rails.find((rail) => rail.id === shows.rail)?.label ?? shows.rail;
      return shows.chainage_mm === null ? label : `${label} at ${length(shows.chainage_mm, units.system)}`;
    }
    case 'mains_point':
      return survey.mains_points.find((point) => point.id === shows.id)?.label ?? shows.id;
    case 'route':
      return survey.routes.find((route) => route.id === shows.id)?.label ?? shows.id;
    case 'defect':
      return `Defect: ${shows.words}`;
    case 'general':
      return 'Not placed';
  }
}

/** Why there is no picture here, in words; null where there is one. */
export function missingWords(shot: Shot): string | null {
  if (shot.line === null) return 'looking for it';
  if (shot.line.state === 'missing') return 'not on this device';
  if (shot.line.state === 'named') return 'only named, file not added';
  return !shot.line.has_picture ? 'no preview of this kind' : null;
}
