/**
 * Sentences of the program with the lengths in them as the person reads lengths. The program words what it found once,
 * in millimetres and metres; here every number with one of these units is shown anew. What people named themselves, as a
 * rail called "5 m ramp", is left as they wrote it.
 */
import { feetAndInches, type System } from './show';

const NUMBER = String.raw`\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?`;
/** One length, or a range whose unit stands behind its second number; no areas, no moments, no words. */
const LENGTH = String.raw`(?<![\p{L}\p{N}.,])(?:(?<from>${NUMBER})(?<between> to | and | or |–))?(?<number>${NUMBER})(?<space>[ \u00a0\u202f])(?<unit>mm|m)(?![\p{L}\p{N}²³·/])`;

/** What of a sentence is looked at: lengths, and before them what stays as it is, namely what is quoted and `names`, which
 * are texts that people wrote. */
export function lengthsBeside(names: readonly string[]): RegExp {
  const kept = names.filter((name) => name !== '' && new RegExp(LENGTH, 'u').test(name)).sort((a, b) => b.length - a.length);
  return new RegExp(['“[^”]*”', ...kept.map((name) => `(?:${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')})`), LENGTH].join('|'), 'gu');
}

const LENGTHS = lengthsBeside([]);

/** A sentence in the person's units. */
export function sentence(text: string, system: System, lengths = LENGTHS): string {
  return text.replace(lengths, (found, ...rest) => {
    const { from, between, number, space, unit } = rest.at(-1) as Record<string, string | undefined>;
    // What a person wrote stays as it is.
    if (number === undefined || unit === undefined) return found;
    const one = (digits: string) => (system === 'metric' ? groupedDigits(digits) : feetAndInches(Number(digits.replaceAll(',', '')) * (unit === 'm' ? 1000 : 1)));
    const last = system === 'metric' ? `${one(number)}${space}${unit}` : one(number);
    return from === undefined ? last : `${one(from)}${between}${last}`;
  });
}

/** Digits as they came, their thousands grouped. */
function groupedDigits(digits: string): string {
  const [whole = '', part] = digits.replaceAll(',', '').split('.');
  const shown = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return part === undefined ? shown : `${shown}.${part}`;
}
