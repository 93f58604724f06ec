/** Lengths as they are shown, in millimetres and metres or in feet and inches. */
import { grouped, metres, mm } from '../figures';
import type { BareUnit } from './read';

/** How lengths are shown. */
export type System = 'metric' | 'imperial';

const NARROW = '\u202f';
const INCH = 25.4;

/** The unit at the head of a column and what a bare number typed there stands for. */
export function columnUnit(system: System): BareUnit {
  return system === 'metric' ? 'mm' : 'in';
}

/** A length without its unit in metric, with its signs in imperial. */
export function bareLength(valueMm: number, system: System): string {
  return system === 'metric' ? mm(valueMm) : feetAndInches(valueMm);
}

/** A length with its unit. */
export function length(valueMm: number, system: System): string {
  return system === 'metric' ? `${mm(valueMm)}${NARROW}mm` : feetAndInches(valueMm);
}

/** A long length, as of a whole rail. */
export function longLength(valueMm: number, system: System): string {
  return system === 'metric' ? metres(valueMm) : feetAndInches(valueMm);
}

/** A length as a person would type it again. */
export function typedLength(valueMm: number, system: System): string {
  if (system === 'imperial') return feetAndInches(valueMm);
  return String(Math.round(valueMm * 1000) / 1000);
}

/** Feet, inches and the nearest sixteenth of an inch, in lowest terms: 8' 3 1/2". */
export function feetAndInches(valueMm: number): string {
  if (!Number.isFinite(valueMm)) return 'no number';
  const sixteenths = Math.round((Math.abs(valueMm) / INCH) * 16);
  const sign = valueMm < 0 && sixteenths > 0 ? '\u2212' : '';
  const feet = Math.floor(sixteenths / 192);
  const inches = Math.floor((sixteenths % 192) / 16);
  const part = fraction(sixteenths % 16);
  const inchText = [inches > 0 || part === '' ? String(inches) : '', part].filter((text) => text !== '').join(' ');
  if (feet === 0) return `${sign}${inchText}"`;
  return inches === 0 && part === '' ? `${sign}${grouped(feet)}'` : `${sign}${grouped(feet)}' ${inchText}"`;
}

function fraction(sixteenths: number): string {
  if (sixteenths === 0) return '';
  let [above, below] = [sixteenths, 16];
  while (above % 2 === 0) [above, below] = [above / 2, below / 2];
  return `${above}/${below}`;
}
