import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Mounted, post, rail, surveyOf } from '../../../../preview/mounted';
import type { Survey } from '../../generated/survey';
import { units } from '../../units/setting.svelte';

let stage: Mounted;

/** The control that a label names, in a part of the page. */
function field(words: string, within = 'body'): HTMLInputElement {
  const label = [...document.querySelectorAll<HTMLLabelElement>(`${within} label`)].find((each) => each.textContent?.trim().startsWith(words));
  const control = label?.htmlFor ? document.getElementById(label.htmlFor) : null;
  if (!control) throw new Error(`no field is called ${words}`);
  return control as HTMLInputElement;
}
async function fill(words: string, text: string, within = 'body'): Promise<void> {
  const control = field(words, within);
  control.focus();
  control.value = text;
  control.dispatchEvent(new Event(control.tagName === 'SELECT' ? 'change' : 'input', { bubbles: true }));
  control.dispatchEvent(new FocusEvent('blur'));
  await stage.settle();
}
async function show(survey: Survey, tab?: string): Promise<void> {
  stage = new Mounted(survey);
  if (tab) stage.get(`#survey-tab-${tab}`).click();
  await stage.settle();
}
const last = () => stage.backend.sent.at(-1);

beforeEach(() => {
  units.system = 'metric';
});
afterEach(() => stage.close());

describe('the tube', () => {
  beforeEach(() => show(surveyOf(rail('r', 'Stair', [])), 'tube'));
  it('writes one field as one edit when it is left', async () => {
    await fill('Outside diameter', '48,3', '#survey-sheet');
    expect(stage.backend.sent).toEqual([[{ kind: 'set_rail', rail: 'r', change: { kind: 'tube_outside_diameter_mm', value: expect.objectContaining({ value_mm: 48.3 }) } }]]);
    await fill('Outside diameter', '48.3', '#survey-sheet');
    expect(stage.backend.sent.length).toBe(1);
  });
  it('takes an empty wall for unknown and shows it as such', async () => {
    await fill('Wall', '', '#survey-sheet');
    expect(last()).toEqual([{ kind: 'set_rail', rail: 'r', change: { kind: 'tube_wall_mm', value: null } }]);
    expect(field('Wall', '#survey-sheet').placeholder).toBe('unknown');
    expect(stage.get('#survey-sheet').textContent).toContain('The wall of rail Stair is not measured.');
  });
  it('keeps a wrong entry with its reason and writes nothing', async () => {
    await fill('Wall', '2.6 furlongs', '#survey-sheet');
    expect(stage.backend.sent).toEqual([]);
    expect(field('Wall', '#survey-sheet').value).toBe('2.6 furlongs');
    expect(stage.get('#survey-sheet').textContent).toContain('“2.6 furlongs” is no length');
    await fill('Outside diameter', '0', '#survey-sheet');
    expect(stage.backend.sent).toEqual([]);
  });
  it('asks for the slot before a slotted shape is written', async () => {
    await fill('Shape', 'round_slotted', '#survey-sheet');
    expect(stage.backend.sent).toEqual([]);
    await fill('Slot width', '24', '#survey-sheet');
    expect(last()).toEqual([{ kind: 'set_rail', rail: 'r', change: { kind: 'tube_profile', value: { kind: 'round_slotted', slot_width_mm: 24 } } }]);
  });
  it('writes the instrument with the length', async () => {
    await fill('Outside diameter: measured with', 'calliper', '#survey-sheet');
    expect(last()?.[0]).toMatchObject({ change: { kind: 'tube_outside_diameter_mm', value: { value_mm: 42.4, instrument: { kind: 'calliper' } } } });
  });
});

describe('the pieces', () => {
  beforeEach(() => show(surveyOf(rail('r', 'Stair', [], 4000)), 'pieces'));
  it('are added one after another, and checked against the overall measurement', async () => {
    await fill('Straight, length', '3186', '#survey-sheet');
    stage.press(field('Straight, length', '#survey-sheet'), 'Enter');
    await stage.settle();
    expect(last()?.[0]).toMatchObject({ kind: 'add_piece', new: { kind: 'straight', length_mm: { value_mm: 3186 } } });
    expect(stage.get('#survey-sheet').textContent).toContain('add up to 7,186\u202fmm, measured overall 4,000\u202fmm');
    await fill('Overall', '7.19 m', '#survey-sheet');
    expect(last()?.[0]).toMatchObject({ change: { kind: 'overall_mm', value: { value_mm: 7190 } } });
    expect(stage.get('#survey-sheet').textContent).not.toContain('Measure again');
  });
  it('say what is wrong with a bend and add nothing', async () => {
    await fill('Bend', '720', '#survey-sheet');
    stage.press(field('Bend', '#survey-sheet'), 'Enter');
    await stage.settle();
    expect(stage.backend.sent).toEqual([]);
    expect(stage.get('#survey-sheet .foot').textContent).toContain('Angle: It must lie between 0.1 and 360.');
  });
});

describe('a proved stretch', () => {
  it('is written to every feature in between as one step', async () => {
    await show(surveyOf(rail('r', 'Stair', [post('a', 500), post('b', 1600), post('c', 2700)])), 'passage');
    const type = (words: string, text: string) => {
      const control = field(words, '#survey-sheet');
      control.value = text;
      control.dispatchEvent(new Event('input', { bubbles: true }));
    };
    type('From', '400');
    type('To', '1.7 m');
    await stage.settle();
    expect(stage.button('Write it to 2').disabled).toBe(true);
    type('Widest', '16');
    await stage.settle();
    stage.get('#survey-sheet form').dispatchEvent(new Event('submit', { bubbles: true, cancelable: true }));
    await stage.settle();
    const bore = { kind: 'proved', how: 'draw_wire', widest_mm: 16 };
    expect(stage.backend.sent).toEqual([
      ['a', 'b'].map((feature) => ({ kind: 'set_feature', rail: 'r', feature, change: { kind: 'bore', value: bore } })),
    ]);
    const cells = [...stage.get('#survey-sheet tbody').querySelectorAll('td')].map((each) => each.textContent);
    expect(cells).toEqual(['0\u202fmm', '1,600\u202fmm', 'proved 16\u202fmm', '1,600\u202fmm', '12,000\u202fmm', 'unknown']);
  });
});

describe('a feature beside the drawing', () => {
  it('writes a proof only once its width is typed', async () => {
    await show(surveyOf(rail('r', 'Stair', [post('a', 500)])));
    stage.get('[data-feature="a"]').click();
    await stage.settle();
    await fill('Along the bore here', 'proved', 'aside');
    expect(stage.backend.sent).toEqual([]);
    await fill('proved by', 'camera', 'aside');
    await fill('widest', '14', 'aside');
    expect(stage.backend.sent).toEqual([[{ kind: 'set_feature', rail: 'r', feature: 'a', change: { kind: 'bore', value: { kind: 'proved', how: 'camera', widest_mm: 14 } } }]]);
  });
});

describe('a new rail', () => {
  it('needs a length and a diameter, and opens at once', async () => {
    await show(surveyOf());
    stage.button('New rail').click();
    await stage.settle();
    stage.get('form[aria-label="New rail"]').dispatchEvent(new Event('submit', { bubbles: true, cancelable: true }));
    await stage.settle();
    expect(stage.backend.sent).toEqual([]);
    expect(stage.all('form[aria-label="New rail"] .why').length).toBe(2);
    await fill('First straight', '3 m');
    await fill('Outside diameter', '42.4');
    stage.get('form[aria-label="New rail"]').dispatchEvent(new Event('submit', { bubbles: true, cancelable: true }));
    await stage.settle();
    expect(last()?.[0]).toMatchObject({ kind: 'add_rail', new: { label: 'Rail 1', pieces: [{ kind: 'straight', length_mm: { value_mm: 3000 } }], guard: 'unknown', height_mm: null } });
    expect(stage.get('main h2').textContent).toContain('Rail 1');
  });
});
