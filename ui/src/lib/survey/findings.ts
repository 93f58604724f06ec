/** Which findings are about which thing of the survey. */
import type { Subject } from '../generated/plan';
import type { Rail } from '../generated/survey';
import type { FindingLine, SitePage } from '../generated/types';

/** Findings by the key of the thing they are about. */
export type ByThing = ReadonlyMap<string, FindingLine[]>;

export const SITE = 'site';
export const railKey = (rail: string) => `rail ${rail}`;
export const partKey = (rail: string, id: string) => `part ${rail} ${id}`;
export const mainsKey = (id: string) => `mains ${id}`;
export const placeKey = (id: string) => `place ${id}`;
export const routeKey = (id: string) => `route ${id}`;

/** The thing of the survey that a finding is about; null where it is about something of the plan or of the catalogue. */
function keyOf(about: Subject): string | null {
  switch (about.kind) {
    case 'site':
      return SITE;
    case 'rail':
      return railKey(about.rail);
    case 'feature':
      return partKey(about.rail, about.feature);
    case 'luminaire':
      return railKey(about.rail);
    case 'mains_point':
      return mainsKey(about.id);
    case 'driver_place':
      return placeKey(about.id);
    case 'route':
      return routeKey(about.id);
    default:
      return null;
  }
}

/** The findings by thing. */
export function byThing(page: SitePage): ByThing {
  const found = new Map<string, FindingLine[]>();
  for (const finding of page.findings) {
    const key = keyOf(finding.about);
    if (key === null) continue;
    const here = found.get(key);
    if (here) here.push(finding);
    else found.set(key, [finding]);
  }
  return found;
}

const ORDER = { stop: 0, caution: 1, not_evaluated: 2, pass: 3 } as const;

/** What is open about a rail, its pieces and its features. */
export function openOfRail(found: ByThing, rail: Rail): FindingLine[] {
  const keys = [railKey(rail.id), ...[...rail.pieces, ...rail.features].map((part) => partKey(rail.id, part.id))];
  return keys.flatMap((key) => open(found, key)).sort((a, b) => ORDER[a.mark] - ORDER[b.mark] || a.index - b.index);
}

/** What is open about a thing, worst first; what passes is left out. */
export function open(found: ByThing, key: string): FindingLine[] {
  return [...(found.get(key) ?? [])].filter((finding) => finding.mark !== 'pass').sort((a, b) => ORDER[a.mark] - ORDER[b.mark]);
}
