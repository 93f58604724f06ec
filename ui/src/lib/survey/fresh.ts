/** New things of a site; what nobody has said yet is unknown. */
import type { DriverPlace, MainsPoint, Material, Measurement, Piece, Rail, Route, RouteEnd, SitePoint } from '../generated/survey';
import { newId } from '../session/id';

/** A name that none of the others has: "Mains point 3". */
export function freeName(word: string, taken: string[]): string {
  for (let count = taken.length + 1; ; count += 1) {
    const name = `${word} ${count}`;
    if (!taken.includes(name)) return name;
  }
}

export function newMainsPoint(label: string, position: SitePoint | null): MainsPoint {
  return { id: newId(), label, kind: 'fused_connection_unit', device: null, rcd: 'unknown', existing_load_a: null, place: 'outside', exposure: null, position, photo: null, note: '' };
}

/** A driver place of a measured size [mm] and a highest air temperature [°C]. */
export function newDriverPlace(label: string, size: { width_mm: number; height_mm: number; depth_mm: number }, ambient_c: number): DriverPlace {
  return { id: newId(), label, ...size, fixing: '', sun: 'part', ambient_c, above_flood_mm: null, exposure: null, reachable: 'unknown', lockable: 'unknown', position: null, note: '' };
}

export function newRoute(label: string, from: RouteEnd, to: RouteEnd, length_mm: Measurement): Route {
  return { id: newId(), label, from, to, length_mm, kind: 'surface', clear_mm: null, passage: { kind: 'unknown' }, corners: [], obstacles: [], note: '' };
}

/** A rail of one straight, for a rail has at least one piece; its tube is like another's or of a diameter alone. */
export function newRail(label: string, datum: Rail['datum'], first: Piece, outside: Measurement, material: Material, like: Rail | null): Rail {
  return {
    id: newId(),
    label,
    datum,
    pieces: [first],
    overall_mm: null,
    tube: like ? like.tube : { profile: { kind: 'round' }, outside_diameter_mm: outside, wall_mm: null, material, grade: null, finish: null },
    height_mm: null,
    walking_width_mm: null,
    walked_side: 'both',
    start_end: 'open',
    far_end: 'open',
    features: [],
    sketch: null,
    ownership: null,
    bonding: { bonded: 'unknown', lightning: 'unknown', near_traction: 'unknown' },
    guard: 'unknown',
    sealed: 'unknown',
    drains: 'unknown',
    exposure: null,
    note: '',
  };
}
