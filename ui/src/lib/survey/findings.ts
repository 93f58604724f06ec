/** Which findings are about which thing of the survey. */
import type { Rail, Survey } from '../generated/survey';
import type { FindingLine, PieceSpan, RailPage, SitePage } from '../generated/types';
import { mm } from '../figures';
import { toolOf } from './kinds';

/** Findings by the key of the thing they are about. */
export type ByThing = ReadonlyMap<string, FindingLine[]>;

export const SITE = 'site';
export const railKey = (rail: string) => `rail ${rail}`;
export const partKey = (rail: string, id: string) => `part ${rail} ${id}`;
export const mainsKey = (id: string) => `mains ${id}`;
export const placeKey = (id: string) => `place ${id}`;
export const routeKey = (id: string) => `route ${id}`;

/**
 * Sorts the findings by thing. The page names a subject in words; the words of every thing are made here in the same
 * way and compared, so two features that are told alike (same kind, same chainage) share their findings.
 */
export function byThing(page: SitePage, survey: Survey): ByThing {
  const keys = new Map<string, string[]>();
  const name = (words: string, key: string) => keys.set(words, [...(keys.get(words) ?? []), key]);
  name('Site', SITE);
  for (const rail of survey.rails) {
    name(rail.label, railKey(rail.id));
    nameParts(rail, page.rails.find((each) => each.id === rail.id), name);
  }
  for (const point of survey.mains_points) name(`Mains point ${point.label}`, mainsKey(point.id));
  for (const place of survey.driver_places) name(`Driver place ${place.label}`, placeKey(place.id));
  for (const route of survey.routes) name(`Route ${route.label}`, routeKey(route.id));

  const found = new Map<string, FindingLine[]>();
  for (const finding of page.findings)
    for (const key of keys.get(finding.subject) ?? []) found.set(key, [...(found.get(key) ?? []), finding]);
  return found;
}

function nameParts(rail: Rail, page: RailPage | undefined, name: (words: string, key: string) => void): void {
  for (const feature of rail.features)
    name(`${rail.label}, ${toolOf(feature.kind).word} at ${mm(feature.chainage_mm.value_mm)}\u202fmm`, partKey(rail.id, feature.id));
  page?.pieces.forEach((span: PieceSpan) => name(`${rail.label}, piece from ${mm(span.start_mm)}\u202fmm`, partKey(rail.id, span.id)));
}

const ORDER = { stop: 0, caution: 1, not_evaluated: 2, pass: 3 } as const;

/** What is open about a rail, its pieces and its features, each finding once. */
export function openOfRail(found: ByThing, rail: Rail): FindingLine[] {
  const keys = [railKey(rail.id), ...[...rail.pieces, ...rail.features].map((part) => partKey(rail.id, part.id))];
  // Two things that are told alike share their findings.
  const all = new Map(keys.flatMap((key) => open(found, key)).map((finding) => [finding.index, finding]));
  return [...all.values()].sort((a, b) => ORDER[a.mark] - ORDER[b.mark] || a.index - b.index);
}

/** What is open about a thing, worst first; what passes is left out. */
export function open(found: ByThing, key: string): FindingLine[] {
  return [...(found.get(key) ?? [])].filter((finding) => finding.mark !== 'pass').sort((a, b) => ORDER[a.mark] - ORDER[b.mark]);
}
