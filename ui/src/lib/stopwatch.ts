/** How long a person waited for something to be drawn, kept where the browser keeps such things and shown nowhere. */
import { tick } from 'svelte';

/** From the start of the page to the list of sites, or to the site that was asked for. */
export const FIRST_SHOWN = 'first-shown';
/** From the choice of a site to its drawing. */
export const SITE_SHOWN = 'site-shown';
/** From a key to the changed drawing. */
export const KEY_TO_DRAWING = 'key-to-drawing';

/** The browser keeps every measure until told otherwise. */
const MOST = 400;

/** Notes that what began at a moment [ms, as `performance.now()`] is drawn. */
export async function noteDrawn(what: string, began: number): Promise<void> {
  await tick();
  await new Promise<void>((drawn) => requestAnimationFrame(() => drawn()));
  if (performance.getEntriesByName(what).length >= MOST) performance.clearMeasures(what);
  performance.measure(what, { start: began, end: performance.now() });
}
