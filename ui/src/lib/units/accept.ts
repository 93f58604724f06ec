/** What a field for a length accepts, and what it says where it does not. */
import { readLength } from './read';
import { columnUnit, type System } from './show';

/** What a field allows. */
export interface Allows {
  /** An empty field means that the length is unknown. */
  unknown?: boolean;
  /** 0 is a length here. */
  zero?: boolean;
  /** A length may lie below the datum. */
  negative?: boolean;
}

/** A length [mm], null for unknown, or why neither. */
export type Accepted = { mm: number | null; why?: undefined } | { mm?: undefined; why: string };

/** Judges what was typed. */
export function acceptLength(typed: string, system: System, allows: Allows = {}): Accepted {
  const text = typed.trim();
  if (text === '' || text === '?') return allows.unknown ? { mm: null } : { why: 'A length is needed here.' };
  const read = readLength(text, { bare: columnUnit(system) });
  if (read.why !== undefined) return { why: read.why };
  if (read.mm < 0 && !allows.negative) return { why: 'A length here is never less than 0.' };
  if (read.mm === 0 && !allows.zero && !allows.negative) return { why: 'A length here is more than 0.' };
  return { mm: read.mm };
}

/** Judges a plain number; a decimal comma is as good as a point. */
export function acceptNumber(typed: string, least: number, greatest: number, unknown = false): { value: number | null; why?: undefined } | { value?: undefined; why: string } {
  const text = typed.trim().replace(/[−–]/g, '-');
  if (text === '' || text === '?') return unknown ? { value: null } : { why: 'A number is needed here.' };
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return { why: `“${text.slice(0, 24)}” is no number.` };
  const value = Number(text.replace(',', '.'));
  if (value < least || value > greatest) return { why: `It must lie between ${least} and ${greatest}.` };
  return { value };
}
