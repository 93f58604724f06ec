/** How long it takes from a key to the changed drawing, kept where the browser keeps such things and shown nowhere. */
import { tick } from 'svelte';

export const KEY_TO_DRAWING = 'key-to-drawing';

/** The browser keeps every measure until told otherwise. */
const MOST = 400;

/** Notes that the drawing has changed after a key that was pressed at a moment [ms, as `performance.now()`]. */
export async function noteDrawn(pressedAt: number): Promise<void> {
  await tick();
  await new Promise<void>((drawn) => requestAnimationFrame(() => drawn()));
  if (performance.getEntriesByName(KEY_TO_DRAWING).length >= MOST) performance.clearMeasures(KEY_TO_DRAWING);
  performance.measure(KEY_TO_DRAWING, { start: pressedAt, end: performance.now() });
}
