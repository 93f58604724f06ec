import { flushSync, mount, unmount, type Component } from 'svelte';
import { afterEach, describe, expect, it } from 'vitest';
import type { DriverPlace } from '../generated/survey';
import type { Asked, Explanation, FeatureRow, RailPage } from '../generated/types';
import FeatureTable from './FeatureTable.svelte';
import LockTable from './LockTable.svelte';
import VerdictSign from './VerdictSign.svelte';
import WhyPanel from './WhyPanel.svelte';

let shown: Record<string, unknown> | null = null;

function show<Props extends Record<string, unknown>>(component: Component<Props>, props: Props): HTMLElement {
  document.body.innerHTML = '<div id="app"></div>';
  const target = document.getElementById('app')!;
  shown = mount(component, { target, props });
  flushSync();
  return target;
}

afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

const FRAGMENT = '<img src=x onerror="alert(1)"><b>Stair</b>';

describe('a verdict', () => {
  it('is told by a shape and a word besides its colour', () => {
    const words = (['pass', 'caution', 'stop', 'not_evaluated'] as const).map((mark) => {
      const target = show(VerdictSign, { mark });
      return [target.textContent?.trim(), target.querySelector('svg > *')?.outerHTML.replace(/class="[^"]*"/, '')];
    });
    expect(words.map((each) => each[0])).toEqual(['pass', 'caution', 'stop', 'not evaluated']);
    // Pass and not evaluated are both round; the ring is dashed and empty.
    expect(new Set(words.map((each) => each[1])).size).toBe(3);
    expect(show(VerdictSign, { mark: 'not_evaluated' as const }).querySelector('.ring')).not.toBeNull();
  });
  it('counts in the plural', () => {
    expect(show(VerdictSign, { mark: 'caution' as const, count: 3 }).textContent?.trim()).toBe('3 cautions');
  });
});

describe('an explanation', () => {
  const explanation: Explanation = {
    figure: { value: 11.534, unit: 'V', decimals: 2 },
    title: FRAGMENT,
    mark: 'pass',
    steps: [
      { what: 'Driver', role: 'start', figure: { value: 11.94, unit: 'V', decimals: 2 }, note: FRAGMENT },
      { what: 'Lead', role: 'change', figure: { value: -0.406, unit: 'V', decimals: 3 }, note: '' },
      { what: 'At the luminaire', role: 'result', figure: { value: 11.534, unit: 'V', decimals: 3 }, note: '' },
    ],
    notes: [{ mark: 'stop', text: FRAGMENT }],
  };
  it('lists its steps in order and shows text as typed', () => {
    const target = show(WhyPanel, { explanation });
    const figures = [...target.querySelectorAll('.figure')].map((each) => each.textContent);
    expect(figures).toEqual(['11.94\u202fV', '\u22120.406\u202fV', '11.534\u202fV']);
    expect(target.querySelector('img')).toBeNull();
    expect(target.textContent?.split(FRAGMENT).length).toBe(4);
  });
});

describe('the table of features', () => {
  const row = (index: number): FeatureRow => ({
    id: `p${index}`,
    shape: 'post',
    chainage_mm: index * 1100,
    what: 'Post',
    name: '',
    width_mm: 42,
    keep_clear_mm: 40,
    bore: 'proved',
    bore_mark: 'pass',
    note: '',
  });
  it('draws what can be seen of a very long rail and says how long it is', () => {
    const page = { id: 'r', features: Array.from({ length: 5000 }, (_, index) => row(index)) } as unknown as RailPage;
    const target = show(FeatureTable, { page, asked: null, ask: () => undefined });
    expect(target.querySelectorAll('[data-feature]').length).toBeLessThan(60);
    expect(target.querySelector('table')?.getAttribute('aria-rowcount')).toBe('5001');
  });
});

describe('the table of locks', () => {
  it('shows what each costs and asks for it by its place in the list', () => {
    const hole = { lock: { kind: 'hole', at_mm: 700 }, what: 'Hole at 700 mm', cost: '0.00 EUR', departure_mm: 33.5, departure_without_mm: 0 };
    const driver = { lock: { kind: 'driver', place: 'kiosk', part: null }, what: 'Driver at Kiosk', cost: '30.30 EUR', departure_mm: null, departure_without_mm: null };
    const all = { lock: null, what: 'All of them together', cost: '41.00 EUR', departure_mm: null, departure_without_mm: null };
    const page = { id: 'r', locks: [hole, driver, driver, all] } as unknown as RailPage;
    const questions: Asked[] = [];
    const target = show(LockTable, { page, places: [{ id: 'kiosk', label: 'Kiosk' }] as DriverPlace[], asked: null, ask: (asked: Asked) => void questions.push(asked) });
    const cells = [...target.querySelectorAll('tbody tr')].map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent));
    expect(cells).toEqual([
      ['hole at 700\u202fmm', '0.00 EUR', '33.5', '0'],
      ['driver at Kiosk', '30.30 EUR', '', ''],
      ['driver at Kiosk', '30.30 EUR', '', ''],
      ['All of them together', '41.00 EUR', '', ''],
    ]);
    target.querySelector<HTMLButtonElement>('[data-lock="2"]')!.click();
    expect(questions).toEqual([{ about: 'lock', rail: 'r', index: 2 }]);
  });
});
