/** Forms that are half filled in. Of each only what was typed is held, so that whatever else changes shows through. */
import type { FieldFault, Sheet } from '../generated/types';
import type { Cells } from './fields';

/** The key of a part that is being made. */
export const NEW = '\u0000new';

/** Which form: that of a part, of a part that is being made, or of a sheet that is itself a form. */
export interface FormOf {
  /** The catalogue. */
  id: string;
  sheet: Sheet;
  /** The part as it is kept, NEW, or null where the sheet has no parts. It follows a part that gets another reference. */
  part: string | null;
}

/** A form that is not kept yet. */
export interface Draft {
  /** What a part that is being made began with; nothing for all others. */
  from: Cells;
  /** The fields that were typed in. */
  typed: Cells;
  faults: FieldFault[];
  /** Fields that were left, so that what is wrong with them is said. */
  left: string[];
}

export class Drafts {
  #held = $state.raw<Map<string, Draft>>(new Map());
  /** How often each form was asked about. */
  readonly #asked = new Map<string, number>();

  of(form: FormOf): Draft | null {
    return this.#held.get(keyOf(form)) ?? null;
  }

  put(form: FormOf, changes: Partial<Draft>): void {
    const draft = this.of(form) ?? { from: {}, typed: {}, faults: [], left: [] };
    this.#held = new Map([...this.#held, [keyOf(form), { ...draft, ...changes }]]);
  }

  drop(form: FormOf): void {
    this.#held = new Map([...this.#held].filter(([key]) => key !== keyOf(form)));
  }

  /** What was sent is kept, under the reference that the part has now; what was typed meanwhile stays. */
  kept(form: FormOf, sent: Cells, now: FormOf): void {
    const draft = this.of(form);
    this.drop(form);
    const typed = Object.fromEntries(Object.entries(draft?.typed ?? {}).filter(([name, text]) => sent[name] !== text));
    if (draft !== null && Object.keys(typed).length > 0) this.put(now, { typed, faults: draft.faults.filter(({ field }) => field in typed) });
  }

  /** Asks what is wrong with a form and shows it beside its fields, unless it was asked about again meanwhile. */
  async check(form: FormOf, ask: () => Promise<FieldFault[]>): Promise<FieldFault[]> {
    const key = keyOf(form);
    const asked = (this.#asked.get(key) ?? 0) + 1;
    this.#asked.set(key, asked);
    const faults = await ask();
    if (asked === this.#asked.get(key) && this.#held.has(key)) this.put(form, { faults });
    return faults;
  }
}

export function isSame(a: FormOf | null, b: FormOf | null): boolean {
  return a !== null && b !== null && keyOf(a) === keyOf(b);
}

function keyOf({ id, sheet, part }: FormOf): string {
  return `${id}/${sheet}/${part ?? ''}`;
}
