/** New pieces, and a bend with another field. */
import type { Piece, Plane } from '../../generated/survey';
import { newId } from '../../session/id';

export type Straight = Extract<Piece, { kind: 'straight' }>;
export type Bend = Extract<Piece, { kind: 'bend' }>;

/** A straight that was taped. */
export function newStraight(lengthMm: number): Straight {
  return { kind: 'straight', id: newId(), length_mm: { value_mm: lengthMm, instrument: { kind: 'tape', class: 'II' }, tolerance_mm: null }, slope_deg: 0, mark: null };
}

/** A bend; nobody has proved its bore yet. */
export function newBend(angleDeg: number, plane: Plane, radiusMm: number): Bend {
  return { kind: 'bend', id: newId(), angle_deg: angleDeg, plane, centreline_radius_mm: radiusMm, taped: null, bore: { kind: 'unknown' }, keep_clear_mm: null };
}
