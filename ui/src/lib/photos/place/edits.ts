/** Edits of photos: what they show, their notes, their marks. */
import type { Edit } from '../../generated/edit';
import type { Mark, Shows } from '../../generated/survey';
import type { Shot } from '../lines';

/** Photos show this from now on. */
export function shows(photos: readonly string[], value: Shows): Edit[] {
  return photos.map((id) => ({ kind: 'set_photo', id, change: { kind: 'shows', value } }));
}

/** Each photo shows what its own position proposes; those without a proposal stay as they are. */
export function accept(shots: readonly Shot[]): Edit[] {
  return shots.flatMap(({ photo: { id }, line }) =>
    line?.nearest ? shows([id], { kind: 'rail', rail: line.nearest.rail, chainage_mm: line.nearest.chainage_mm }) : [],
  );
}

/** Photos that show nothing in particular yet and stand by one rail for certain. */
export function certain(shots: readonly Shot[]): Shot[] {
  return shots.filter(({ photo, line }) => photo.shows.kind === 'general' && line?.nearest?.certain === true);
}

export function note(id: string, value: string): Edit[] {
  return [{ kind: 'set_photo', id, change: { kind: 'note', value } }];
}

export function marks(id: string, value: Mark[]): Edit[] {
  return [{ kind: 'set_photo', id, change: { kind: 'marks', value } }];
}
