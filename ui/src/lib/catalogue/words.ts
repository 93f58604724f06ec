/** What the page calls things. */
import type { FieldFault, FieldForm, Refused, Sheet } from '../generated/types';

/** The sheets in the order of their keys, with what one part of each is called. */
export const SHEETS: { sheet: Sheet; label: string; one: string }[] = [
  { sheet: 'luminaires', label: 'Luminaires', one: 'luminaire' },
  { sheet: 'drivers', label: 'Drivers', one: 'driver' },
  { sheet: 'leads', label: 'Leads', one: 'lead' },
  { sheet: 'controls', label: 'Controls', one: 'control' },
  { sheet: 'fixings', label: 'Fixings', one: 'fixing' },
  { sheet: 'labour', label: 'Labour', one: 'labour' },
  { sheet: 'catalogue', label: 'About', one: 'about' },
];

export function labelOf(sheet: Sheet): string {
  return SHEETS.find((known) => known.sheet === sheet)?.label ?? sheet;
}

/** Whether a sheet is a list of parts. */
export function hasParts(sheet: Sheet): boolean {
  return sheet !== 'labour' && sheet !== 'catalogue';
}

/** A word of the file as people read it. */
export function readable(word: string): string {
  return word.replaceAll('_', ' ');
}

/** A number of things. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number.toLocaleString('en-GB')} ${number === 1 ? one : many}`;
}

/** What is wrong, and what would do. */
export function faultWords({ value, matter, accepted }: Pick<FieldFault | Refused, 'value' | 'matter' | 'accepted'>): string {
  const quoted = value === '' || value.startsWith('"') ? value : `“${value}”`;
  const first = quoted === '' ? matter.charAt(0).toUpperCase() + matter.slice(1) : `${quoted} ${matter}`;
  return accepted === '' ? `${first}.` : `${first}. Accepted: ${accepted}.`;
}

/** A field's unit, of money the currency. */
export function unitOf(form: FieldForm, currency: string): string {
  return form.input === 'money' || form.input === 'length_prices' ? currency : form.unit;
}

/** A value as it is shown in a list: words without underscores. */
export function shown(form: FieldForm | undefined, value: string): string {
  return form?.input === 'choice' || form?.input === 'choices' ? readable(value) : value;
}
