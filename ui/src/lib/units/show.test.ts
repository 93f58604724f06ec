import { beforeEach, describe, expect, it } from 'vitest';
import { readLength } from './read';
import { bareLength, feetAndInches, length, longLength, typedLength } from './show';
import { units } from './setting.svelte';

describe('feet and inches', () => {
  it.each<[number, string]>([
    [0, '0"'],
    [25.4, '1"'],
    [12.7, '1/2"'],
    [88.9, '3 1/2"'],
    [304.8, "1'"],
    [2527.3, '8\' 3 1/2"'],
    [309.5625, '1\' 3/16"'],
    [1.5875, '1/16"'],
    [-88.9, '\u22123 1/2"'],
    [-0.1, '0"'],
    [304.79, "1'"],
    [200000, '656\' 2"'],
    [Number.NaN, 'no number'],
  ])('%d mm is %s', (mm, text) => {
    expect(feetAndInches(mm)).toBe(text);
  });
  it('stays within half a sixteenth of the length and is read back as shown', () => {
    for (let mm = 0; mm < 7000; mm += 13.7) {
      const read = readLength(feetAndInches(mm), { bare: 'in' });
      expect(Math.abs(read.mm! - mm)).toBeLessThanOrEqual(25.4 / 32 + 1e-3);
      expect(feetAndInches(read.mm!)).toBe(feetAndInches(mm));
    }
  });
});

describe('metric', () => {
  it('groups thousands where it is read and leaves them out where it is typed', () => {
    expect(bareLength(14820, 'metric')).toBe('14,820');
    expect(typedLength(14820, 'metric')).toBe('14820');
    expect(typedLength(42.4, 'metric')).toBe('42.4');
    expect(length(282.5, 'metric')).toBe('282.5\u202fmm');
    expect(longLength(39800, 'metric')).toBe('39.80\u202fm');
  });
});

describe('the setting', () => {
  beforeEach(() => (units.system = 'metric'));
  it('is kept on this machine', () => {
    units.system = 'imperial';
    expect(localStorage.getItem('newel.units')).toBe('imperial');
    expect(units.system).toBe('imperial');
  });
});
