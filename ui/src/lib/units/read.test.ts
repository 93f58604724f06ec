import { describe, expect, it } from 'vitest';
import { readLength, type BareUnit, type Comma } from './read';

describe('a length', () => {
  // The first rows are the cases of the program's own reader (core/units/src/length.rs); the two readers must agree.
  it.each<[string, number]>([
    ['2450', 2450],
    ['2,450', 2450],
    ['2.45 m', 2450],
    ['2.45m', 2450],
    ['245 cm', 2450],
    ['0.5 mm', 0.5],
    ['8\' 3 1/2"', 2527.3],
    ['8 ft 3.5 in', 2527.3],
    ['1/2 in', 12.7],
    ['3/8"', 9.525],
    ['-12 mm', -12],
    ['12,345,678', 12345678],
    ['2,450.5', 2450.5],
    ['2\u202f450', 2450],
    ['8′ 3½″'.replace('½', ' 1/2'), 2527.3],
    ['3-1/2 in', 88.9],
    [' 1250 MM ', 1250],
    ['0', 0],
  ])('reads %j as %d mm', (text, mm) => {
    expect(readLength(text)).toEqual({ mm });
  });

  it.each(['', '   ', 'mm', 'NaN', 'Infinity', '1e9 m', '3 in 2 ft', '2 m 3 m', '101 km', '1/0 in', '12o0', '2 450 mm', '1..2', '.', ',', '--3', '1.2.3', '5 mm 3', '0x10', '９９', '1,23,456'])(
    'says why %j is none',
    (text) => {
      const read = readLength(text);
      expect(read.mm).toBeUndefined();
      expect(read.why!.length).toBeGreaterThan(10);
    },
  );

  it.each<[string, number]>([
    ['12,5', 12.5],
    ['12,5 m', 12500],
    ['1,25 m', 1250],
    ['2.450,5', 2450.5],
    ['0,75m', 750],
  ])('takes a comma for decimals where it can be nothing else: %j', (text, mm) => {
    expect(readLength(text)).toEqual({ mm });
  });

  it('asks rather than guesses where a comma could be either', () => {
    expect(readLength('2,450 m').why).toBe('2,450 m could be 2.450 m or 2450 m. Type it with a point, or without the comma.');
    expect(readLength('2,450', { bare: 'm' }).why).toContain('could be');
    expect(readLength('2,450 m', { comma: 'decimals' })).toEqual({ mm: 2450 });
    expect(readLength('2,450 m', { comma: 'groups' })).toEqual({ mm: 2450000 });
  });

  it.each<[string, BareUnit, Comma, number]>([
    ['1.1', 'm', 'plain', 1100],
    ['1,1', 'm', 'decimals', 1100],
    ['49 1/4', 'in', 'plain', 1250.95],
    ['4', 'ft', 'plain', 1219.2],
    ['4 mm', 'in', 'plain', 4],
  ])('reads a bare %j in %s', (text, bare, comma, mm) => {
    expect(readLength(text, { bare, comma })).toEqual({ mm });
  });

  it('shows only the beginning of a very long text', () => {
    expect(readLength('x'.repeat(50)).why).toContain('…');
    expect(readLength('1'.repeat(500)).why).toBe('That is too long to be a length.');
  });
});
