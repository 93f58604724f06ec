import { flushSync, mount, unmount } from 'svelte';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Survey } from '../generated/survey';
import type { Opened } from '../generated/types';
import { units } from '../units/setting.svelte';
import { opened, program, survey, type FakeProgram } from './scheme.fixture';
import SchemeStage from './SchemeStage.svelte';
import { KEY_TO_DRAWING } from '../stopwatch';

let shown: Record<string, unknown> | null = null;
let page: HTMLElement;
let fake: FakeProgram;

/** Lets every answer that is due arrive and be drawn. */
async function settle(): Promise<void> {
  for (let turn = 0; turn < 4; turn += 1) {
    await new Promise((done) => setTimeout(done, 0));
    flushSync();
  }
}

async function show(site: Survey = survey(), readOnly = false, changed?: (next: Opened) => void): Promise<void> {
  document.body.innerHTML = '<div id="app"></div>';
  page = document.getElementById('app')!;
  fake = program(site);
  shown = mount(SchemeStage, { target: page, props: { opened: opened(site), backend: fake, readOnly, changed } });
  await settle();
  fake.tries = [];
  fake.mostAtOnce = 0;
}

const find = <Kind extends HTMLElement = HTMLElement>(selector: string) => {
  const found = page.querySelector<Kind>(selector);
  if (!found) throw new Error(`nothing here is ${selector}`);
  return found;
};
const field = (name: string) => find<HTMLInputElement>(`[data-field="${name}"]`);
const figure = (name: string) => find(`[data-figure="${name}"]`).textContent;
function type(name: string, text: string): void {
  field(name).value = text;
  field(name).dispatchEvent(new Event('input', { bubbles: true }));
  flushSync();
}
function press(target: HTMLElement, key: string, more: KeyboardEventInit = {}): void {
  target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true, ...more }));
  flushSync();
}
const spacing = (spacing_mm: number) => ({ kind: 'set_rail_brief', rail: 'stair', change: { kind: 'target', value: { kind: 'spacing', spacing_mm } } });
const holes = (...holes_mm: number[]) => ({ kind: 'set_rail_brief', rail: 'stair', change: { kind: 'locks', value: { holes_mm, drivers: [] } } });
const lamps = () => page.querySelectorAll('[data-drawing="Drawing"] [data-luminaire]').length;

// The test's browser lays nothing out; a drawing without width shows nothing.
Object.defineProperty(HTMLElement.prototype, 'clientWidth', { configurable: true, get: () => 800 });
Object.defineProperty(HTMLElement.prototype, 'clientHeight', { configurable: true, get: () => 800 });

beforeEach(() => {
  units.system = 'metric';
  performance.clearMeasures();
});
afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

describe('typing a target spacing', () => {
  it('tries the right edit, keeps nothing, and draws it', async () => {
    await show();
    const before = lamps();
    type('spacing', '200');
    await settle();
    expect(fake.tries).toEqual([[spacing(200)]]);
    expect(fake.edits).toEqual([]);
    expect(before).toBe(20);
    expect(lamps()).toBe(30);
    expect(figure('luminaires')).toContain('+10');
  });

  it('has one trial under way at a time, and draws only the last answer', async () => {
    await show();
    fake.holds = true;
    type('spacing', '60');
    await settle();
    type('spacing', '600');
    type('spacing', '400');
    await settle();
    expect(fake.tries).toEqual([[spacing(60)]]);
    fake.letGo();
    await settle();
    // The answer to what was typed first has come; what is drawn is still what is kept.
    expect(lamps()).toBe(20);
    expect(fake.tries).toEqual([[spacing(60)], [spacing(400)]]);
    fake.letGo();
    await settle();
    expect(lamps()).toBe(15);
    expect(fake.mostAtOnce).toBe(1);
  });

  it('measures from the key to the changed drawing', async () => {
    await show();
    type('spacing', '200');
    await settle();
    await new Promise((done) => setTimeout(done, 60));
    const [measured] = performance.getEntriesByName(KEY_TO_DRAWING);
    expect(measured?.duration).toBeGreaterThan(0);
  });

  it('keeps one edit with Enter, and no second one when the field is left', async () => {
    await show();
    type('spacing', '20 cm');
    press(field('spacing'), 'Enter');
    field('spacing').dispatchEvent(new FocusEvent('blur'));
    await settle();
    expect(fake.edits).toEqual([[spacing(200)]]);
    expect(lamps()).toBe(30);
    expect(field('spacing').value).toBe('200');
  });

  it('goes back to what is kept with Escape', async () => {
    await show();
    type('spacing', '200');
    await settle();
    press(field('spacing'), 'Escape');
    await settle();
    expect(lamps()).toBe(20);
    expect(field('spacing').value).toBe('300');
    expect(fake.edits).toEqual([]);
  });

  it('says what is accepted where it cannot be read, and tries nothing', async () => {
    await show();
    type('spacing', 'wide');
    press(field('spacing'), 'Enter');
    await settle();
    expect(find('[role="alert"]').textContent).toContain('is no length');
    expect([...fake.tries, ...fake.edits]).toEqual([]);
  });

  it('reads and shows inches where the person reads inches', async () => {
    units.system = 'imperial';
    await show();
    type('spacing', '8');
    press(field('spacing'), 'Enter');
    await settle();
    expect(fake.edits).toEqual([[spacing(203.2)]]);
    expect(field('spacing').value).toBe('8"');
  });
});

describe('a comparison', () => {
  const row = (name: string) => [...find(`[data-row="${name}"]`).querySelectorAll('td')].map((cell) => cell.textContent);

  it('shows the figures of both briefs and keeps nothing until one is taken', async () => {
    await show();
    find('[data-action="compare"]').click();
    flushSync();
    type('spacing', '150');
    press(field('spacing'), 'Enter');
    await settle();
    expect(row('luminaires')).toEqual(['20', '40', '+20']);
    expect(row('drivers')).toEqual(['1', '1', 'same']);
    expect(row('least-volts')).toEqual(['11.71', '11.51', '\u22120.20']);
    expect(row('departure')).toEqual(['100', '25', '\u221275']);
    expect(row('findings-stop')).toEqual(['0', '1', '+1']);
    expect(row('cost')).toEqual(['300.00', '500.00', '+200.00']);
    expect(row('gap')).toEqual(['none', '5.00', '']);
    expect([...page.querySelectorAll('[data-drawing]')].map((each) => each.querySelectorAll('[data-luminaire]').length)).toEqual([20, 40]);
    expect(fake.edits).toEqual([]);

    find('[data-action="take"]').click();
    await settle();
    expect(fake.edits).toEqual([[spacing(150)]]);
    expect(lamps()).toBe(40);
  });

  it('follows what is typed into the other brief, by its own target', async () => {
    await show();
    find('[data-action="compare"]').click();
    flushSync();
    type('spacing', '150');
    await settle();
    expect(row('departure')).toEqual(['100', '25', '\u221275']);
    press(field('spacing'), 'Escape');
    await settle();
    expect(row('luminaires')).toEqual(['20', '20', 'same']);
    expect(find<HTMLButtonElement>('[data-action="take"]').disabled).toBe(true);
  });

  it('is dropped without a trace', async () => {
    await show();
    find('[data-action="compare"]').click();
    flushSync();
    type('spacing', '150');
    press(field('spacing'), 'Enter');
    await settle();
    find('[data-action="leave"]').click();
    await settle();
    expect(fake.edits).toEqual([]);
    expect(lamps()).toBe(20);
    expect(field('spacing').value).toBe('300');
  });

  it('takes all that was changed as one edit, each field by its last word', async () => {
    await show();
    find('[data-action="compare"]').click();
    flushSync();
    type('spacing', '150');
    press(field('spacing'), 'Enter');
    type('margin-least', '50');
    press(field('margin-least'), 'Enter');
    type('spacing', '180');
    press(field('spacing'), 'Enter');
    await settle();
    find('[data-action="take"]').click();
    await settle();
    expect(fake.edits).toEqual([[{ kind: 'set_rail_brief', rail: 'stair', change: { kind: 'end_margin_least_mm', value: 50 } }, spacing(180)]]);
  });
});

describe('a lock', () => {
  it('shows what the plan says of it, and asks why', async () => {
    await show();
    const lock = find('[data-lock="hole 1250"]');
    // Here the hole at 1,250 mm takes the place of the one at 1,350 mm: as many luminaires, gaps of 200 and 400 mm.
    expect(lock.textContent).toContain('0.00 EUR; worst departure 0\u202fmm → 100\u202fmm');
    lock.querySelector<HTMLButtonElement>('.cost')!.click();
    await settle();
    expect(fake.asked.at(-1)).toEqual({ about: 'lock', rail: 'stair', index: 0 });
  });

  it('is weighed by the plan and never by a trial of its own, and let go by an edit without it', async () => {
    await show();
    fake.tries = [];
    type('reserve', '30');
    press(field('reserve'), 'Enter');
    await settle();
    expect(fake.tries).not.toContainEqual([holes()]);
    find('[data-lock="hole 1250"] .button').click();
    await settle();
    expect(fake.edits.at(-1)).toEqual([holes()]);
    expect(page.querySelector('[data-lock]')).toBeNull();
  });

  it('is told from another kept hole beside it by its place', async () => {
    const site = survey();
    site.brief.rails[0]!.locks.holes_mm = [450, 1250];
    await show(site);
    // The hole at 450 mm stands where the layout has one anyway, so that without it nothing moves.
    expect(find('[data-lock="hole 450"]').textContent).toContain('worst departure stays 100\u202fmm');
    expect(find('[data-lock="hole 1250"]').textContent).toContain('worst departure 0\u202fmm → 100\u202fmm');
    find('[data-lock="hole 1250"] .cost').click();
    await settle();
    expect(fake.asked.at(-1)).toEqual({ about: 'lock', rail: 'stair', index: 1 });
  });

  it('is listed as often as a file has it', async () => {
    const site = survey();
    site.brief.rails[0]!.locks.holes_mm = [1250, 1250];
    await show(site);
    expect(page.querySelectorAll('[data-lock="hole 1250"]').length).toBe(2);
  });

  it('keeps the chosen hole by a key, and by its button in the table', async () => {
    await show();
    const drawing = find('[data-drawing]');
    press(drawing, 'ArrowUp');
    press(drawing, 'Home');
    await settle();
    press(drawing, 'l');
    await settle();
    expect(fake.edits).toEqual([[holes(150, 1250)]]);
    find('[data-keep="Stair-2"]').click();
    await settle();
    expect(fake.edits.at(-1)).toEqual([holes(150, 450, 1250)]);
    find('[data-keep="Stair-1"]').click();
    await settle();
    expect(fake.edits.at(-1)).toEqual([holes(450, 1250)]);
  });

  it('moves a kept hole by keys: tried on the way, kept by Enter, taken back by Escape', async () => {
    await show();
    const drawing = find('[data-drawing]');
    find('[data-position="Stair-5"]').click();
    await settle();
    fake.tries = [];
    press(drawing, 'ArrowRight', { altKey: true });
    press(drawing, 'ArrowRight', { altKey: true, shiftKey: true });
    await settle();
    expect(fake.tries).toEqual([[holes(1251)], [holes(1261)]]);
    press(drawing, 'Escape');
    await settle();
    expect(fake.edits).toEqual([]);
    press(drawing, 'ArrowLeft', { altKey: true });
    press(drawing, 'Enter');
    await settle();
    expect(fake.edits).toEqual([[holes(1249)]]);
  });

  it('keeps a driver where it stands, and at another place', async () => {
    await show();
    find('#tab-drivers').click();
    flushSync();
    find('[data-keep-driver="store"]').click();
    await settle();
    const drivers = (...places: string[]) => ({ kind: 'set_rail_brief', rail: 'stair', change: { kind: 'locks', value: { holes_mm: [1250], drivers: places.map((place) => ({ place, part: null })) } } });
    expect(fake.edits).toEqual([[drivers('store')]]);
    const places = find<HTMLSelectElement>('[data-field="keep-driver"]');
    places.value = 'kiosk';
    places.dispatchEvent(new Event('change', { bubbles: true }));
    await settle();
    expect(fake.edits.at(-1)).toEqual([drivers('store', 'kiosk')]);
  });
});

describe('a reason', () => {
  it('opens by keys alone for luminaires, holes, leads and drivers', async () => {
    await show();
    fake.asked = [];
    const drawing = find('[data-drawing]');
    for (const key of ['ArrowRight', 'ArrowUp', 'ArrowDown', 'ArrowDown', 'ArrowDown']) {
      press(drawing, key);
      await settle();
    }
    expect(fake.asked.map((asked) => asked.about)).toEqual(['position', 'luminaire_volts', 'cable', 'driver_load']);
    expect(find('.right').dataset.panel).toBe('why');
    expect(find('#why').textContent).toContain('driver_load');
  });

  it('waits until what was changed before is kept', async () => {
    await show();
    const order: string[] = [];
    const { edit, explain } = fake;
    fake.edit = async (edits) => {
      await new Promise((done) => setTimeout(done, 5));
      order.push('kept');
      return edit(edits);
    };
    fake.explain = (asked) => {
      order.push('asked');
      return explain(asked);
    };
    type('spacing', '200');
    press(field('spacing'), 'Enter');
    find('[data-figure="least-volts"]').click();
    await new Promise((done) => setTimeout(done, 20));
    await settle();
    expect(order).toEqual(['kept', 'asked']);
  });
});

describe('a brief', () => {
  it('lights a rail that had none, and stops lighting it', async () => {
    await show();
    find('[data-rail="ramp"]').click();
    await settle();
    find('.brief .button.main').click();
    await settle();
    expect(fake.edits[0]).toMatchObject([{ kind: 'add_rail_brief', new: { rail: 'ramp', zone: 'steps', lamps: 'points' } }]);
    find('.brief .button.small').click();
    await settle();
    expect(fake.edits[1]).toEqual([{ kind: 'remove', thing: { kind: 'rail_brief', rail: 'ramp' } }]);
  });

  it('changes the kind of light together with what goes with it', async () => {
    await show();
    const light = find<HTMLSelectElement>('[data-field="light"]');
    light.value = 'fixed_colour';
    light.dispatchEvent(new Event('change', { bubbles: true }));
    await settle();
    expect(fake.edits).toEqual([[{ kind: 'set_rail_brief', rail: 'stair', change: { kind: 'light', value: { kind: 'fixed_colour', colour: 'amber' } } }]]);
    expect(page.querySelector('[data-field="kelvin"]')).toBeNull();
    expect(field('colour').value).toBe('amber');
  });

  it('edits the zone and the whole site', async () => {
    await show();
    type('zone-dusk', '');
    press(field('zone-dusk'), 'Enter');
    type('drop', '4,5');
    press(field('drop'), 'Enter');
    await settle();
    expect(fake.edits).toMatchObject([
      [{ kind: 'set_zone', id: 'steps', change: { kind: 'control', value: { kind: 'dusk', dusk_lux: null } } }],
      [{ kind: 'set_brief', change: { kind: 'drop_percent', value: 4.5 } }],
    ]);
  });

  it('cannot be changed where the site is only to be looked at', async () => {
    await show(survey(), true);
    expect(field('spacing').disabled).toBe(true);
    expect(page.querySelector('[data-action="compare"]')).toBeNull();
    expect(page.querySelector('[data-keep]')).toBeNull();
    press(find('[data-drawing]'), 'l');
    await settle();
    expect(fake.edits).toEqual([]);
  });

  it('says why a change was not kept, and shows the site as it is', async () => {
    await show();
    fake.edit = () => Promise.reject({ message: 'this cannot be kept as it is', faults: ['spacing: 0 is not accepted'] });
    type('spacing', '200');
    press(field('spacing'), 'Enter');
    await settle();
    expect(find('.refusal').textContent).toContain('spacing: 0 is not accepted');
    expect(lamps()).toBe(20);
  });
});

describe('the shell', () => {
  it('is told the site after each change, once', async () => {
    const told: Opened[] = [];
    await show(survey(), false, (next) => told.push(next));
    type('spacing', '200');
    press(field('spacing'), 'Enter');
    await settle();
    expect(told.length).toBe(1);
    expect(told[0]!.survey.brief.rails[0]!.target).toEqual({ kind: 'spacing', spacing_mm: 200 });
  });
});

describe('text from a survey', () => {
  it('shows as it was typed', async () => {
    const fragment = '<img src=x onerror="alert(1)"><b>Stair</b>';
    const site = survey(fragment);
    site.brief.zones[0]!.label = fragment;
    site.driver_places[0]!.label = fragment;
    await show(site);
    expect(page.querySelector('img')).toBeNull();
    expect(find('.rail h2').textContent).toBe(fragment);
    expect(find('#brief-zone').textContent).toBe(`Zone ${fragment}`);
    expect(find('[data-field="keep-driver"]').textContent).toContain(fragment);
  });
});
