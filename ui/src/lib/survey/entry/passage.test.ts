import { describe, expect, it } from 'vitest';
import type { Passage } from '../../generated/survey';
import { readPassage } from './passage';

const unknown: Passage = { kind: 'unknown' };

describe('a passage', () => {
  it.each<[string, Passage]>([
    ['16', { kind: 'proved', how: 'draw_wire', widest_mm: 16 }],
    ['16 mm', { kind: 'proved', how: 'draw_wire', widest_mm: 16 }],
    ['1.6 cm c', { kind: 'proved', how: 'camera', widest_mm: 16 }],
    ['12 s', { kind: 'proved', how: 'seen', widest_mm: 12 }],
    ['12 d', { kind: 'proved', how: 'draw_wire', widest_mm: 12 }],
    ['1/2 in c', { kind: 'proved', how: 'camera', widest_mm: 12.7 }],
    ['a', { kind: 'assumed' }],
    ['Assumed', { kind: 'assumed' }],
    ['b', { kind: 'blocked', how: 'seen' }],
    ['b c', { kind: 'blocked', how: 'camera' }],
    ['?', unknown],
    ['', unknown],
    ['u', unknown],
  ])('reads %j', (text, passage) => {
    expect(readPassage(text, unknown)).toEqual({ passage });
  });
  it('keeps how it was proved', () => {
    expect(readPassage('14', { kind: 'proved', how: 'camera', widest_mm: 16 })).toEqual({ passage: { kind: 'proved', how: 'camera', widest_mm: 14 } });
  });
  it.each(['yes', '0', '-4', '16 q', 'c', 'proved'])('says what is wrong with %j', (text) => {
    expect(readPassage(text, unknown).why).toBeTruthy();
  });
});
