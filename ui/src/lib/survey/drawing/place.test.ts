import { describe, expect, it } from 'vitest';
import type { FeatureRow } from '../../generated/types';
import { grain, snapped, under } from './place';

const row = (id: string, chainage_mm: number, shape: FeatureRow['shape'] = 'post', width_mm = 0): FeatureRow => ({
  id, chainage_mm, shape, width_mm, what: '', name: '', keep_clear_mm: null, bore: '', bore_mark: 'pass', note: '',
});

describe('placing by hand', () => {
  it('is as fine as the eye, and never finer than a millimetre', () => {
    expect(grain(2)).toBe(1);
    expect(grain(0.1)).toBe(5);
    expect(grain(0.004)).toBe(100);
    expect(snapped(1234.6, 2, 5000)).toBe(1235);
    expect(snapped(1237, 0.1, 5000)).toBe(1235);
  });
  it('stays on the rail', () => {
    expect(snapped(-40, 1, 5000)).toBe(0);
    expect(snapped(9000, 1, 5003.4)).toBe(5003.4);
  });
});

describe('pointing', () => {
  const view = { scale: 0.1, scrolled: 0, width: 800 };
  const at = (mm: number) => 56 + mm * 0.1;
  it('finds the nearest within reach', () => {
    const rows = [row('a', 1000), row('b', 1300)];
    expect(under(rows, view, at(1100), null)?.id).toBe('a');
    expect(under(rows, view, at(4000), null)).toBeNull();
  });
  it('goes from one to the next where they lie on one another', () => {
    const rows = [row('post', 1000), row('way in', 1000)];
    expect(under(rows, view, at(1000), null)?.id).toBe('post');
    expect(under(rows, view, at(1000), 'post')?.id).toBe('way in');
    expect(under(rows, view, at(1000), 'way in')?.id).toBe('post');
  });
  it('reaches a bend anywhere along it', () => {
    expect(under([row('bend', 1000, 'bend', 2000)], view, at(2900), null)?.id).toBe('bend');
  });
});
