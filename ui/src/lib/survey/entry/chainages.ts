/** What is typed for a chainage: a length, a spacing from the row above, or a spacing repeated. */
import { readLength, type BareUnit, type Comma } from '../../units/read';

/** Where the entry stands. */
export interface Above {
  /** Chainage of the row above [mm]; null at the top. */
  at: number | null;
  /** The spacing between the two rows above [mm]; null where there are not two. */
  spacing: number | null;
}

/** One or more chainages [mm] in order, or why there are none. */
export type Entry = { chainages: number[]; why?: undefined } | { chainages?: undefined; why: string };

/** The most rows that one entry makes: more is a slip of the thumb. */
export const MOST = 300;

/**
 * Reads an entry: `1250`, `+1100`, `x12`, `+1100 x12`, or `500 +1100 x12`; `*` stands for `x`, so that a keypad is
 * enough. Decimals of a millimetre are kept, so that a repeated spacing does not drift.
 */
export function readEntry(typed: string, above: Above, bare: BareUnit = 'mm', comma: Comma = 'plain'): Entry {
  const text = typed.trim();
  const [lengths = '', times, ...more] = text.split(/[x×*]/i);
  if (more.length > 0) return { why: 'Type the repeat once, like x12.' };
  const count = times === undefined ? 1 : readCount(times);
  if (typeof count === 'string') return { why: count };
  const [first = '', spacingText, ...further] = lengths.split('+');
  if (further.length > 0) return { why: 'Type one spacing, like +1100.' };

  let from = above.at;
  const chainages: number[] = [];
  if (first.trim() !== '') {
    if (times !== undefined && spacingText === undefined) {
      const example = first.trim();
      return { why: `Say whether ${example} is a spacing: type +${example} x${times.trim()} to repeat it.` };
    }
    const read = readLength(first, { bare, comma });
    if (read.why !== undefined) return { why: read.why };
    if (read.mm < 0) return { why: 'A chainage counts from the datum and is never less than 0.' };
    from = read.mm;
    chainages.push(read.mm);
  }
  if (spacingText === undefined && times === undefined) {
    return chainages.length > 0 ? { chainages } : { why: 'Type a chainage, or +1100 for a spacing from the row above.' };
  }

  let spacing = above.spacing;
  if (spacingText !== undefined) {
    const read = readLength(spacingText, { bare, comma });
    if (read.why !== undefined) return { why: `After the + stands the spacing. ${read.why}` };
    spacing = read.mm;
  }
  if (spacing === null) return { why: 'There are not two rows above to take the spacing from. Type it, like +1100 x12.' };
  if (spacing <= 0) return { why: 'The spacing must be more than 0.' };
  if (from === null) return { why: 'There is no row above to count from. Type the first chainage, like 500.' };
  for (let index = 1; index <= count; index += 1) chainages.push(Math.round((from + spacing * index) * 1000) / 1000);
  return { chainages };
}

function readCount(text: string): number | string {
  const digits = text.trim();
  if (!/^\d+$/.test(digits) || Number(digits) < 1) return 'After the x stands how often, like x12.';
  if (Number(digits) > MOST) return `One entry makes ${MOST} rows at most.`;
  return Number(digits);
}
