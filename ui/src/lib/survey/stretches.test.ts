import { describe, expect, it } from 'vitest';
import { post, rail } from '../../../preview/mounted';
import { spans } from '../../../preview/page';
import type { Feature, Passage } from '../generated/survey';
import { stretches } from './stretches';

const proved = (widest_mm: number): Passage => ({ kind: 'proved', how: 'draw_wire', widest_mm });
const at = (mm: number, bore: Passage): Feature => ({ ...post(`p${mm}`, mm), bore });
function of(...features: Feature[]): string[] {
  const given = rail('r', 'R', features, 4000);
  return stretches(given, spans(given)).map((each) => `${each.startMm}-${each.endMm} ${each.state}${each.widestMm === null ? '' : ` ${each.widestMm}`}`);
}

describe('stretches of bore', () => {
  it('are unknown where nothing was stated, and none where there is no rail', () => {
    expect(of()).toEqual(['0-4000 unknown']);
    const none = { ...rail('r', 'R', []), pieces: [] };
    expect(stretches(none, [])).toEqual([]);
  });
  it('take what was stated to both ends, and the narrowest proof of a stretch', () => {
    expect(of(at(500, proved(16)), at(1500, proved(12)), at(3000, proved(16)))).toEqual(['0-4000 proved 12']);
  });
  it('are only as good as the worse of their two ends', () => {
    expect(of(at(500, proved(16)), at(1500, { kind: 'unknown' }), at(3000, proved(14)))).toEqual(['0-500 proved 16', '500-3000 unknown', '3000-4000 proved 14']);
    expect(of(at(500, { kind: 'assumed' }), at(1500, { kind: 'blocked', how: 'seen' }))).toEqual(['0-500 assumed', '500-4000 blocked']);
  });
  it('do not mind the order in which features were entered', () => {
    expect(of(at(3000, proved(16)), at(500, { kind: 'unknown' }))).toEqual(['0-3000 unknown', '3000-4000 proved 16']);
  });
});
