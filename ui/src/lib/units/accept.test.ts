import { describe, expect, it } from 'vitest';
import { acceptLength, acceptNumber } from './accept';

describe('a field for a length', () => {
  it('takes an empty field for unknown only where that is allowed', () => {
    expect(acceptLength(' ', 'metric', { unknown: true })).toEqual({ mm: null });
    expect(acceptLength('?', 'metric', { unknown: true })).toEqual({ mm: null });
    expect(acceptLength('', 'metric').why).toContain('needed');
  });
  it('reads bare numbers in the unit that is shown', () => {
    expect(acceptLength('10', 'metric')).toEqual({ mm: 10 });
    expect(acceptLength('10', 'imperial')).toEqual({ mm: 254 });
    expect(acceptLength('10 mm', 'imperial')).toEqual({ mm: 10 });
  });
  it('refuses 0 and less where they mean nothing', () => {
    expect(acceptLength('0', 'metric').why).toContain('more than 0');
    expect(acceptLength('0', 'metric', { zero: true })).toEqual({ mm: 0 });
    expect(acceptLength('-3', 'metric', { zero: true }).why).toContain('less than 0');
    expect(acceptLength('-3', 'metric', { negative: true })).toEqual({ mm: -3 });
  });
});

describe('a field for a number', () => {
  it('reads points and commas and keeps its bounds', () => {
    expect(acceptNumber('1.5', 0, 10)).toEqual({ value: 1.5 });
    expect(acceptNumber('1,5', 0, 10)).toEqual({ value: 1.5 });
    expect(acceptNumber('\u22124', -10, 10)).toEqual({ value: -4 });
    expect(acceptNumber('11', 0, 10).why).toContain('between 0 and 10');
    expect(acceptNumber('1e3', 0, 10).why).toContain('no number');
    expect(acceptNumber('NaN', 0, 10).why).toContain('no number');
    expect(acceptNumber('', 0, 10, true)).toEqual({ value: null });
  });
});
