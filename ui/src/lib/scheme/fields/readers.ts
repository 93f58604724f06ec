/** How typed values are read and shown: lengths in the person's units, numbers, words. */
import { acceptLength, acceptNumber, type Allows } from '../../units/accept';
import { columnUnit, typedLength, type System } from '../../units/show';

/** What was read, or why nothing was. */
export type Read<Value> = { value: Value; why?: undefined } | { value?: undefined; why: string };

export interface Reader<Value> {
  unit: string;
  /** What an empty field means. */
  empty: string;
  /** A phone's keypad is enough. */
  keypad: boolean;
  /** Several lines; Shift+Enter begins the next. */
  isLong: boolean;
  show: (value: Value) => string;
  read: (typed: string) => Read<Value>;
}

const SHORT = { isLong: false, empty: '' };

/** A length that must be there [mm]. */
export function lengthReader(system: System, allows: Omit<Allows, 'unknown'> = {}): Reader<number> {
  return {
    ...SHORT,
    unit: columnUnit(system),
    keypad: system === 'metric',
    show: (mm) => typedLength(mm, system),
    read: (typed) => {
      const accepted = acceptLength(typed, system, allows);
      if (accepted.why !== undefined) return { why: accepted.why };
      return accepted.mm === null ? { why: 'A length is needed here.' } : { value: accepted.mm };
    },
  };
}

/** A length that may be left out [mm]; `empty` says what that means. */
export function lengthOrReader(system: System, empty: string): Reader<number | null> {
  const length = lengthReader(system);
  return {
    ...length,
    empty,
    show: (mm) => (mm === null ? '' : length.show(mm)),
    read: (typed) => (typed.trim() === '' ? { value: null } : length.read(typed)),
  };
}

interface Bounds {
  unit: string;
  least: number;
  greatest: number;
  /** Decimals that are kept; none where absent. */
  decimals?: number;
}

/** A number that must be there. */
export function numberReader({ unit, least, greatest, decimals = 0 }: Bounds): Reader<number> {
  return {
    ...SHORT,
    unit,
    keypad: least >= 0,
    show: String,
    read: (typed) => {
      const accepted = acceptNumber(typed, least, greatest);
      if (accepted.why !== undefined) return { why: accepted.why };
      if (accepted.value === null) return { why: 'A number is needed here.' };
      const tens = 10 ** decimals;
      if (Math.abs(accepted.value * tens - Math.round(accepted.value * tens)) > 1e-9)
        return { why: decimals === 0 ? 'A whole number is needed here.' : `No more than ${decimals} decimal${decimals === 1 ? '' : 's'} here.` };
      return { value: accepted.value };
    },
  };
}

/** A number that may be left out; `empty` says what that means. */
export function numberOrReader(bounds: Bounds, empty: string): Reader<number | null> {
  const number = numberReader(bounds);
  return {
    ...number,
    empty,
    show: (value) => (value === null ? '' : String(value)),
    read: (typed) => (typed.trim() === '' ? { value: null } : number.read(typed)),
  };
}

/** Words that must be there. */
export function wordsReader(): Reader<string> {
  return { ...SHORT, unit: '', keypad: false, show: (words) => words, read: (typed) => (typed.trim() === '' ? { why: 'A few words are needed here.' } : { value: typed.trim() }) };
}

/** Words that may be left out; `empty` says what that means. */
export function wordsOrReader(empty: string, isLong = false): Reader<string> {
  return { ...SHORT, unit: '', empty, keypad: false, isLong, show: (words) => words, read: (typed) => ({ value: typed.trim() }) };
}
