/** A program to test the catalogue page with: it keeps catalogues in memory and checks as simply as the tests need. */
import type { DisagreementLine } from '../generated/sites';
import type { CataloguePage, FieldForm, PartLine, Preview, Sheet, SheetForm } from '../generated/types';
import { BackendError } from '../backend/backend';
import type { CatalogueBackend } from './backend';
import { cellsOf, type Cells } from './fields';

function field(name: string, changes: Partial<FieldForm> = {}): FieldForm {
  return { name, label: name, says: '', unit: '', input: 'words', choices: [], needed: true, usual: '', only_with: [], accepted: 'a text', ...changes };
}
const choices = (...words: string[]) => words.map((word) => ({ word, says: `It is ${word}.` }));
const only = (of: string, ...is: string[]) => [{ field: of, is }];

export const FORMS: SheetForm[] = [
  { sheet: 'catalogue', fields: [field('label'), field('currency', { input: 'code' })] },
  {
    sheet: 'luminaires',
    fields: [
      field('part', { label: 'Part reference' }),
      field('description', { label: 'Description' }),
      field('price', { label: 'Price of one piece', input: 'money' }),
      field('nominal_v', { label: 'Nominal voltage', unit: 'V', input: 'number', accepted: 'a number above 0, up to 1000 V' }),
      field('load.kind', { label: 'How it draws current', input: 'choice', choices: choices('current', 'power') }),
      field('load.amps', { label: 'The current', unit: 'A', input: 'number', only_with: only('load.kind', 'current') }),
      field('load.watts', { label: 'The power', unit: 'W', input: 'number', only_with: only('load.kind', 'power') }),
      field('outdoor', { label: 'Stands weather', input: 'yes_no', needed: false, usual: 'no' }),
    ],
  },
  { sheet: 'drivers', fields: [field('part'), field('description')] },
  { sheet: 'leads', fields: [field('part'), field('uses', { input: 'choices', choices: choices('mains', 'run') })] },
  { sheet: 'controls', fields: [field('part')] },
  { sheet: 'fixings', fields: [field('part')] },
  { sheet: 'labour', fields: [field('hour_price', { input: 'money' })] },
];

export function lamp(part: string, changes: Cells = {}): PartLine {
  return { sheet: 'luminaires', part, cells: { part, description: `Lamp ${part}`, price: '17.40', nominal_v: '12', 'load.kind': 'current', 'load.amps': '0.03', outdoor: 'no', ...changes } };
}

export class FakeCatalogues {
  readonly calls: [string, ...unknown[]][] = [];
  parts: PartLine[] = [lamp('PT-1'), lamp('PT-2'), { sheet: 'drivers', part: 'DR-1', cells: { part: 'DR-1', description: 'Driver' } }];
  builtIn = false;
  inForce = true;
  undo: string | null = null;
  disagreement: DisagreementLine | null = null;
  preview: Preview = { schema_version: 1, file: 'prices.csv', file_sha256: 'f', catalogue: 'Own', content_sha256: 'c', added: [], changed: [], unchanged: 0, not_named: 0, refused: [] };
  refuses: string | null = null;
  readOnly: string | null = null;
  sites = ['Quay steps'];
  /** What the answers of a command wait for. */
  readonly held = new Map<string, Promise<void>>();
  path: string | null = '/invented/prices.csv';

  page(said: string | null = null): CataloguePage {
    const entry = { id: 'own', name: 'Own', parts: this.parts.length, priced_on: '2030-01-02', invented: false, built_in: false, in_force: this.inForce, unusable: null };
    const demo = { ...entry, id: 'demo', name: 'Demo', invented: true, built_in: true, in_force: false };
    const open = this.builtIn ? demo : entry;
    return {
      said,
      catalogues: [entry, demo],
      open: { id: open.id, name: open.name, built_in: open.built_in, currency: 'EUR', copy_name: 'My catalogue', head: { label: open.name, currency: 'EUR' }, labour: { hour_price: '58.00' }, disagreement: this.disagreement, parts: this.parts },
      stands_in: this.inForce ? null : 'No catalogue of your own is in force.',
      sites: this.sites,
      undo: this.undo,
      redo: null,
      read_only: this.readOnly,
      replanned: false,
    };
  }

  async #answer(name: string, given: unknown[], work: () => unknown): Promise<never> {
    this.calls.push([name, ...given]);
    await this.held.get(name);
    if (this.refuses !== null) throw new BackendError({ message: this.refuses, faults: ['line 3, column 2: no'] });
    return work() as never;
  }

  /** Holds the answers of a command back; what is answered lets them go. */
  hold(name: string): () => void {
    let go: () => void = () => undefined;
    this.held.set(name, new Promise((done) => (go = done)));
    return () => (this.held.delete(name), go());
  }

  #faults(sheet: Sheet, was: string | null, cells: Cells): unknown[] {
    const fault = (of: string, value: string, matter: string, accepted: string) => ({ field: of, value, matter, accepted });
    if (sheet === 'leads') return cells.uses ? [] : [fault('uses', '', 'nothing is given', 'mains, run'), fault('supply.kind', '', 'nothing is given', 'by the metre')];
    if (sheet !== 'luminaires') return [];
    const volts = Number(cells.nominal_v);
    return [
      ...(cells.part ? [] : [fault('part', '', 'nothing is given', 'a text of 1 to 64 characters')]),
      ...(cells.part !== was && this.parts.some(({ part }) => part === cells.part) ? [fault('part', cells.part ?? '', 'is there already, under luminaires', 'another reference')] : []),
      ...(volts > 0 && volts <= 1000 ? [] : [fault('nominal_v', cells.nominal_v ?? '', 'cannot stand here', 'a number above 0, up to 1000 V')]),
    ];
  }

  backend(): CatalogueBackend {
    const changed = (said: string, work: () => void) => () => {
      work();
      this.undo = said;
      return this.page(said);
    };
    return {
      partForms: () => this.#answer('partForms', [], () => FORMS),
      catalogues: (id) => this.#answer('catalogues', [id], () => this.page()),
      checkPart: (id, sheet, was, cells) => this.#answer('checkPart', [id, sheet, was, cells], () => this.#faults(sheet, was, cellsOf(cells))),
      savePart: (id, sheet, was, cells) =>
        this.#answer('savePart', [id, sheet, was, cells], changed(`part ${cells.part} changed`, () => {
          const next: PartLine = { sheet, part: cells.part ?? '', cells };
          this.parts = was === null ? [...this.parts, next] : this.parts.map((part) => (part.part === was ? next : part));
        })),
      deletePart: (id, part) => this.#answer('deletePart', [id, part], changed(`part ${part} taken out`, () => (this.parts = this.parts.filter((each) => each.part !== part)))),
      copyCatalogue: (id, name) => this.#answer('copyCatalogue', [id, name], changed(`catalogue ${name} added`, () => (this.builtIn = false))),
      putInForce: (id) => this.#answer('putInForce', [id], changed('catalogue Own is in force', () => (this.inForce = true))),
      settleCatalogue: (id, number) => this.#answer('settleCatalogue', [id, number], changed('settled', () => undefined)),
      previewImport: (id, path) => this.#answer('previewImport', [id, path], () => this.preview),
      takeImport: (id, path, file, content) => this.#answer('takeImport', [id, path, file, content], changed('2 changes taken in', () => undefined)),
      exportCatalogue: (id, path, form) => this.#answer('exportCatalogue', [id, path, form], () => `written to ${path}`),
      undoCatalogue: (id) => this.#answer('undoCatalogue', [id], changed('taken back', () => undefined)),
      redoCatalogue: (id) => this.#answer('redoCatalogue', [id], changed('made again', () => undefined)),
      chooseParts: () => Promise.resolve(this.path),
      chooseTarget: (_title, name, ending) => Promise.resolve(`/invented/${name}.${ending}`),
    };
  }
}

