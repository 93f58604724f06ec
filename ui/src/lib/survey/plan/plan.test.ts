import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Mounted, post, rail, surveyOf } from '../../../../preview/mounted';
import { units } from '../../units/setting.svelte';

let stage: Mounted;

beforeEach(async () => {
  units.system = 'metric';
  // One rail of 12 m from the frame's origin to the east, one that was never placed.
  stage = new Mounted(surveyOf(rail('r', 'Stair', [post('a', 500)]), { ...rail('s', 'Ramp', []), sketch: null }));
  stage.button('Show it on the plan').click();
  await stage.settle();
});
afterEach(() => stage.close());

const sketch = (edits = stage.backend.sent.at(-1)) => {
  const edit = edits?.[0];
  return edit?.kind === 'set_rail' && edit.change.kind === 'sketch' ? edit.change.value : null;
};
const handle = () => {
  const circle = stage.get<HTMLElement>('#site-plan circle.handle');
  return { x: Number(circle.getAttribute('cx')), y: Number(circle.getAttribute('cy')) };
};
const pointer = (type: string, x: number, y: number) => {
  const event = new MouseEvent(type, { clientX: x, clientY: y, button: 0, bubbles: true, cancelable: true });
  Object.assign(event, { pointerId: 1 });
  stage.get('#site-plan').dispatchEvent(event);
};

describe('the plan', () => {
  it('moves the start of the chosen rail by its round handle, once, when it is put down', async () => {
    const { x, y } = handle();
    pointer('pointerdown', x, y);
    pointer('pointermove', x + 30, y);
    pointer('pointermove', x + 60, y - 40);
    expect(stage.backend.sent).toEqual([]);
    pointer('pointerup', x + 60, y - 40);
    await stage.settle();
    expect(stage.backend.sent.length).toBe(1);
    const moved = sketch()!;
    // To the right is along x, upwards is along y, in one scale.
    expect(moved.start.x_mm).toBeGreaterThan(500);
    expect(moved.start.y_mm / moved.start.x_mm).toBeCloseTo(40 / 60, 1);
    expect(moved.bearing_deg).toBe(90);
  });
  it('turns it by the arrow, and leaves its start', async () => {
    const { x, y } = handle();
    pointer('pointerdown', x + 64, y);
    pointer('pointermove', x + 40, y + 10);
    pointer('pointermove', x, y + 64);
    pointer('pointerup', x, y + 64);
    await stage.settle();
    expect(sketch()).toEqual({ start: { x_mm: 0, y_mm: 0, z_mm: 0, measured: true }, bearing_deg: 180 });
  });
  it('does both by keys', async () => {
    stage.press(stage.get('#site-plan'), 'ArrowUp');
    await stage.settle();
    expect(sketch()?.start).toMatchObject({ x_mm: 0, y_mm: 100 });
    stage.press(stage.get('#site-plan'), 'ArrowLeft', { shiftKey: true });
    await stage.settle();
    expect(sketch()?.start).toMatchObject({ x_mm: -1000, y_mm: 100 });
    stage.press(stage.get('#site-plan'), ']');
    await stage.settle();
    stage.press(stage.get('#site-plan'), '{');
    await stage.settle();
    expect(sketch()?.bearing_deg).toBe(81);
  });
  it('moves the view where nothing is held, and changes nothing', async () => {
    const { x, y } = handle();
    pointer('pointerdown', x + 10, y + 200);
    pointer('pointermove', x + 70, y + 230);
    pointer('pointerup', x + 70, y + 230);
    await stage.settle();
    expect(stage.backend.sent).toEqual([]);
    expect(handle()).toEqual({ x: expect.closeTo(x + 60, 1), y: expect.closeTo(y + 30, 1) });
  });
  it('names the rails that have no place, and places them', async () => {
    stage.button('Place Ramp').click();
    await stage.settle();
    expect(stage.backend.sent.at(-1)![0]).toMatchObject({ kind: 'set_rail', rail: 's', change: { kind: 'sketch', value: { start: { measured: false } } } });
    expect(stage.all('.unplaced')).toEqual([]);
  });
  it('goes from rail to rail by a key', async () => {
    stage.press(document.body, 'n');
    await stage.settle();
    expect(stage.get('aside h2').textContent).toBe('Ramp');
  });
});
