/** Where a spacing counts from: the rows of a rail by chainage. */
import type { Feature, Rail } from '../../generated/survey';
import type { Above } from '../entry/chainages';
import type { KindName } from '../kinds';

/** The features of a rail by chainage. */
export function inOrder(rail: Rail): Feature[] {
  return [...rail.features].sort((a, b) => a.chainage_mm.value_mm - b.chainage_mm.value_mm || (a.id < b.id ? -1 : 1));
}

/** What stands above a new entry of a kind: the one entered last, else the last of its kind along the rail. */
export function aboveNew(rail: Rail, kind: KindName, enteredLast: string | null): Above {
  const same = inOrder(rail).filter((feature) => feature.kind === kind).map((feature) => ({ id: feature.id, at: feature.chainage_mm.value_mm }));
  const found = same.findIndex((each) => each.id === enteredLast);
  const index = found < 0 ? same.length - 1 : found;
  return { at: same[index]?.at ?? null, spacing: between(same[index - 1]?.at, same[index]?.at) };
}

/** What stands above a row of the table; with a repeat the row itself does. */
export function aboveRow(chainages: number[], index: number, repeats: boolean): Above {
  const at = repeats ? index : index - 1;
  return { at: chainages[at] ?? null, spacing: between(chainages[at - 1], chainages[at]) };
}

function between(a: number | undefined, b: number | undefined): number | null {
  return a === undefined || b === undefined ? null : Math.round((b - a) * 1000) / 1000;
}
