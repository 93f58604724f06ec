import { describe, expect, it } from 'vitest';
import { lengthsBeside, sentence } from './sentence';

describe('a sentence with lengths', () => {
  it.each<[string, string, string]>([
    ['past the way in at 27590 mm of rail A', 'past the way in at 27,590 mm of rail A', 'past the way in at 90\' 6 1/4" of rail A'],
    ['Found 12.5\u202fmm, limit 1,000 mm.', 'Found 12.5\u202fmm, limit 1,000 mm.', 'Found 1/2", limit 3\' 3 3/8".'],
    ['within 304.8 m', 'within 304.8 m', "within 1,000'"],
    ['post moved from 501 to 516 mm', 'post moved from 501 to 516 mm', 'post moved from 1\' 7 3/4" to 1\' 8 5/16"'],
    ['−25.4 mm and ±12.7 mm', '−25.4 mm and ±12.7 mm', '−1" and ±1/2"'],
  ])('%s', (text, metric, imperial) => {
    expect(sentence(text, 'metric')).toBe(metric);
    expect(sentence(text, 'imperial')).toBe(imperial);
  });
  it.each(['2 × 1.5 mm² and 90 mm³', '5 min, 300 s, 12 V, 4.6 mΩ/m', 'part M16 m, IP67', '0.74 kN/m at 3 m/s', 'A12 mm is a name'])('leaves %s alone', (text) => {
    expect(sentence(text, 'imperial')).toBe(text);
  });
  it('leaves what is quoted', () => {
    expect(sentence('label changed from “304.8 mm step” to “1 m”, post moved by 25.4 mm', 'imperial')).toBe('label changed from “304.8 mm step” to “1 m”, post moved by 1"');
  });
  it('leaves what people wrote themselves', () => {
    expect(sentence('Rail 5 m ramp (north) is 304.8 mm short', 'imperial', lengthsBeside(['5 m ramp (north)', 'Stair']))).toBe("Rail 5 m ramp (north) is 1' short");
  });
});
