/** Figures and words of the photos page. */
import { describe, expect, test } from 'vitest';
import { line, photo } from '../../../preview/photosFake';
import { readSpan, spanWords } from './clock';
import { summary } from './grid/frames';
import { beside, layOut, rowsIn } from './grid/layout';
import { fit, placeOf, spotAt, zoomed } from './viewer/view';
import { headingWords, offsetWords, positionWords, takenWords } from './words';

const shots = (count: number) => Array.from({ length: count }, (_, n) => ({ photo: photo(`p${n}`), line: null }));

describe('the grid’s layout', () => {
  const layout = layOut([{ key: 'a', label: 'A', kind: 'rail', shots: shots(7) }, { key: 'b', label: 'B', kind: 'general', shots: shots(2) }], 700);

  test('rows lie under one another without gap or overlap', () => {
    layout.rows.forEach((row, index) => expect(row.top).toBe(layout.rows.slice(0, index).reduce((sum, each) => sum + each.height, 0)));
    expect(layout.columns).toBe(4);
    expect(layout.height).toBe(layout.rows.at(-1)!.top + layout.rows.at(-1)!.height);
  });
  test('what can be seen is what an inspection of every row says', () => {
    for (let from = -300; from < layout.height + 100; from += 37) {
      expect(rowsIn(layout.rows, from, from + 250)).toEqual(layout.rows.filter((row) => row.top + row.height > from && row.top < from + 250));
    }
  });
  test('groups that are small share a row, each under its own heading; what does not fit begins anew', () => {
    const group = (key: string, count: number) => ({ key, label: key, kind: 'rail' as const, shots: shots(count) });
    const { rows, columns } = layOut([group('a', 2), group('b', 1), group('c', 1), group('d', 1), group('e', 9), group('f', 1)], 700);
    expect(columns).toBe(4);
    const told = rows.map((row) => (row.kind === 'headings' ? row.headings.map(({ group: { key }, column, span }) => `${key} ${column} ${span}`).join(', ') : row.shots.length));
    expect(told).toEqual(['a 0 2, b 2 1, c 3 1', 4, 'd 0 1', 1, 'e 0 4', 4, 4, 1, 'f 0 1', 1]);
  });
  test('up and down keep the column where the next row has it', () => {
    expect(beside(layout, 3, 1)).toBe(6);
    expect(beside(layout, 6, 1)).toBe(8);
    expect(beside(layout, 8, 1)).toBe(8);
    expect(beside(layout, 0, -1)).toBe(0);
  });
});

describe('the viewer', () => {
  const [picture, room] = [{ width: 4000, height: 3000 }, { width: 800, height: 500 }];

  test('the place under the pointer stays there when it zooms', () => {
    const whole = fit(picture, room);
    const at = { x: 300, y: 260 };
    const spot = (view: typeof whole) => [(at.x - view.x) / view.scale, (at.y - view.y) / view.scale];
    const close = zoomed(whole, 4, at, picture, room);
    spot(close).forEach((value, index) => expect(value).toBeCloseTo(spot(whole)[index]!, 6));
  });
  test('thousandths and places on the screen are each other’s inverse at every zoom', () => {
    for (const factor of [1, 2.7, 9]) {
      const view = zoomed(fit(picture, room), factor, { x: 100, y: 400 }, picture, room);
      const spot = { x_permille: 613, y_permille: 88 };
      expect(spotAt(view, placeOf(view, spot, picture), picture)).toEqual(spot);
    }
  });
  test('a pointer beside the picture means its edge', () => {
    expect(spotAt(fit(picture, room), { x: -50, y: 9999 }, picture)).toEqual({ x_permille: 0, y_permille: 1000 });
  });
});

describe('words', () => {
  test('times stay in the clock of the place, whatever this computer’s is', () => {
    expect(takenWords('2026-09-15T08:12:40+02:00')).toBe('15 Sep 2026, 08:12:40, UTC+02:00');
    expect(takenWords('2026-09-15T08:12:40-03:30')).toBe('15 Sep 2026, 08:12:40, UTC−03:30');
    expect(takenWords('2026-09-15T08:12:40')).toBe('15 Sep 2026, 08:12:40');
    expect(takenWords('<b>never</b>')).toBe('<b>never</b>');
    expect(takenWords(null)).toBe('unknown');
  });
  test('who says the offset, which north, and how far a position may be out', () => {
    const shot = photo('a', { position: { latitude_deg: -54.75, longitude_deg: 3.25, altitude_mm: null, accuracy_mm: 4000 } });
    expect(offsetWords(shot, line(shot, { offset_source: 'assumed' }))).toBe('offset assumed when it was added');
    expect(positionWords(shot)).toBe('54.750000° S, 3.250000° E, within 4 m');
    expect(positionWords({ ...shot, position: { ...shot.position!, accuracy_mm: null } })).toContain('states no accuracy');
    expect(headingWords(shot, line(shot, { heading: { degrees: 112.5, north: 'magnetic' } }))).toContain('112.5° from magnetic north');
    expect(headingWords({ ...shot, heading_deg: 82 }, null)).toBe('82° from true north');
  });
  test('spans are read as people write them and told so that they read the same again', () => {
    // The same pairs as the program's own reader is tried with.
    for (const [text, seconds] of [['90', 90], ['90 s', 90], ['1 h 2 min', 3720], ['1h2min5s', 3725], ['3 d', 259200], ['0', 0]] as const) expect(readSpan(text)).toBe(seconds);
    for (const bad of ['', 'an hour', '1 week', '-5', '1.5 h']) expect(readSpan(bad)).toBeNull();
    for (const seconds of [1, 59, 3720, 90061]) expect(readSpan(spanWords(seconds))).toBe(seconds);
  });
  test('frame gaps are told by their middle, their tail and their worst', () => {
    expect(summary([16, 17, 16, 90, 16])).toEqual({ frames: 5, p50: 16, p95: 90, worst: 90 });
    expect(summary([])).toEqual({ frames: 0, p50: 0, p95: 0, worst: 0 });
  });
});
