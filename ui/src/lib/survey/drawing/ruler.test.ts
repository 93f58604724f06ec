import { describe, expect, it } from 'vitest';
import { ticksOf } from './ruler';

const labels = (...given: Parameters<typeof ticksOf>) => ticksOf(...given).flatMap((tick) => (tick.label ? [tick.label] : []));

describe('the ruler', () => {
  it('goes by metres from afar and by parts of a metre from near, never past the end of the rail', () => {
    expect(labels('metric', 0, 99999, 24600, 0.03)).toEqual(['0 m', '5 m', '10 m', '15 m', '20 m']);
    expect(labels('metric', 1000, 1200, 24600, 2)[0]).toMatch(/^1\.\d\d m$/);
    expect(Math.max(...ticksOf('metric', 0, 99999, 24600, 0.03).map((tick) => tick.value))).toBeLessThanOrEqual(24600);
  });
  it('goes by feet from afar and by inches from near', () => {
    expect(labels('imperial', 0, 99999, 24600, 0.03)).toEqual(["0'", "10'", "20'", "30'", "40'", "50'", "60'", "70'", "80'"]);
    expect(labels('imperial', 0, 305, 24600, 2)).toEqual(["0'", '3"', '6"', '9"', "1'"]);
  });
  it('leaves each label its room', () => {
    for (const system of ['metric', 'imperial'] as const)
      for (const scale of [0.004, 0.02, 0.11, 0.5, 2]) {
        const at = ticksOf(system, 0, 200000, 200000, scale).filter((tick) => tick.label).map((tick) => tick.value * scale);
        for (let index = 1; index < at.length; index += 1) expect(at[index]! - at[index - 1]!).toBeGreaterThanOrEqual(40);
      }
  });
});
