/** The ends that a route can have, as choices. */
import type { RouteEnd, Survey } from '../../generated/survey';
import { mm } from '../../figures';
import type { Choices } from '../words';

/** One word for an end. */
export function endName(end: RouteEnd): string {
  return JSON.stringify(end.kind === 'way_in' ? [end.kind, end.rail, end.feature] : [end.kind, end.id]);
}

/** The end of a word. */
export function endOfName(name: string): RouteEnd {
  const [kind, first, second] = JSON.parse(name) as [RouteEnd['kind'], string, string];
  return kind === 'way_in' ? { kind, rail: first, feature: second } : { kind, id: first };
}

/** Every mains point, driver place and way in of the site. */
export function endChoices(survey: Survey): Choices<string> {
  const points = survey.mains_points.map((point): [string, string] => [endName({ kind: 'mains_point', id: point.id }), `Mains point ${point.label}`]);
  const places = survey.driver_places.map((place): [string, string] => [endName({ kind: 'driver_place', id: place.id }), `Driver place ${place.label}`]);
  const ways = survey.rails.flatMap((rail) =>
    rail.features
      .filter((feature) => feature.kind === 'way_in')
      .map((feature): [string, string] => [endName({ kind: 'way_in', rail: rail.id, feature: feature.id }), `${rail.label}, way in at ${mm(feature.chainage_mm.value_mm)} mm`]),
  );
  return [...points, ...places, ...ways];
}
