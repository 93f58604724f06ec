/** How a pasted column writes its numbers: the unit in its heading, and what its commas mean. */
import type { BareUnit, Comma } from '../../units/read';

const WORDS: [RegExp, BareUnit][] = [
  [/\b(mm|millimet(re|er)s?)\b/i, 'mm'],
  [/\b(m|met(re|er)s?)\b/i, 'm'],
  [/\b(in|inch(es)?)\b/i, 'in'],
  [/\b(ft|feet|foot)\b/i, 'ft'],
];

/** The unit that a heading names; null for a cell with figures in it. */
export function columnUnitOf(heading: string): BareUnit | null {
  if (/\d/.test(heading)) return null;
  return WORDS.find(([word]) => word.test(heading))?.[1] ?? null;
}

/** One number whose comma can only be decimal settles it for the column, and so does one whose comma can only group. */
export function commaOf(cells: string[]): Comma {
  const numbers = cells.flatMap((cell) => cell.match(/[\d.,]*\d/g) ?? []);
  const decimal = numbers.some((number) => /^\d*,(\d{1,2}|\d{4,})$/.test(number) || /^0,\d+$/.test(number) || /\.\d{3},\d+$/.test(number));
  const groups = numbers.some((number) => /,\d{3}(,\d{3})+$/.test(number) || /,\d{3}\.\d+$/.test(number));
  if (decimal === groups) return 'plain';
  return decimal ? 'decimals' : 'groups';
}
