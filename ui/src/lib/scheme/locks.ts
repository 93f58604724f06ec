/** Holes and drivers that a person keeps in their place, and what that costs. */
import type { Edit } from '../generated/edit';
import type { Brief, DriverPlace, Id, Locks, Mm, RailBrief } from '../generated/survey';
import type { KeptThing, LockRow } from '../generated/types';
import { length, type System } from '../units/show';

/** Chainages are kept to the micrometre; nearer than this they are one. */
const SAME_MM = 0.0005;

const isSame = (a: Mm, b: Mm) => Math.abs(a - b) < SAME_MM;

/** Every lock of a brief, holes first. */
export function locksOf(brief: RailBrief): KeptThing[] {
  return [
    ...brief.locks.holes_mm.map((at_mm): KeptThing => ({ kind: 'hole', at_mm })),
    ...brief.locks.drivers.map(({ place, part }): KeptThing => ({ kind: 'driver', place, part })),
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
export function unlock(brief: RailBrief, lock: KeptThing): Edit {
  if (lock.kind === 'hole') return set(brief, { ...brief.locks, holes_mm: brief.locks.holes_mm.filter((each) => !isSame(each, lock.at_mm)) });
  return set(brief, { ...brief.locks, drivers: brief.locks.drivers.filter((driver) => driver.place !== lock.place) });
}

/** A lock in words. */
export function lockWords(lock: KeptThing, places: DriverPlace[], system: System): string {
  if (lock.kind === 'hole') return `hole at ${length(lock.at_mm, system)}`;
  const place = places.find((each) => each.id === lock.place)?.label ?? lock.place;
  return lock.part === null ? `driver at ${place}` : `driver ${lock.part} at ${place}`;
}

/** How something changes, in words. */
export function fromTo(before: string, after: string): string {
  return before === after ? `stays ${before}` : `${before} → ${after}`;
}

/** Where the page tells what a lock costs: its place in the rail's list and its row; null where it is not told. */
export function rowOf(lock: KeptThing, rows: LockRow[]): { index: number; row: LockRow } | null {
  const index = rows.findIndex(({ lock: kept }) => {
    if (kept?.kind === 'hole') return lock.kind === 'hole' && isSame(kept.at_mm, lock.at_mm);
    return kept?.kind === 'driver' && lock.kind === 'driver' && kept.place === lock.place;
  });
  const row = rows[index];
  return row ? { index, row } : null;
}

/** What a lock costs in one line. */
export function lockCostWords(row: LockRow, system: System): string {
  const { departure_mm, departure_without_mm } = row;
  if (departure_mm === null || departure_without_mm === null) return row.cost;
  return `${row.cost}; worst departure ${fromTo(length(departure_without_mm, system), length(departure_mm, system))}`;
}

/** The brief of a rail, if it has one. */
export function railBrief(brief: Brief, rail: Id): RailBrief | undefined {
  return brief.rails.find((each) => each.rail === rail);
}
