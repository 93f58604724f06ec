import { describe, expect, it } from 'vitest';
import { MOST, readEntry, type Above } from './chainages';

const above: Above = { at: 1601, spacing: 1100 };
const top: Above = { at: null, spacing: null };

describe('a chainage', () => {
  it.each<[string, number[]]>([
    ['2700', [2700]],
    ['2.7 m', [2700]],
    ['+1100', [2701]],
    ['+ 1.1 m', [2701]],
    ['x3', [2701, 3801, 4901]],
    ['*3', [2701, 3801, 4901]],
    ['×3', [2701, 3801, 4901]],
    ['X 2', [2701, 3801]],
    ['+995 x2', [2596, 3591]],
    ['+995*2', [2596, 3591]],
    ['500 +1000 x2', [500, 1500, 2500]],
    ['500+1000', [500, 1500]],
    ['+3 ft', [2515.4]],
    ['0', [0]],
  ])('reads %j', (text, chainages) => {
    expect(readEntry(text, above)).toEqual({ chainages });
  });

  it('does not drift when a spacing of tenths is repeated', () => {
    const { chainages } = readEntry('+0.1 x300', { at: 0, spacing: null });
    expect(chainages!.at(-1)).toBe(30);
  });

  it.each<[string, Above, string]>([
    ['', above, 'Type a chainage'],
    ['abc', above, 'is no length'],
    ['-5', above, 'never less than 0'],
    ['+', above, 'After the + stands the spacing'],
    ['+-5', above, 'more than 0'],
    ['+0', above, 'more than 0'],
    ['+5 +6', above, 'one spacing'],
    ['x', above, 'how often'],
    ['x0', above, 'how often'],
    ['x-2', above, 'how often'],
    ['x1.5', above, 'how often'],
    ['x2x3', above, 'once'],
    [`x${MOST + 1}`, above, 'at most'],
    ['1100 x12', above, '+1100 x12'],
    ['+1100', top, 'no row above'],
    ['x12', top, 'not two rows above'],
    ['x12', { at: 500, spacing: null }, 'not two rows above'],
    ['2,450 m', above, 'could be'],
  ])('says what is wrong with %j', (text, where, why) => {
    expect(readEntry(text, where).why).toContain(why);
  });

  it('reads bare numbers in the unit of the column', () => {
    expect(readEntry('+36', { at: 25.4, spacing: null }, 'in')).toEqual({ chainages: [939.8] });
  });
});
