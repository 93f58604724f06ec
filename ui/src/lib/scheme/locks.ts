/** Holes and drivers that a person keeps in their place, and what that costs. */
import type { Edit } from '../generated/edit';
import type { Brief, DriverPlace, Id, Locks, Mm, RailBrief } from '../generated/survey';
import type { Explanation, Figure, Step } from '../generated/types';
import { length, type System } from '../units/show';
import { railFigures, signedMoney } from './figures';
import type { SchemeRail, SchemeTried } from './wire';

/** Something that is kept in its place. */
export type Lock = { kind: 'hole'; at_mm: Mm } | { kind: 'driver'; place: Id; part: string | null };

/** Chainages are kept to the micrometre; nearer than this they are one. */
const SAME_MM = 0.0005;

const isSame = (a: Mm, b: Mm) => Math.abs(a - b) < SAME_MM;

/** Every lock of a brief, holes first. */
export function locksOf(brief: RailBrief): Lock[] {
  return [
    ...brief.locks.holes_mm.map((at_mm): Lock => ({ kind: 'hole', at_mm })),
    ...brief.locks.drivers.map(({ place, part }): Lock => ({ kind: 'driver', place, part })),
  ];
}

/** Whether a hole is kept by the brief, rather than there already. */
export function isHoleLocked(brief: RailBrief, at: Mm): boolean {
  return brief.locks.holes_mm.some((each) => isSame(each, at));
}

export function isDriverLocked(brief: RailBrief, place: Id): boolean {
  return brief.locks.drivers.some((driver) => driver.place === place);
}

function set(brief: RailBrief, locks: Locks): Edit {
  return { kind: 'set_rail_brief', rail: brief.rail, change: { kind: 'locks', value: locks } };
}

/** Keeps a hole; `instead` is the place of the kept hole that moves there. */
export function lockHole(brief: RailBrief, at: Mm, instead: Mm = at): Edit {
  const others = brief.locks.holes_mm.filter((each) => !isSame(each, at) && !isSame(each, instead));
  return set(brief, { ...brief.locks, holes_mm: [...others, at].sort((a, b) => a - b) });
}

/** Keeps a driver at a place, instead of at another where one is given. */
export function lockDriver(brief: RailBrief, place: Id, instead: Id = place): Edit {
  const others = brief.locks.drivers.filter((driver) => driver.place !== place && driver.place !== instead);
  return set(brief, { ...brief.locks, drivers: [...others, { place, part: null }] });
}

/** Lets something go again. */
export function unlock(brief: RailBrief, lock: Lock): Edit {
  if (lock.kind === 'hole') return set(brief, { ...brief.locks, holes_mm: brief.locks.holes_mm.filter((each) => !isSame(each, lock.at_mm)) });
  return set(brief, { ...brief.locks, drivers: brief.locks.drivers.filter((driver) => driver.place !== lock.place) });
}

/** A lock in words. */
export function lockWords(lock: Lock, places: DriverPlace[], system: System): string {
  if (lock.kind === 'hole') return `hole at ${length(lock.at_mm, system)}`;
  const place = places.find((each) => each.id === lock.place)?.label ?? lock.place;
  return lock.part === null ? `driver at ${place}` : `driver ${lock.part} at ${place}`;
}

/** A rail with a lock and without it. */
export interface LockCost {
  cost: Figure;
  costWithout: Figure;
  departure: number | null;
  departureWithout: number | null;
  luminaires: number;
  luminairesWithout: number;
}

/** What a lock changes: the site with it, and as it would be without. */
export function lockCost(page: SchemeRail, cost: Figure, without: SchemeTried, brief: RailBrief): LockCost | null {
  const free = without.page.rails.find((rail) => rail.id === page.id);
  if (!free) return null;
  const [kept, loose] = [railFigures(page, brief, []), railFigures(free, brief, [])];
  return {
    cost,
    costWithout: without.cost,
    departure: kept.departure?.mm ?? null,
    departureWithout: loose.departure?.mm ?? null,
    luminaires: kept.luminaires,
    luminairesWithout: loose.luminaires,
  };
}

/** How something changes, in words. */
export function fromTo(before: string, after: string): string {
  return before === after ? `stays ${before}` : `${before} → ${after}`;
}

/** What a lock costs in one line. */
export function lockCostWords(cost: LockCost, system: System): string {
  const money = signedMoney(cost.cost, cost.costWithout);
  const parts = [money === 'same' ? 'costs nothing' : money];
  if (cost.luminaires !== cost.luminairesWithout) parts.push(`luminaires ${fromTo(String(cost.luminairesWithout), String(cost.luminaires))}`);
  if (cost.departure !== null && cost.departureWithout !== null)
    parts.push(`worst departure ${fromTo(length(cost.departureWithout, system), length(cost.departure, system))}`);
  return parts.join('; ');
}

/** Why a lock costs what it costs: both plans were made, and this is the difference. */
export function explainLock(words: string, cost: LockCost, system: System): Explanation {
  const steps: Step[] = [
    { what: 'The site without this lock', role: 'start', figure: cost.costWithout, note: 'planned again with everything else as it is: parts and labour of feeds' },
    { what: 'This lock', role: 'change', figure: difference(cost), note: words },
    { what: 'The site with it', role: 'result', figure: cost.cost, note: 'the plan that is drawn' },
  ];
  if (cost.departure !== null && cost.departureWithout !== null)
    steps.push(
      { what: 'Worst departure without it', role: 'given', figure: null, note: length(cost.departureWithout, system) },
      { what: 'Worst departure with it', role: 'given', figure: null, note: length(cost.departure, system) },
    );
  if (cost.luminaires !== cost.luminairesWithout)
    steps.push({ what: 'Luminaires', role: 'given', figure: null, note: `${cost.luminairesWithout} without it, ${cost.luminaires} with it` });
  return { figure: difference(cost), title: `is what it costs to keep the ${words}: two plans, one less the other.`, mark: null, steps, notes: [] };
}

function difference(cost: LockCost): Figure {
  return { ...cost.cost, value: cost.cost.value - cost.costWithout.value };
}

/** The brief of a rail, if it has one. */
export function railBrief(brief: Brief, rail: Id): RailBrief | undefined {
  return brief.rails.find((each) => each.rail === rail);
}
