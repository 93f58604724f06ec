import { describe, expect, it } from 'vitest';
import { bearingTo, fitPlan, fromEarth, scaleBar, toFrame, toScreen, turned, zoomPlan } from './frame';

const view = { x: 1000, y: 2000, scale: 0.1, width: 800, height: 600 };

describe('the plan', () => {
  it('goes to the screen and back, the y axis up', () => {
    expect(toScreen(view, { x: 1000, y: 3000 })).toEqual({ x: 400, y: 200 });
    expect(toFrame(view, toScreen(view, { x: -430, y: 77 }))).toEqual({ x: expect.closeTo(-430), y: expect.closeTo(77) });
  });
  it('keeps what is under the pointer while zooming', () => {
    const at = { x: 620, y: 110 };
    const before = toFrame(view, at);
    const after = toFrame(zoomPlan(view, 1.7, at), at);
    expect([after.x, after.y]).toEqual([expect.closeTo(before.x), expect.closeTo(before.y)]);
  });
  it('fits every place into the picture', () => {
    const spots = [{ x: 0, y: 0 }, { x: 60000, y: -12000 }, { x: 20000, y: 90000 }];
    const fitted = { ...view, ...fitPlan(spots, 800, 600) };
    for (const spot of spots) {
      const { x, y } = toScreen(fitted, spot);
      expect(x >= 20 && x <= 780 && y >= 20 && y <= 580).toBe(true);
    }
  });
  it('takes a round length for its bar', () => {
    expect(scaleBar(0.01, 120, 1000)).toEqual({ count: 10, px: 100 });
    expect(scaleBar(0.01, 120, 304.8)).toEqual({ count: 20, px: expect.closeTo(60.96) });
  });
});

describe('bearings', () => {
  it('stay within a turn and go clockwise from the y axis', () => {
    expect([turned(-10), turned(370), turned(359.96)]).toEqual([350, 10, 0]);
    expect(bearingTo({ x: 0, y: 0 }, { x: 5, y: 5 })).toBe(45);
    expect(bearingTo({ x: 0, y: 0 }, { x: -5, y: 0 })).toBe(270);
  });
});

describe('a position on the earth', () => {
  const origin = { latitude_deg: 54.75, longitude_deg: 3.25, accuracy_mm: null, bearing_deg: 0, level_mm: null };
  // A minute of latitude was once the nautical mile, 1852 m; on a ball of mean radius it is 1853.2 m.
  it('lies a nautical mile north for a minute of latitude', () => {
    const spot = fromEarth(origin, { latitude_deg: 54.75 + 1 / 60, longitude_deg: 3.25 });
    expect(spot.x).toBeCloseTo(0);
    expect(Math.abs(spot.y / 1000 - 1852)).toBeLessThan(5);
  });
  it('turns with the frame: true north lies to the left of a frame whose y axis points east of north', () => {
    const spot = fromEarth({ ...origin, bearing_deg: 90 }, { latitude_deg: 54.76, longitude_deg: 3.25 });
    expect(spot.x).toBeLessThan(-1e6);
    expect(spot.y).toBeCloseTo(0);
  });
});
