/** From the site frame to the plan on the screen and back, and from a position on the earth into the frame. */
import type { Origin } from '../../generated/survey';

/** What the plan shows. */
export interface PlanView {
  /** Middle of the picture in the site frame [mm]. */
  x: number;
  y: number;
  /** Pixels for a millimetre. */
  scale: number;
  width: number;
  height: number;
}

export interface Spot {
  x: number;
  y: number;
}

/** To the screen; the frame's y axis points up. */
export function toScreen(view: PlanView, at: Spot): Spot {
  return { x: view.width / 2 + (at.x - view.x) * view.scale, y: view.height / 2 - (at.y - view.y) * view.scale };
}

/** From the screen. */
export function toFrame(view: PlanView, at: Spot): Spot {
  return { x: view.x + (at.x - view.width / 2) / view.scale, y: view.y - (at.y - view.height / 2) / view.scale };
}

/** The view that holds a number of places with room around them. */
export function fitPlan(spots: Spot[], width: number, height: number): Pick<PlanView, 'x' | 'y' | 'scale'> {
  if (spots.length === 0) return { x: 0, y: 0, scale: 0.02 };
  const [xs, ys] = [spots.map((spot) => spot.x), spots.map((spot) => spot.y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = (px: number) => Math.max(60, px - 110);
  const scale = Math.min(room(width) / Math.max(2000, right - left), room(height) / Math.max(2000, high - low), 0.5);
  return { x: (left + right) / 2, y: (low + high) / 2, scale };
}

/** The view zoomed about a place on the screen. */
export function zoomPlan(view: PlanView, factor: number, at: Spot, dx = 0, dy = 0): PlanView {
  const fixed = toFrame(view, { x: at.x - dx, y: at.y - dy });
  const scale = Math.min(Math.max(view.scale * factor, 1e-4), 2);
  return { ...view, scale, x: fixed.x - (at.x - view.width / 2) / scale, y: fixed.y + (at.y - view.height / 2) / scale };
}

/** Mean radius of the earth [mm]. Source: IUGG, 6371.0088 km (from memory). */
const EARTH = 6371008800;

/**
 * A WGS 84 position in the site frame [mm].
 *
 * Valid for the size of a site: the earth is taken for a ball and the frame for a plane that touches it, which is good
 * to some millimetres in a kilometre, far better than a camera's position.
 */
export function fromEarth(origin: Origin, position: { latitude_deg: number; longitude_deg: number }): Spot {
  const radians = Math.PI / 180;
  const north = (position.latitude_deg - origin.latitude_deg) * radians * EARTH;
  const east = (position.longitude_deg - origin.longitude_deg) * radians * EARTH * Math.cos(origin.latitude_deg * radians);
  const turn = origin.bearing_deg * radians;
  return { x: east * Math.cos(turn) - north * Math.sin(turn), y: east * Math.sin(turn) + north * Math.cos(turn) };
}

/** A scale bar: a round length [mm] and its pixels, at most so long. */
export function scaleBar(scale: number, mostPx: number, unitMm: number): { count: number; px: number } {
  const most = mostPx / scale / unitMm;
  const power = 10 ** Math.floor(Math.log10(Math.max(most, 1e-6)));
  const count = [5, 2, 1].map((factor) => factor * power).find((length) => length <= most) ?? power;
  return { count, px: count * unitMm * scale };
}

/** A bearing between 0 and 360 [degrees]. */
export function turned(bearing: number): number {
  return ((Math.round(bearing * 10) / 10) % 360 + 360) % 360;
}

/** The bearing from one place to another [degrees clockwise from the y axis]. */
export function bearingTo(from: Spot, to: Spot): number {
  return turned((Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI);
}
