/** Where along the rail the drawing looks, and how closely. */

/** Pixels left of the datum and right of the rail's end. */
export const LEFT = 56;
export const RIGHT = 28;

/** The closest look: two pixels for a millimetre. */
const CLOSEST = 2;

export interface View {
  /** Pixels for a millimetre. */
  scale: number;
  /** How far the drawing is scrolled [px]. */
  scrolled: number;
  /** Width that can be seen [px]. */
  width: number;
}

/** The scale at which the whole rail is seen. */
export function fitScale(width: number, lengthMm: number): number {
  return Math.max(1, width - LEFT - RIGHT) / Math.max(1, lengthMm);
}

/** Keeps a scale between the whole rail and the closest look. */
export function clampScale(scale: number, width: number, lengthMm: number): number {
  const least = fitScale(width, lengthMm);
  return Math.min(Math.max(scale, least), Math.max(least, CLOSEST));
}

/** The width of the whole drawing at a scale [px]. */
export function fullWidth(scale: number, lengthMm: number): number {
  return LEFT + RIGHT + lengthMm * scale;
}

/** From chainage [mm] to the place in the drawing that is seen [px]. */
export function across(view: View, chainageMm: number): number {
  return LEFT + chainageMm * view.scale - view.scrolled;
}

/** From a place in the drawing that is seen [px] to chainage [mm]. */
export function chainageAt(view: View, x: number): number {
  return (x - LEFT + view.scrolled) / view.scale;
}

/** How far to scroll so that a chainage lies at a place in the drawing [px]. */
export function scrollTo(scale: number, chainageMm: number, x: number): number {
  return Math.max(0, LEFT + chainageMm * scale - x);
}

/** Whether something from one chainage to another can be seen, with some room at each side. */
export function isInView(view: View, startMm: number, endMm: number): boolean {
  return across(view, endMm) > -40 && across(view, startMm) < view.width + 40;
}
