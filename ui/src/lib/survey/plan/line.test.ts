import { describe, expect, it } from 'vitest';
import type { Piece, Rail } from '../../generated/survey';
import { spans } from '../../../../preview/page';
import { lineOf, placeAt } from './line';

const taped = (value_mm: number) => ({ value_mm, instrument: { kind: 'tape' as const, class: 'II' as const }, tolerance_mm: null });
const straight = (length: number, slope_deg = 0): Piece => ({ kind: 'straight', id: `s${length}`, length_mm: taped(length), slope_deg, mark: null });
const bend = (angle_deg: number, plane: 'left' | 'right' | 'up', radius = 600): Piece => ({
  kind: 'bend', id: `b${angle_deg}${plane}`, angle_deg, plane, centreline_radius_mm: radius, taped: null, bore: { kind: 'unknown' }, keep_clear_mm: null,
});
function rail(bearing_deg: number, ...pieces: Piece[]): Rail {
  return {
    pieces,
    tube: { outside_diameter_mm: taped(48.3) },
    sketch: { start: { x_mm: 1000, y_mm: 2000, z_mm: 0, measured: true }, bearing_deg },
  } as unknown as Rail;
}
const end = (given: Rail) => lineOf(given, spans(given)).at(-1)!;

describe('a rail on the plan', () => {
  it('sets off clockwise from the y axis', () => {
    expect(end(rail(0, straight(5000)))).toMatchObject({ x: 1000, y: 7000 });
    const east = end(rail(90, straight(5000)));
    expect([east.x, east.y]).toEqual([6000, expect.closeTo(2000)]);
  });
  it('is shorter from above where it slopes', () => {
    expect(end(rail(0, straight(5000, 60))).y).toBeCloseTo(2000 + 2500);
  });
  it('ends a quarter turn one radius over and one radius on (geometry of a circle)', () => {
    const right = end(rail(0, bend(90, 'right')));
    expect([right.x, right.y, right.bearing]).toEqual([expect.closeTo(1600), expect.closeTo(2600), 90]);
    const left = end(rail(0, bend(90, 'left')));
    expect([left.x, left.y, left.bearing]).toEqual([expect.closeTo(400), expect.closeTo(2600), -90]);
  });
  it('comes back to its start after four quarter turns', () => {
    const round = end(rail(37, ...Array.from({ length: 4 }, (_, index) => ({ ...bend(90, 'right'), id: `q${index}` }))));
    expect([round.x, round.y]).toEqual([expect.closeTo(1000), expect.closeTo(2000)]);
  });
  it('is not turned by a bend upwards', () => {
    expect(end(rail(20, straight(1000), bend(32, 'up'), straight(900, 32))).bearing).toBe(20);
  });
  it('finds the place of a chainage', () => {
    const line = lineOf(rail(0, straight(5000)), spans(rail(0, straight(5000))));
    expect(placeAt(line, 1250)).toMatchObject({ x: 1000, y: 3250 });
    expect(placeAt(line, 99999)).toMatchObject({ y: 7000 });
    expect(placeAt([], 0)).toBeNull();
  });
  it('has no line where it has no place', () => {
    expect(lineOf({ ...rail(0, straight(5)), sketch: null }, [])).toEqual([]);
  });
});
