import { describe, expect, it } from 'vitest';
import type { FeedMark } from '../generated/types';
import { placeFeeds } from './feeds';
import { placeLabels, stride } from './labels';
import { nearest } from './nearest';
import { across, chainageAt, clampScale, fitScale, fullWidth, LEFT, RIGHT, scrollTo } from './scale';
import { roundStep, rulerTicks, voltTicks } from './ticks';
import { channelLines, lowestPoint, voltRange } from './voltRange';

describe('scale', () => {
  it('shows the whole rail between its margins', () => {
    const scale = fitScale(800, 24600);
    const view = { scale, scrolled: 0, width: 800 };
    expect(across(view, 0)).toBeCloseTo(LEFT);
    expect(across(view, 24600)).toBeCloseTo(800 - RIGHT);
    expect(fullWidth(scale, 24600)).toBeCloseTo(800);
  });
  it('finds the chainage under a place again', () => {
    const view = { scale: 0.37, scrolled: 412, width: 800 };
    expect(chainageAt(view, across(view, 14820))).toBeCloseTo(14820);
  });
  it('never zooms out beyond the whole rail nor in beyond two pixels a millimetre', () => {
    expect(clampScale(1e-9, 800, 24600)).toBe(fitScale(800, 24600));
    expect(clampScale(50, 800, 24600)).toBe(2);
    // A rail so short that it is seen closer than that when whole stays whole.
    expect(clampScale(50, 800, 100)).toBe(fitScale(800, 100));
  });
  it('keeps a chainage where it was while zooming', () => {
    const scrolled = scrollTo(1.5, 9000, 300);
    expect(across({ scale: 1.5, scrolled, width: 800 }, 9000)).toBeCloseTo(300);
  });
});

describe('ticks', () => {
  it('divides by one, two or five', () => {
    expect([roundStep(0.7), roundStep(1.2), roundStep(2.1), roundStep(900)]).toEqual([1, 2, 5, 1000]);
  });
  it('labels whole metres on a long rail and never past its end', () => {
    const ticks = rulerTicks(-500, 99999, 24600, 0.03, 'metric');
    const labels = ticks.filter((tick) => tick.label).map((tick) => tick.label);
    expect(labels).toEqual(['0 m', '5 m', '10 m', '15 m', '20 m']);
    expect(Math.max(...ticks.map((tick) => tick.value))).toBeLessThanOrEqual(24600);
  });
  it('shows decimals when zoomed in', () => {
    expect(rulerTicks(1000, 1200, 24600, 2, 'metric').find((tick) => tick.label)?.label).toMatch(/^\d\.\d\d m$/);
  });
  it('divides in feet and inches, whole feet from afar and inches from near', () => {
    const far = rulerTicks(0, 99999, 24600, 0.03, 'imperial').filter((tick) => tick.label);
    expect(far.map((tick) => tick.label).slice(0, 3)).toEqual(["0'", "10'", "20'"]);
    expect(far[1]?.value).toBeCloseTo(10 * 304.8, 6);
    expect(rulerTicks(0, 300, 24600, 2, 'imperial').filter((tick) => tick.label).map((tick) => tick.label)).toEqual(['0"', '3"', '6"', '9"']);
  });
  it('gives the axis of volts round lines inside its range', () => {
    const ticks = voltTicks(11.33, 11.91);
    expect(ticks.map((tick) => tick.label)).toEqual(['11.4', '11.6', '11.8']);
  });
});

describe('labels', () => {
  it('never lets two lie on one another in a row', () => {
    const labels = Array.from({ length: 40 }, (_, i) => ({ x: 60 + i * 17, text: 'movement joint', rank: i % 3 }));
    const placed = placeLabels(labels, 2, 56, 800);
    expect(placed.length).toBeGreaterThan(8);
    for (const row of [0, 1]) {
      const spans = placed.filter((label) => label.row === row).map((label) => [label.at - label.width / 2, label.at + label.width / 2] as const);
      spans.sort((a, b) => a[0] - b[0]);
      for (let i = 1; i < spans.length; i += 1) expect(spans[i]![0]).toBeGreaterThanOrEqual(spans[i - 1]![1]);
    }
  });
  it('keeps the more important when there is not room for both', () => {
    const placed = placeLabels([{ x: 100, text: 'a long name', rank: 5 }, { x: 102, text: 'joint', rank: 0 }], 1, 0, 200);
    expect(placed.map((label) => label.text)).toEqual(['joint']);
  });
  it('steps inside the picture at its edges', () => {
    const [placed] = placeLabels([{ x: 58, text: 'way in', rank: 0 }], 1, 56, 400);
    expect(placed!.at - placed!.width / 2).toBeGreaterThanOrEqual(56);
  });
  it('dimensions every so manyth hole when they are close', () => {
    expect(stride(87, 60, 780, 13.5)).toBe(2);
    expect(stride(133, 60, 780, 13.5)).toBe(5);
    expect(stride(10, 60, 780, 13.5)).toBe(1);
    expect(stride(1, 60, 60, 13.5)).toBe(1);
  });
});

describe('feeds', () => {
  const feed = (driver: string): FeedMark => ({
    driver,
    part: 'P',
    place: null,
    chainage_mm: 0,
    lead: null,
    leads_text: 'feeds 43 left, 39 right',
    mains_text: 'mains from the kiosk',
    also_serves: [],
    load: { value: 41, unit: 'W', decimals: 0 },
    rated: { value: 60, unit: 'W', decimals: 0 },
  });
  it('say which other rails their driver serves', () => {
    const [box] = placeFeeds([{ feed: { ...feed('D1'), also_serves: ['Ramp'] }, x: 100 }], 56, 1200);
    expect(box?.words?.lines[0]).toBe('feeds 43 left, 39 right · also serves Ramp');
  });
  it('keeps boxes apart and inside', () => {
    const boxes = placeFeeds([feed('D1'), feed('D2'), feed('D3')].map((each, i) => ({ feed: each, x: 380 + i })), 56, 780);
    for (let i = 1; i < boxes.length; i += 1) expect(boxes[i]!.left).toBeGreaterThanOrEqual(boxes[i - 1]!.left + boxes[i - 1]!.width);
    expect(boxes[0]!.left).toBeGreaterThanOrEqual(56);
    expect(boxes[2]!.left + boxes[2]!.width).toBeLessThanOrEqual(780);
  });
  it('puts the words where there is room, else leaves them to the explanation', () => {
    const [roomy] = placeFeeds([{ feed: feed('D1'), x: 400 }], 56, 780);
    expect(roomy!.words?.anchor).toBe('start');
    const [right] = placeFeeds([{ feed: feed('D1'), x: 770 }], 56, 780);
    expect(right!.words?.anchor).toBe('end');
    const [tight] = placeFeeds([{ feed: feed('D1'), x: 100 }], 56, 220);
    expect(tight!.words).toBeNull();
  });
});

describe('volts', () => {
  const point = (luminaire: string, chainage_mm: number, volts: number, channel = '') => ({ luminaire, channel, chainage_mm, volts });
  const chain = { circuit: 'D1.1a', unsolved: null, points: [point('A-2', 500, 11.6), point('A-1', 200, 11.7)] };
  const limits = [
    { name: 'drop of 5 %', volts: 11.4, governs: true },
    { name: "the luminaire's least", volts: 10.8, governs: false },
  ];
  it('always shows the limit in force, and the lowest luminaire under it too', () => {
    const range = voltRange([chain], limits)!;
    expect(range.least).toBeLessThan(11.4);
    expect(range.greatest).toBeGreaterThan(11.7);
    expect(voltRange([{ ...chain, points: [point('A-1', 0, 9.1)] }], limits)!.least).toBeLessThan(9.1);
    expect(voltRange([], limits)).toBeNull();
  });
  it('finds the luminaire that gets least', () => {
    expect(lowestPoint([chain])?.luminaire).toBe('A-2');
  });
  it('draws one line for each channel, by chainage', () => {
    const lines = channelLines({ ...chain, points: [point('A-2', 500, 1, 'r'), point('A-1', 200, 2, 'r'), point('A-1', 200, 3, 'g')] });
    expect(lines.map((points) => points.map((each) => each.luminaire))).toEqual([['A-1', 'A-2'], ['A-1']]);
  });
});

describe('nearest', () => {
  it('takes what is within reach and nothing else', () => {
    const items = [100, 200, 300];
    expect(nearest(items, (item) => item, 212, 1, 24)).toBe(200);
    expect(nearest(items, (item) => item, 250, 1, 24)).toBeNull();
  });
});
