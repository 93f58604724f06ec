/** Which fields of a form are asked for, in which groups, and what a list shows of a part. */
import type { FieldForm, PartLine, Sheet } from '../generated/types';
import { readable } from './words';

export type Cells = Record<string, string>;

/** Cells as the program sends them, without holes. */
export function cellsOf(cells: { [key in string]?: string }): Cells {
  return Object.fromEntries(Object.entries(cells).map(([name, text]) => [name, text ?? '']));
}

/** Whether a field is asked for, by what the others say. */
export function isAskedFor(form: FieldForm, cells: Cells): boolean {
  return form.only_with.every(({ field, is }) => is.includes(cells[field] ?? ''));
}

/** The cells without those that are not asked for any more. */
export function withoutStale(forms: FieldForm[], cells: Cells): Cells {
  let kept = cells;
  // What belongs to a kind may itself be a kind.
  for (let turn = 0; turn < 3; turn += 1) kept = Object.fromEntries(Object.entries(kept).filter(([name]) => forms.some((form) => form.name === name && isAskedFor(form, kept))));
  return kept;
}

export interface Group {
  key: string;
  title: string;
  fields: FieldForm[];
}

/** Groups by the table that a field stands in; what stands in none comes first. */
export function groupsOf(forms: FieldForm[], cells: Cells): Group[] {
  const groups: Group[] = [];
  for (const form of forms.filter((each) => isAskedFor(each, cells))) {
    const key = form.name.includes('.') ? form.name.split('.')[0]! : '';
    let group = groups.find((each) => each.key === key);
    if (group === undefined) groups.push((group = { key, title: titleOf(key), fields: [] }));
    group.fields.push(form);
  }
  return groups.sort((a, b) => Number(b.key === '') - Number(a.key === ''));
}

function titleOf(key: string): string {
  const words = readable(key);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** What else is to be known of a field on a sheet: most parts are sold by the piece and not by length. */
export function saysOf(sheet: Sheet, form: FieldForm): string {
  return form.name === 'price' && sheet !== 'leads' && sheet !== 'fixings' ? '' : form.says;
}

/** The figures by which people tell parts of a list apart, in a few words. */
export function gist(sheet: Sheet, cells: Cells): string {
  const value = (name: string, unit = ''): string => (cells[name] ? `${readable(cells[name])}${unit}` : '');
  const of: Partial<Record<Sheet, string[]>> = {
    luminaires: [value('shape.kind'), value('nominal_v', ' V'), value('load.amps', ' A') || value('load.watts', ' W') || value('load.ohms', ' Ω'), value('flux_lm', ' lm')],
    drivers: [value('output_v', ' V'), value('rated_w', ' W'), cells.outputs ? `${cells.outputs} ${cells.outputs === '1' ? 'output' : 'outputs'}` : ''],
    leads: [cells.cores && cells.area_mm2 ? `${cells.cores} × ${cells.area_mm2} mm²` : '', value('supply.kind'), (cells.uses ?? '').replaceAll('; ', ', ')],
    controls: [value('device.kind'), value('nominal_v', ' V'), value('contact_a', ' A')],
    fixings: [value('purpose.kind')],
  };
  return (of[sheet] ?? []).filter((text) => text !== '').join(' · ');
}

/** Parts of a list that hold every word, in any field. */
export function found(parts: PartLine[], sheet: Sheet, words: string): PartLine[] {
  const wanted = words.toLowerCase().split(/\s+/).filter((word) => word !== '');
  return parts.filter((part) => part.sheet === sheet && holds(part, wanted));
}

function holds(part: PartLine, wanted: string[]): boolean {
  if (wanted.length === 0) return true;
  const text = Object.values(part.cells).join('\n').toLowerCase();
  return wanted.every((word) => text.includes(word));
}

/** A reference for a copy that no part has yet. */
export function copyReference(part: string, taken: string[]): string {
  for (let number = 2; ; number += 1) {
    const next = `${part.slice(0, 60)}-${number}`;
    if (!taken.includes(next)) return next;
  }
}
