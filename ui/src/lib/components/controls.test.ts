import { flushSync, mount, unmount } from 'svelte';
import { afterEach, describe, expect, it } from 'vitest';
import type { ZoneLine } from '../generated/types';
import ControlTable from './ControlTable.svelte';

let shown: Record<string, unknown> | null = null;

function show(zones: ZoneLine[]): HTMLElement {
  document.body.innerHTML = '<div id="app"></div>';
  const target = document.getElementById('app')!;
  shown = mount(ControlTable, { target, props: { zones, asked: null, ask: () => undefined } });
  flushSync();
  return target;
}

afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

const STAIR: ZoneLine = {
  id: 'stair',
  label: '<b>Stair</b>',
  control: 'on at presence after dusk; lights stairs',
  devices: [
    { device: 'B1', part: 'SENSOR', place: 'post p1', cable: 'C1', settings: [{ name: 'hold time', value: '300 s' }, { name: 'dusk threshold', value: '20 lx' }] },
    { device: 'K1', part: 'RELAY', place: 'Foot, between driver output and D1.1a', cable: null, settings: [] },
  ],
};

describe('the controls of a site', () => {
  it('names every device with its part, place, cable and settings', () => {
    const target = show([STAIR]);
    const rows = [...target.querySelectorAll('[data-device]')].map((row) => row.textContent?.replace(/\s+/g, ' ').trim());
    expect(rows).toEqual(['B1SENSOR, post p1, cable C1 hold time: 300 sdusk threshold: 20 lx', 'K1RELAY, Foot, between driver output and D1.1a']);
    expect(target.querySelector('caption')?.textContent).toContain('lights stairs');
  });
  it('shows text as typed', () => {
    const target = show([STAIR]);
    expect(target.querySelector('caption')?.textContent).toContain('<b>Stair</b>');
  });
  it('says so where there is nothing to show', () => {
    expect(show([{ ...STAIR, devices: [] }]).textContent).toContain('No device is needed.');
    expect(show([]).textContent).toContain('No zone has lit rails.');
  });
});
