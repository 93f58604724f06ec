/** Where a picture lies in the viewer, and what a place on the screen means in it. */
import type { Spot } from '../../generated/survey';

export interface Size {
  width: number;
  height: number;
}

/** A picture on the screen: its top left corner [px] and how many pixels of the screen one of its own takes. */
export interface View {
  x: number;
  y: number;
  scale: number;
}

/** The closest look: so many pixels of the screen for one of the picture. */
const CLOSEST = 8;

/** The whole picture, in the middle. */
export function fit(picture: Size, room: Size): View {
  const scale = Math.min(room.width / Math.max(1, picture.width), room.height / Math.max(1, picture.height));
  return centred({ x: 0, y: 0, scale: Math.max(scale, 1e-6) }, picture, room);
}

/** Zooms about a place on the screen, which stays where it is. */
export function zoomed(view: View, factor: number, at: { x: number; y: number }, picture: Size, room: Size): View {
  const least = fit(picture, room).scale;
  const scale = Math.min(Math.max(view.scale * factor, least), Math.max(CLOSEST, least));
  const by = scale / view.scale;
  return centred({ x: at.x - (at.x - view.x) * by, y: at.y - (at.y - view.y) * by, scale }, picture, room);
}

/** Moves the picture; it never leaves the room. */
export function moved(view: View, dx: number, dy: number, picture: Size, room: Size): View {
  return centred({ ...view, x: view.x + dx, y: view.y + dy }, picture, room);
}

/** In the middle where the picture is smaller than the room, else without an empty edge. */
function centred(view: View, picture: Size, room: Size): View {
  const along = (at: number, size: number, side: number) => (size <= side ? (side - size) / 2 : Math.min(0, Math.max(side - size, at)));
  return { ...view, x: along(view.x, picture.width * view.scale, room.width), y: along(view.y, picture.height * view.scale, room.height) };
}

/** From a place on the screen to thousandths of the picture, held inside it. */
export function spotAt(view: View, at: { x: number; y: number }, picture: Size): Spot {
  const part = (px: number, size: number) => Math.min(1000, Math.max(0, Math.round((px / (size * view.scale)) * 1000)));
  return { x_permille: part(at.x - view.x, picture.width), y_permille: part(at.y - view.y, picture.height) };
}

/** From thousandths of the picture to a place on the screen [px]. */
export function placeOf(view: View, spot: Spot, picture: Size): { x: number; y: number } {
  return { x: view.x + (spot.x_permille / 1000) * picture.width * view.scale, y: view.y + (spot.y_permille / 1000) * picture.height * view.scale };
}
