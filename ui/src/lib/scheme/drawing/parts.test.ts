import { describe, expect, it } from 'vitest';
import { placeFeeds } from '../../drawing/feeds';
import { lanes } from '../../drawing/lanes';
import { across } from '../../drawing/scale';
import type { FeatureRow, FeedMark, RailPage } from '../../generated/types';
import { opened, survey } from '../scheme.fixture';
import { partsOf, walk, type RowName } from './parts';
import { partAt } from './point';

const feature: FeatureRow = { id: 'j1', shape: 'joint', chainage_mm: 2400, what: 'Joint', name: 'joint', width_mm: 8, keep_clear_mm: 40, bore: 'proved', bore_mark: 'pass', note: '' };
/** The fixture's stair with everything that the program may send. */
const page: RailPage = {
  ...opened(survey()).page.rails[0]!,
  features: [feature],
  links: [{ reference: 'K1', from_mm: 4000, to_mm: 4400, cores: 4 }],
  end_caps: [{ circuit: 'D1.1a', chainage_mm: 5900, poles: 4 }],
  controls: [{ device: 'B4', what: 'presence sensor', chainage_mm: 1650, reach: { from_mm: 0, to_mm: 3300 } }],
};
const rows = partsOf(page);

describe('the parts of a rail', () => {
  it('stand in rows from the top of the drawing down, each by chainage', () => {
    expect([...rows.keys()]).toEqual(['holes', 'luminaires', 'end caps', 'link leads', 'sensors and controls', 'features', 'leads', 'drivers']);
    for (const parts of rows.values()) {
      const chainages = parts.map((part) => part.chainage_mm);
      expect(chainages).toEqual([...chainages].sort((a, b) => a - b));
    }
  });
  it('are each explained by the program', () => {
    const asked = [...rows.values()].map(([part]) => part!.asked);
    expect(asked.map((each) => each.about)).toEqual(['position', 'luminaire_volts', 'end_cap', 'cable', 'control', 'feature', 'cable', 'driver_load']);
    expect(asked[2]).toEqual({ about: 'end_cap', circuit: 'D1.1a' });
    expect(asked[4]).toEqual({ about: 'control', device: 'B4' });
  });
  it('are one where a driver feeds the rail at two places, and each chain has a cap of its own', () => {
    const [feed] = page.feeds;
    const [cap] = page.end_caps;
    const more = partsOf({ ...page, feeds: [feed!, { ...feed!, chainage_mm: 5000, lead: 'E2' }], end_caps: [cap!, { ...cap!, circuit: 'D1.2a', chainage_mm: 100 }] });
    expect(more.get('drivers')!.map((part) => part.id)).toEqual(['D1']);
    expect(more.get('leads')!.map((part) => part.id)).toEqual(['E1', 'E2']);
    expect(more.get('end caps')!.length).toBe(2);
  });
  it('are walked by arrows, without falling off an end', () => {
    const last = rows.get('luminaires')!.at(-1)!;
    expect(walk(rows, null, 'ArrowRight')?.id).toBe('Stair-1');
    expect(walk(rows, last, 'ArrowRight')).toBeNull();
    expect(walk(rows, last, 'ArrowDown')?.row).toBe('end caps');
    expect(walk(rows, rows.get('drivers')![0]!, 'ArrowDown')).toBeNull();
    // From a row to the next one goes to what lies nearest along the rail.
    const joint = rows.get('features')![0]!;
    expect(walk(rows, { row: 'luminaires', id: 'Stair-9' }, 'ArrowUp')).toMatchObject({ row: 'holes', id: 'Stair-9' });
    expect(walk(rows, joint, 'ArrowUp')).toMatchObject({ row: 'sensors and controls', id: 'B4' });
  });
});

describe('pointing', () => {
  const at = lanes('tall');
  const view = { scale: 0.12, scrolled: 0, width: 800 };
  const boxes = placeFeeds(page.feeds.map((feed: FeedMark) => ({ feed, x: across(view, feed.chainage_mm) })), 56, 790);
  const tube = (at.tubeTop + at.tubeFoot) / 2;
  const under = (at.tubeFoot + at.ground) / 2;
  it.each<[string, number, number, RowName, string]>([
    ['a dimension', 450, at.dimensions - 10, 'holes', 'Stair-2'],
    ['a name over the tube', 2400, at.names[1], 'features', 'j1'],
    ['a luminaire', 1050, tube, 'luminaires', 'Stair-4'],
    ['an end cap beside a luminaire', 5900, tube, 'end caps', 'D1.1a'],
    ['a link lead under the tube', 4200, under, 'link leads', 'K1'],
    ['a sensor', 1650, under, 'sensors and controls', 'B4'],
    ['a lead', 3000, under, 'leads', 'E1'],
    ['a driver', 3000, at.powerTop + 10, 'drivers', 'D1'],
    ['the line of volts', 450, at.voltsFoot - 5, 'luminaires', 'Stair-2'],
  ])('at %s finds it', (_, mm, y, row, id) => {
    expect(partAt(page, rows, { x: across(view, mm), y }, view, at, boxes)).toMatchObject({ row, id });
  });
  it('at nothing finds nothing', () => {
    expect(partAt(page, rows, { x: 20, y: at.powerTop + 10 }, view, at, boxes)).toBeNull();
  });
});
