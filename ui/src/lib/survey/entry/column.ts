/** A column of chainages pasted from a spreadsheet. */
import { columnUnitOf, commaOf } from './columnStyle';
import { readEntry, type Above, type Entry } from './chainages';
import type { BareUnit } from '../../units/read';

/** One line of a pasted column. */
export interface PastedLine {
  text: string;
  entry: Entry;
}

/** A pasted column as it was read. */
export interface Pasted {
  lines: PastedLine[];
  /** What bare numbers were taken for. */
  bare: BareUnit;
}

/** Whether a pasted text is a column rather than one cell. */
export function isColumn(text: string): boolean {
  return cells(text).length > 1;
}

/**
 * Reads a column: the first cell of each line, headings left out. A unit in the heading holds for bare numbers; else
 * they are in the unit that the table shows, unless the person has said otherwise.
 */
export function readColumn(text: string, above: Above, shown: BareUnit, said?: BareUnit): Pasted {
  const all = cells(text);
  const bare = said ?? columnUnitOf(all[0] ?? '') ?? shown;
  const rows = all.filter((cell, index) => !(index === 0 && !/\d/.test(cell)));
  const comma = commaOf(rows);
  let from = above;
  const lines = rows.map((cell) => {
    const entry = readEntry(cell, from, bare, comma);
    const last = entry.chainages?.at(-1);
    if (last !== undefined) {
      const before = entry.chainages!.at(-2) ?? from.at;
      from = { at: last, spacing: before === null ? null : last - before };
    }
    return { text: cell, entry };
  });
  return { lines, bare };
}

/** The first cell of each line that is not empty. */
function cells(text: string): string[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((line) => (line.split(/\t|;/)[0] ?? '').trim().replace(/^"(.*)"$/, '$1').trim())
    .filter((cell) => cell !== '');
}
