/** Photos grouped by what they show: rails in the survey's order, then mains points, routes, defects, and the rest. */
import type { Survey } from '../generated/survey';
import type { Shot } from './lines';

export interface Group {
  /** Unique among the groups. */
  key: string;
  label: string;
  kind: 'rail' | 'mains_point' | 'route' | 'defect' | 'general';
  shots: Shot[];
}

type Order = (a: Shot, b: Shot) => number;

/** The groups that have photos; along a rail by chainage, elsewhere in the order in which they were taken. */
export function groupsOf(survey: Survey, shots: readonly Shot[]): Group[] {
  const groups = new Map<string, Group>();
  const open = (key: string, kind: Group['kind'], label: string) => groups.set(key, { key, kind, label, shots: [] });
  for (const rail of survey.rails) open(`rail ${rail.id}`, 'rail', rail.label);
  for (const point of survey.mains_points) open(`mains_point ${point.id}`, 'mains_point', point.label);
  for (const route of survey.routes) open(`route ${route.id}`, 'route', `Route: ${route.label}`);
  open('defect', 'defect', 'Defects');
  open('general', 'general', 'Not placed');
  // What a photo shows may have been removed; the photo is then as good as unplaced.
  for (const shot of shots) (groups.get(keyOf(shot)) ?? groups.get('general'))?.shots.push(shot);
  const filled = [...groups.values()].filter((group) => group.shots.length > 0);
  // Of thousands of photos each time is read once, not at every comparison.
  const moments = new Map(shots.map((shot) => [shot, moment(shot)]));
  const byTime: Order = (a, b) => moments.get(a)! - moments.get(b)! || compare(a.photo.id, b.photo.id);
  const alongTheRail: Order = (a, b) => chainage(a) - chainage(b) || byTime(a, b);
  for (const group of filled) group.shots.sort(group.kind === 'rail' ? alongTheRail : byTime);
  return filled;
}

function keyOf({ photo: { shows } }: Shot): string {
  if (shows.kind === 'rail') return `rail ${shows.rail}`;
  return 'id' in shows ? `${shows.kind} ${shows.id}` : shows.kind;
}

/** Where on its rail it is, photos of the whole rail first. */
function chainage({ photo: { shows } }: Shot): number {
  return shows.kind === 'rail' ? (shows.chainage_mm ?? -1) : -1;
}

function moment({ photo: { taken } }: Shot): number {
  const at = taken === null ? NaN : Date.parse(taken);
  return Number.isNaN(at) ? Number.MAX_SAFE_INTEGER : at;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
