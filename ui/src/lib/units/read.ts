/** Lengths as people type them: the units of the program's own reader, and the decimal comma where it cannot be mistaken. */

/** What a bare number stands for. */
export type BareUnit = 'mm' | 'm' | 'in' | 'ft';

/** What a comma stands for: thousands, decimals, or whatever cannot be mistaken. */
export type Comma = 'groups' | 'decimals' | 'plain';

/** A length that was read [mm], or why it could not be. */
export type Read = { mm: number; why?: undefined } | { mm?: undefined; why: string };

interface Ways {
  bare?: BareUnit;
  comma?: Comma;
}

/** Millimetres in each unit that is read; longer names first where one begins like another. */
const UNITS: [string, number][] = [
  ['mm', 1],
  ['cm', 10],
  ['km', 1e6],
  ['in', 25.4],
  ['ft', 304.8],
  ['"', 25.4],
  ["'", 304.8],
  ['m', 1000],
];

/** The greatest length that is read: 100 km [mm], as the program has it. */
const GREATEST = 1e8;

/** Reads a length; it is never rounded beyond a micrometre. */
export function readLength(typed: string, { bare = 'mm', comma = 'plain' }: Ways = {}): Read {
  const text = plain(typed);
  if (text === '') return { why: 'Nothing is typed here yet.' };
  if (text.length > 60) return { why: 'That is too long to be a length.' };
  const negative = text.startsWith('-');
  let rest = negative ? text.slice(1).trimStart() : text;
  let sum = 0;
  let lastUnit = Infinity;
  let isFirst = true;
  while (rest !== '') {
    const number = readNumber(rest, comma);
    if (number === null) return { why: noLength(typed, bare) };
    if (number.why !== undefined) return { why: number.why };
    const after = number.rest.trimStart();
    const unit = UNITS.find(([name]) => after.startsWith(name));
    if (!unit && !(isFirst && after === '')) return { why: noLength(typed, bare) };
    const each = unit ? unit[1] : UNITS.find(([name]) => name === bare)![1];
    if (number.isUnsure && each !== 1) return { why: unsure(number.digits, unit?.[0] ?? bare) };
    // "3 in 2 ft" and "2 m 3 m" are slips of the pen, not lengths.
    if (each >= lastUnit) return { why: `${shown(typed)} goes back to a unit that is as great or greater; type the greater unit first.` };
    lastUnit = each;
    sum += number.value * each;
    isFirst = false;
    rest = after.slice(unit ? unit[0].length : 0).trimStart();
  }
  if (isFirst) return { why: noLength(typed, bare) };
  const mm = Math.round(sum * 1000) / 1000;
  if (!Number.isFinite(mm) || mm > GREATEST) return { why: `${shown(typed)} is more than 100 km.` };
  return { mm: negative && mm !== 0 ? -mm : mm };
}

/** One sort of prime, quote, minus and space each, small letters. */
function plain(typed: string): string {
  return typed
    .trim()
    .replace(/[′’‘]/g, "'")
    .replace(/[″”“]|''/g, '"')
    .replace(/[−–]/g, '-')
    .replace(/[\u00a0\u2009]/g, ' ')
    .toLowerCase();
}

interface Number1 {
  value: number;
  rest: string;
  digits: string;
  /** The comma could group thousands as well as mark decimals. */
  isUnsure: boolean;
  why?: undefined;
}

/** A decimal, a fraction ("1/2"), or a whole number and a fraction ("3 1/2"). */
function readNumber(text: string, comma: Comma): Number1 | { why: string } | null {
  const first = readDecimal(text, comma);
  if (first === null || first.why !== undefined) return first;
  if (first.rest.startsWith('/')) {
    const below = readDecimal(first.rest.slice(1), comma);
    if (below === null || below.why !== undefined || below.value <= 0) return null;
    return { ...below, value: first.value / below.value };
  }
  const fraction = /^[ -]+(\d+)\/(\d+)(.*)$/s.exec(first.rest);
  if (fraction) {
    const [above, below] = [Number(fraction[1]), Number(fraction[2])];
    if (below > above) return { ...first, value: first.value + above / below, rest: fraction[3] ?? '' };
  }
  return first;
}

function readDecimal(text: string, comma: Comma): Number1 | { why: string } | null {
  const digits = /^[\d.,\u202f]+/.exec(text)?.[0] ?? '';
  if (!/\d/.test(digits)) return null;
  const rest = text.slice(digits.length);
  const bare = digits.replaceAll('\u202f', '');
  const commas = bare.split(',').length - 1;
  const dots = bare.split('.').length - 1;
  const isGrouped = /^\d{1,3}(,\d{3})+(\.\d*)?$/.test(bare);
  const isDotGrouped = commas === 1 && /^\d{1,3}(\.\d{3})+,\d+$/.test(bare);
  let plainDigits: string;
  if (commas === 0) plainDigits = bare;
  else if (isDotGrouped && comma !== 'groups') plainDigits = bare.replaceAll('.', '').replace(',', '.');
  else if (comma === 'decimals' && commas === 1 && dots === 0) plainDigits = bare.replace(',', '.');
  else if (isGrouped) plainDigits = bare.replaceAll(',', '');
  else if (comma !== 'groups' && commas === 1 && dots === 0) plainDigits = bare.replace(',', '.');
  else return { why: `The commas in ${shown(digits)} are neither thousands nor decimals.` };
  if (plainDigits.split('.').length > 2) return { why: `${shown(digits)} has more than one decimal point.` };
  const value = Number(plainDigits);
  if (!Number.isFinite(value)) return null;
  const isUnsure = comma === 'plain' && commas === 1 && isGrouped && dots === 0;
  return { value, rest, digits, isUnsure };
}

function shown(typed: string): string {
  const text = typed.trim();
  return `“${text.length > 24 ? `${text.slice(0, 24)}…` : text}”`;
}

const EXAMPLES: Record<BareUnit, string> = {
  mm: '1250, 1.25 m or 4\' 1 1/4"',
  m: '1.25, 1250 mm or 4\' 1 1/4"',
  in: '49 1/4, 4\' 1 1/4" or 1250 mm',
  ft: '4.1, 4\' 1 1/4" or 1250 mm',
};

function noLength(typed: string, bare: BareUnit): string {
  return `${shown(typed)} is no length. Type it like ${EXAMPLES[bare]}.`;
}

function unsure(digits: string, unit: string): string {
  const [dot, none] = [digits.replace(',', '.'), digits.replace(',', '')];
  return `${digits} ${unit} could be ${dot} ${unit} or ${none} ${unit}. Type it with a point, or without the comma.`;
}
