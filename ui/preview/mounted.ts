/** Mounts the survey stage over a site in memory. For tests only. */
import { flushSync, mount, tick, unmount } from 'svelte';
import type { Feature, Rail, Survey } from '../src/lib/generated/survey';
import SurveyStage from '../src/lib/survey/SurveyStage.svelte';
import { fakeBackend, type FakeBackend } from './fake';

const taped = (value_mm: number) => ({ value_mm, instrument: { kind: 'tape' as const, class: 'II' as const }, tolerance_mm: null });

export function post(id: string, at: number): Feature {
  return { id, label: '', chainage_mm: taped(at), keep_clear_mm: null, bore: { kind: 'unknown' }, note: '', kind: 'post', width_mm: 42, meets: { kind: 'saddle' }, into_post: { kind: 'unknown' } };
}

export function rail(id: string, label: string, features: Feature[], length = 12000): Rail {
  return {
    id,
    label,
    datum: { end: 'foot', mark: 'punch mark' },
    pieces: [{ kind: 'straight', id: `${id}-run`, length_mm: taped(length), slope_deg: 0, mark: null }],
    overall_mm: taped(length),
    tube: { profile: { kind: 'round' }, outside_diameter_mm: taped(42.4), wall_mm: taped(2.6), material: { kind: 'stainless_steel' }, grade: null, finish: null },
    height_mm: null,
    walking_width_mm: null,
    walked_side: 'left',
    start_end: 'open',
    far_end: 'open',
    features,
    sketch: { start: { x_mm: 0, y_mm: 0, z_mm: 0, measured: true }, bearing_deg: 90 },
    ownership: null,
    bonding: { bonded: 'unknown', lightning: 'unknown', near_traction: 'unknown' },
    guard: 'unknown',
    sealed: 'unknown',
    drains: 'unknown',
    exposure: null,
    note: '',
  };
}

export function surveyOf(...rails: Rail[]): Survey {
  return {
    schema_version: 1,
    site: {
      id: 'site', label: 'Test site', address: '', invented: true, surveyed_on: null, surveyor: null, origin: null, note: '',
      exposure: { setting: 'outdoor_open', salt: { salt_water_mm: null, deicing_mm: null }, cleaning: '', public_reach: 'public_always', least_temperature_c: -10, greatest_temperature_c: 35, in_sun: true, special: null },
    },
    rails,
    mains_points: [],
    driver_places: [],
    routes: [],
    photos: [],
    brief: { rails: [], zones: [], reserve_percent: 20, drop_percent: 5, loop_per_hole_mm: 100, spare_percent: 2 },
  };
}

/** The stage on the screen, and what can be done to it. */
export class Mounted {
  readonly backend: FakeBackend;
  readonly page: HTMLElement;
  #shown: Record<string, unknown>;

  constructor(survey: Survey) {
    // Nothing is laid out without a browser; drawing and table then are as large as this says.
    Object.defineProperty(HTMLElement.prototype, 'clientWidth', { configurable: true, get: () => 800 });
    Object.defineProperty(HTMLElement.prototype, 'clientHeight', { configurable: true, get: () => 600 });
    document.body.innerHTML = '<div id="app"></div>';
    this.page = document.getElementById('app')!;
    this.backend = fakeBackend(survey);
    this.#shown = mount(SurveyStage, { target: this.page, props: { opened: this.backend.opened(), backend: this.backend } });
    flushSync();
  }

  get<Kind extends HTMLElement = HTMLElement>(selector: string): Kind {
    const found = this.page.querySelector<Kind>(selector);
    if (!found) throw new Error(`nothing is ${selector}`);
    return found;
  }
  all(selector: string): HTMLElement[] {
    return [...this.page.querySelectorAll<HTMLElement>(selector)];
  }
  button(words: string): HTMLButtonElement {
    const found = this.all('button').find((each) => each.textContent?.trim().startsWith(words) || each.getAttribute('aria-label') === words);
    if (!found) throw new Error(`no button says ${words}`);
    return found as HTMLButtonElement;
  }
  /** Types into a field and presses a key. */
  async type(selector: string, text: string, key = 'Enter'): Promise<void> {
    const input = this.get<HTMLInputElement>(selector);
    input.focus();
    input.value = text;
    input.dispatchEvent(new Event('input', { bubbles: true }));
    this.press(input, key);
    await this.settle();
  }
  press(target: EventTarget, key: string, extra: KeyboardEventInit = {}): void {
    target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true, ...extra }));
    flushSync();
  }
  async settle(): Promise<void> {
    for (let round = 0; round < 4; round += 1) {
      await new Promise((done) => setTimeout(done, 0));
      await tick();
    }
    flushSync();
  }
  async close(): Promise<void> {
    await unmount(this.#shown);
  }
}
