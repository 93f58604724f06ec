/** Where routes and photos lie on the plan. */
import type { Photo, Route, RouteEnd, Survey } from '../../generated/survey';
import { fromEarth, type Spot } from './frame';
import { placeAt, type Along } from './line';

/** The lines of the rails by id. */
export type RailLines = ReadonlyMap<string, Along[]>;

/** A route with its line: its corners where they were taken, else straight from end to end. */
export function routeLines(survey: Survey, lines: RailLines): { route: Route; line: Spot[] }[] {
  return survey.routes.flatMap((route) => {
    const corners = route.corners.map((corner) => ({ x: corner.x_mm, y: corner.y_mm }));
    const ends = [endOf(survey, lines, route.from), endOf(survey, lines, route.to)];
    const line = corners.length > 1 ? corners : [ends[0], ...corners, ends[1]].filter((spot) => spot !== null && spot !== undefined);
    return line.length > 1 ? [{ route, line }] : [];
  });
}

function endOf(survey: Survey, lines: RailLines, end: RouteEnd): Spot | null {
  if (end.kind === 'way_in') {
    const feature = survey.rails.find((rail) => rail.id === end.rail)?.features.find((each) => each.id === end.feature);
    return feature ? placeAt(lines.get(end.rail) ?? [], feature.chainage_mm.value_mm) : null;
  }
  const things = end.kind === 'mains_point' ? survey.mains_points : survey.driver_places;
  const position = things.find((each) => each.id === end.id)?.position;
  return position ? { x: position.x_mm, y: position.y_mm } : null;
}

/** A photo where it was taken, else where what it shows lies; with the way it looks on the plan [degrees], if known. */
export function photoSpots(survey: Survey, lines: RailLines): { photo: Photo; at: Spot; heading: number | null }[] {
  const { origin } = survey.site;
  return survey.photos.flatMap((photo) => {
    const at = origin && photo.position ? fromEarth(origin, photo.position) : shownAt(survey, lines, photo);
    if (at === null) return [];
    return [{ photo, at, heading: origin && photo.heading_deg !== null ? photo.heading_deg - origin.bearing_deg : null }];
  });
}

function shownAt(survey: Survey, lines: RailLines, photo: Photo): Spot | null {
  const { shows } = photo;
  if (shows.kind === 'rail') return placeAt(lines.get(shows.rail) ?? [], shows.chainage_mm ?? 0);
  if (shows.kind !== 'mains_point') return null;
  const position = survey.mains_points.find((point) => point.id === shows.id)?.position;
  return position ? { x: position.x_mm, y: position.y_mm } : null;
}
