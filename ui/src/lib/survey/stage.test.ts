/// <reference types="node" />
import { readdirSync, readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { post, rail, surveyOf, Mounted } from '../../../preview/mounted';
import { LEFT } from '../drawing/scale';
import type { Survey } from '../generated/survey';
import type { Edit } from '../session/types';
import { units } from '../units/setting.svelte';

let stage: Mounted;
let isOpen = false;
function open(survey: Survey): Mounted {
  isOpen = true;
  return new Mounted(survey);
}
const chainagesOf = (edits: Edit[] | undefined) => edits?.map((edit) => (edit.kind === 'add_feature' ? edit.new.chainage_mm.value_mm : NaN));

beforeEach(() => {
  units.system = 'metric';
});
afterEach(async () => {
  vi.useRealTimers();
  if (isOpen) await stage.close();
  isOpen = false;
});

describe('typing a column of posts', () => {
  beforeEach(() => {
    stage = open(surveyOf(rail('r', 'Stair', [])));
  });
  it('asks for the width once, then takes chainages, spacings and repeats, each Enter one step', async () => {
    await stage.type('#new-chainage', '500');
    expect(stage.backend.sent).toEqual([]);
    expect(document.activeElement?.id).toBe('new-size');
    await stage.type('#new-size', '42');
    expect(document.activeElement?.id).toBe('new-chainage');
    await stage.type('#new-chainage', '+1100');
    await stage.type('#new-chainage', 'x3');
    await stage.type('#new-chainage', '+0.9 m x2');
    expect(stage.backend.sent.map(chainagesOf)).toEqual([[500], [1600], [2700, 3800, 4900], [5800, 6700]]);
    const features = stage.backend.sent.flat().map((edit) => (edit.kind === 'add_feature' ? edit.new : null));
    expect(features.every((each) => each?.kind === 'post' && each.width_mm === 42 && each.bore.kind === 'unknown')).toBe(true);
    expect(new Set(features.map((each) => each?.id)).size).toBe(7);
    expect(stage.all('[data-feature]').length).toBe(7);
  });
  it('keeps a wrong entry in its cell with the reason in words', async () => {
    await stage.type('#new-size', '42', 'Tab');
    await stage.type('#new-chainage', '12o0');
    expect(stage.backend.sent).toEqual([]);
    const input = stage.get<HTMLInputElement>('#new-chainage');
    expect(input.value).toBe('12o0');
    expect(input.getAttribute('aria-invalid')).toBe('true');
    expect(document.getElementById(input.getAttribute('aria-describedby')!)?.textContent).toContain('“12o0” is no length');
  });
  it('takes a pasted column as one step and keeps what it cannot read', async () => {
    await stage.type('#new-size', '42', 'Tab');
    const pasted = new Event('paste', { bubbles: true, cancelable: true });
    Object.assign(pasted, { clipboardData: { getData: () => 'Chainage\n0,5 m\n1,600 m\npost?\n2700\n' } });
    stage.get('#new-chainage').dispatchEvent(pasted);
    await stage.settle();
    expect(stage.backend.sent.map(chainagesOf)).toEqual([[500, 1600, 2700]]);
    expect(stage.all('[aria-label="Chainage to mend"]').map((each) => (each as HTMLInputElement).value)).toEqual(['post?']);
    await stage.type('[aria-label="Chainage to mend"]', '3800');
    expect(chainagesOf(stage.backend.sent[1])).toEqual([3800]);
    expect(stage.all('[aria-label="Chainage to mend"]')).toEqual([]);
  });
  it('reads a pasted column again in metres when told so', async () => {
    await stage.type('#new-size', '42', 'Tab');
    const pasted = new Event('paste', { bubbles: true, cancelable: true });
    Object.assign(pasted, { clipboardData: { getData: () => '0.5\n1.6' } });
    stage.get('#new-chainage').dispatchEvent(pasted);
    await stage.settle();
    stage.button('They are metres').click();
    await stage.settle();
    expect(stage.backend.sent.map(chainagesOf)).toEqual([[0.5, 1.6], [500, 1600]]);
    expect(stage.backend.opened().survey.rails[0]!.features.map((each) => each.chainage_mm.value_mm)).toEqual([500, 1600]);
  });
});

describe('the table', () => {
  beforeEach(() => {
    stage = open(surveyOf(rail('r', 'Stair', [post('a', 500), post('b', 1600), post('c', 2700)])));
  });
  const cell = (row: string, column: string) => `input[data-row="${row}"][data-column="${column}"]`;
  it('moves a feature when its chainage is typed, and Enter goes on to the next row', async () => {
    await stage.type(cell('b', 'chainage'), '1.65 m');
    expect(stage.backend.sent).toEqual([[{ kind: 'move_feature', rail: 'r', feature: 'b', to_mm: expect.objectContaining({ value_mm: 1650 }) }]]);
    expect((document.activeElement as HTMLElement).dataset.row).toBe('c');
  });
  it('counts a spacing from the row above, and a repeat from the row itself', async () => {
    await stage.type(cell('b', 'chainage'), '+1050');
    await stage.type(cell('c', 'chainage'), 'x2');
    expect(stage.backend.sent[0]![0]).toMatchObject({ kind: 'move_feature', to_mm: { value_mm: 1550 } });
    // b now lies at 1550, so the last spacing is 1150.
    expect(chainagesOf(stage.backend.sent[1])).toEqual([3850, 5000]);
  });
  it('sends nothing when a cell is left as it was', async () => {
    await stage.type(cell('b', 'chainage'), '1600');
    await stage.type(cell('b', 'size'), '42');
    expect(stage.backend.sent).toEqual([]);
  });
  it('removes a row by key', async () => {
    stage.press(stage.get('[data-feature="b"]'), 'Delete');
    await stage.settle();
    expect(stage.backend.sent).toEqual([[{ kind: 'remove', thing: { kind: 'feature', rail: 'r', id: 'b' } }]]);
    expect((document.activeElement as HTMLElement).dataset.row).toBe('c');
    expect(stage.get('aside h2').textContent).toContain('2,700');
  });
  it('keeps a wrong entry with the reason in its row and stays there', async () => {
    await stage.type(cell('b', 'chainage'), '16,00,0');
    expect(stage.backend.sent).toEqual([]);
    expect(stage.get<HTMLInputElement>(cell('b', 'chainage')).value).toBe('16,00,0');
    expect(stage.get(cell('b', 'chainage')).closest('tr')!.textContent).toContain('neither thousands nor decimals');
  });
  it('takes a proof of the bore in two keys', async () => {
    await stage.type(cell('a', 'bore'), '16');
    expect(stage.backend.sent).toEqual([[{ kind: 'set_feature', rail: 'r', feature: 'a', change: { kind: 'bore', value: { kind: 'proved', how: 'draw_wire', widest_mm: 16 } } }]]);
  });
  it('writes the kind whole when a size is typed', async () => {
    await stage.type(cell('a', 'size'), '2 in');
    expect(stage.backend.sent[0]).toEqual([
      { kind: 'set_feature', rail: 'r', feature: 'a', change: { kind: 'what', value: { kind: 'post', width_mm: 50.8, meets: { kind: 'saddle' }, into_post: { kind: 'unknown' } } } },
    ]);
  });
  it('reads and shows feet and inches when they are chosen', async () => {
    units.system = 'imperial';
    await stage.settle();
    expect(stage.get<HTMLInputElement>(cell('b', 'chainage')).value).toBe('5\' 3"');
    await stage.type(cell('b', 'chainage'), '64');
    expect(stage.backend.sent[0]![0]).toMatchObject({ to_mm: { value_mm: 1625.6 } });
  });
});

describe('the drawing', () => {
  beforeEach(() => {
    stage = open(surveyOf(rail('r', 'Stair', [post('a', 500), post('b', 1600), post('c', 2700)])));
  });
  // The page is 800 px wide here.
  const x = (mm: number) => LEFT + mm * ((800 - LEFT - 28) / 12000);
  const pointer = (type: string, clientX: number, clientY = 115) => {
    const event = new MouseEvent(type, { clientX, clientY, button: 0, bubbles: true, cancelable: true });
    Object.assign(event, { pointerId: 1 });
    stage.get('#survey-drawing').dispatchEvent(event);
  };
  const drawing = () => stage.get('#survey-drawing');

  it('moves what is dragged, once, when it is put down', async () => {
    stage.get('[data-feature="b"]').click();
    await stage.settle();
    pointer('pointerdown', x(1600));
    pointer('pointermove', x(1700));
    pointer('pointermove', x(2000));
    expect(stage.backend.sent).toEqual([]);
    pointer('pointerup', x(2000));
    await stage.settle();
    expect(stage.backend.sent.length).toBe(1);
    expect(stage.backend.sent[0]![0]).toMatchObject({ kind: 'move_feature', rail: 'r', feature: 'b' });
    const to = stage.backend.sent[0]![0]!;
    expect(to.kind === 'move_feature' && Math.abs(to.to_mm.value_mm - 2000)).toBeLessThanOrEqual(10);
  });
  it('nudges by keys: a burst is one move', async () => {
    vi.useFakeTimers();
    stage.get('[data-feature="b"]').click();
    await vi.advanceTimersByTimeAsync(10);
    for (const shiftKey of [false, false, true]) stage.press(drawing(), 'ArrowRight', { shiftKey });
    stage.press(drawing(), 'ArrowLeft');
    expect(stage.backend.sent).toEqual([]);
    await vi.advanceTimersByTimeAsync(600);
    expect(stage.backend.sent).toEqual([[{ kind: 'move_feature', rail: 'r', feature: 'b', to_mm: expect.objectContaining({ value_mm: 1611 }) }]]);
  });
  it('saves a nudge at once when the next feature is chosen', async () => {
    stage.get('[data-feature="b"]').click();
    await stage.settle();
    stage.press(drawing(), 'ArrowRight');
    stage.press(drawing(), 'ArrowDown');
    await stage.settle();
    expect(stage.backend.sent[0]![0]).toMatchObject({ feature: 'b', to_mm: { value_mm: 1601 } });
  });
  it('removes by key without a question, and undo brings it back', async () => {
    stage.get('[data-feature="b"]').click();
    await stage.settle();
    stage.press(drawing(), 'Delete');
    await stage.settle();
    expect(stage.backend.sent).toEqual([[{ kind: 'remove', thing: { kind: 'feature', rail: 'r', id: 'b' } }]]);
    expect(stage.all('dialog, [role="dialog"]')).toEqual([]);
    expect(stage.all('[data-feature]').length).toBe(2);
    stage.press(window, 'z', { ctrlKey: true });
    await stage.settle();
    expect(stage.all('[data-feature]').length).toBe(3);
  });
  it('stays as close as it was when something changes', async () => {
    const wide = () => stage.get('#survey-drawing .whole').style.width;
    stage.press(drawing(), '+');
    await stage.settle();
    const close = wide();
    expect(parseFloat(close)).toBeGreaterThan(800);
    await stage.type('#new-chainage', '3800');
    expect(wide()).toBe(close);
    stage.press(drawing(), '0');
    expect(parseFloat(wide())).toBe(800);
  });
  it('adds where it is pointed at, in the make of its like', async () => {
    stage.press(document.body, 'p');
    pointer('pointerdown', x(4000));
    pointer('pointerup', x(4000));
    await stage.settle();
    const edit = stage.backend.sent[0]![0]!;
    expect(edit).toMatchObject({ kind: 'add_feature', new: { kind: 'post', width_mm: 42, meets: { kind: 'saddle' }, bore: { kind: 'unknown' } } });
    expect(edit.kind === 'add_feature' && Math.abs(edit.new.chainage_mm.value_mm - 4000)).toBeLessThanOrEqual(10);
  });
  it('asks for the size of the first of a kind instead of making one up', async () => {
    stage.press(document.body, 'w');
    pointer('pointerdown', x(4000));
    pointer('pointerup', x(4000));
    await stage.settle();
    await new Promise((done) => setTimeout(done, 40));
    expect(stage.backend.sent).toEqual([]);
    expect(document.activeElement?.id).toBe('new-size');
    await stage.type('#new-size', '18');
    expect(stage.backend.sent[0]![0]).toMatchObject({ kind: 'add_feature', new: { kind: 'way_in', opening_mm: 18 } });
  });
});

describe('undo and redo', () => {
  beforeEach(() => {
    stage = open(surveyOf(rail('r', 'Stair', [post('a', 500)])));
  });
  it('are asked of the program by their keys', async () => {
    await stage.type('#new-chainage', '1600');
    stage.press(document.body, 'z', { ctrlKey: true });
    await stage.settle();
    stage.press(document.body, 'y', { ctrlKey: true });
    await stage.settle();
    stage.press(document.body, 'z', { ctrlKey: true });
    await stage.settle();
    stage.press(document.body, 'z', { ctrlKey: true, shiftKey: true });
    await stage.settle();
    expect(stage.backend.steps).toEqual(['undo', 'redo', 'undo', 'redo']);
  });
  it('leave a field that is being typed in to itself', () => {
    const input = stage.get<HTMLInputElement>('#new-chainage');
    input.value = '12';
    input.dispatchEvent(new Event('input', { bubbles: true }));
    stage.press(input, 'z', { ctrlKey: true });
    expect(stage.backend.steps).toEqual([]);
  });
  it('say in words what would be taken back', async () => {
    await stage.type('#new-chainage', '1600');
    expect(stage.get('#undo').title).toContain('post added at 1600 mm');
    expect(stage.get<HTMLButtonElement>('#redo').disabled).toBe(true);
  });
});

describe('findings', () => {
  it('stand beside the thing they are about, and change with each edit', async () => {
    stage = open(surveyOf(rail('r', 'Stair', [post('a', 500), post('b', 530)])));
    const row = () => stage.get('input[data-row="b"]').closest('tr')!.textContent;
    expect(row()).toContain('overlap at 500');
    stage.get('[data-feature="b"]').click();
    await stage.settle();
    const panel = stage.get('aside').textContent!;
    expect(panel).toContain('Two posts of rail Stair overlap');
    expect(panel).toContain('Remove one if it was entered twice');
    await stage.type('input[data-row="b"][data-column="chainage"]', '1600');
    expect(row()).not.toContain('overlap');
    await stage.type('input[data-row="b"][data-column="chainage"]', '13 m');
    expect(row()).toContain('is not on rail Stair');
  });
});

describe('what the program refuses', () => {
  it('is said with its reason, and the survey stays as it was', async () => {
    const way = { ...post('w', 500), kind: 'way_in' as const, opening_mm: 16, post: 'a' };
    stage = open(surveyOf(rail('r', 'Stair', [post('a', 500), way])));
    stage.get('[data-feature="a"]').click();
    await stage.settle();
    stage.button('Remove').click();
    await stage.settle();
    expect(stage.get('.refusal').textContent).toContain('in use by way in w');
    expect(stage.all('[data-feature]').length).toBe(2);
  });
});

describe('a fragment of HTML', () => {
  const FRAGMENT = '<img src=x onerror="alert(1)"><b>Stair</b>';
  it('shows as it was typed, in labels and in notes', async () => {
    const odd = { ...post('a', 500), label: FRAGMENT, note: FRAGMENT };
    stage = open({ ...surveyOf(rail('r', FRAGMENT, [odd])) });
    stage.get('[data-feature="a"]').click();
    await stage.settle();
    expect(stage.page.querySelector('img')).toBeNull();
    expect(stage.page.querySelector('h2 b')?.textContent).not.toBe('Stair');
    expect(stage.get('nav').textContent).toContain(FRAGMENT);
    expect(stage.get('aside h2').textContent).toContain(FRAGMENT);
    expect(stage.all('aside input, aside textarea').filter((each) => (each as HTMLInputElement).value === FRAGMENT).length).toBe(2);
    stage.button('Plan of the site').click();
    await stage.settle();
    expect(stage.page.querySelector('img')).toBeNull();
  });
  it('is never handed to the page as HTML by any component', () => {
    const files = (readdirSync('src', { recursive: true }) as string[]).filter((file) => file.endsWith('.svelte'));
    expect(files.length).toBeGreaterThan(30);
    const written = files.filter((file) => /\{@html|innerHTML|insertAdjacentHTML/.test(readFileSync(`src/${file}`, 'utf8')));
    expect(written).toEqual([]);
  });
});

describe('a very long rail', () => {
  it('draws what can be seen: some hundred parts for 660 features', async () => {
    const features = Array.from({ length: 660 }, (_, index) => post(`p${index}`, 150 + index * 302));
    stage = open(surveyOf(rail('r', 'Promenade', features, 200000)));
    await stage.settle();
    expect(stage.all('#survey-drawing *').length).toBeLessThan(300);
    expect(stage.all('[data-feature]').length).toBeLessThan(60);
  });
});
