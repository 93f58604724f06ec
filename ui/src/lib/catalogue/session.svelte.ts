/** What the catalogue page holds: the catalogues, the one that is looked at, forms that are half filled in, and a file whose
 * changes are looked at before they are taken. It outlives the page. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { CatalogueForm, CataloguePage, FieldFault, FieldForm, PartLine, Preview, Sheet } from '../generated/types';
import type { Steps } from '../shell/screens';
import type { CatalogueBackend } from './backend';
import { cellsOf, withoutStale, type Cells } from './fields';
import { hasParts } from './words';

/** The window around the page. */
export interface CatalogueHost {
  /** Makes a change in its turn, and says in the head whether it is kept. Answers whether it was made. */
  inTurn: (work: () => Promise<void>) => Promise<boolean>;
  say: (words: string) => void;
  /** Shows the open site as it is now planned. */
  toNow: () => Promise<boolean>;
}

/** A form that is not kept yet. */
export interface Draft {
  cells: Cells;
  faults: FieldFault[];
  /** Fields that were left, so that what is wrong with them is said. */
  left: string[];
}

/** A file whose changes are looked at. */
export interface Incoming {
  path: string;
  /** Null where the file is to be a catalogue of its own. */
  into: string | null;
  preview: Preview;
}

/** The key of a part that is being made. */
export const NEW = '\u0000new';

export class CatalogueSession {
  readonly backend: CatalogueBackend;
  readonly #host: CatalogueHost;
  page = $state.raw<CataloguePage | null>(null);
  forms = $state.raw<Map<Sheet, FieldForm[]>>(new Map());
  sheet = $state<Sheet>('luminaires');
  /** The chosen part by its reference, or NEW. */
  chosen = $state<string | null>(null);
  words = $state('');
  incoming = $state.raw<Incoming | null>(null);
  /** Why a file could not be looked at. */
  refusal = $state.raw<BackendError | null>(null);
  #drafts = $state.raw<Map<string, Draft>>(new Map());
  #asked = 0;

  constructor(host: CatalogueHost, backend: CatalogueBackend) {
    this.#host = host;
    this.backend = backend;
  }

  get steps(): Steps {
    const id = this.page?.open.id ?? null;
    return {
      undo: this.page?.undo ?? null,
      redo: this.page?.redo ?? null,
      takeBack: () => this.#change(() => this.backend.undoCatalogue(id), () => this.page?.undo != null, true),
      makeAgain: () => this.#change(() => this.backend.redoCatalogue(id), () => this.page?.redo != null, true),
    };
  }

  get locked(): boolean {
    return this.page === null || this.page.read_only !== null || this.page.open.built_in;
  }

  /** The part that is chosen, as it is kept. */
  get part(): PartLine | null {
    return this.page?.open.parts.find((part) => part.part === this.chosen) ?? null;
  }

  get formsOf(): FieldForm[] {
    return this.forms.get(this.sheet) ?? [];
  }

  /** What the form on the screen is kept under; null where none is shown. */
  get draftKey(): string | null {
    const of = hasParts(this.sheet) ? this.chosen : this.sheet;
    return of === null || this.page === null ? null : `${this.page.open.id}/${this.sheet}/${of}`;
  }

  get draft(): Draft | null {
    return this.draftKey === null ? null : (this.#drafts.get(this.draftKey) ?? null);
  }

  isDraft(part: string): boolean {
    return this.page !== null && this.#drafts.has(`${this.page.open.id}/${this.sheet}/${part}`);
  }

  /** The form on the screen: what is typed, else what is kept. */
  get cells(): Cells {
    if (this.draft !== null) return this.draft.cells;
    return this.kept;
  }

  get kept(): Cells {
    if (this.page === null) return {};
    if (this.sheet === 'catalogue') return cellsOf(this.page.open.head);
    if (this.sheet === 'labour') return cellsOf(this.page.open.labour);
    return cellsOf(this.part?.cells ?? {});
  }

  /** The page, read anew. */
  async load(id: string | null = this.page?.open.id ?? null): Promise<void> {
    await this.#try(async () => {
      if (this.forms.size === 0) this.forms = new Map((await this.backend.partForms()).map(({ sheet, fields }) => [sheet, fields]));
      this.#show(await this.backend.catalogues(id));
    });
  }

  async open(id: string): Promise<void> {
    this.chosen = null;
    this.incoming = null;
    await this.load(id);
  }

  choose(part: string | null): void {
    this.chosen = part;
  }

  show(sheet: Sheet): void {
    if (this.sheet === sheet) return;
    this.sheet = sheet;
    this.chosen = null;
  }

  /** A part to be filled in, from nothing or from another. */
  begin(cells: Cells): void {
    this.chosen = NEW;
    this.#put({ cells, faults: [], left: [] });
    void this.check();
  }

  /** Puts a form back to what is kept. */
  drop(): void {
    if (this.draftKey !== null) this.#drafts = new Map([...this.#drafts].filter(([key]) => key !== this.draftKey));
    if (this.chosen === NEW) this.chosen = null;
  }

  type(field: string, text: string): void {
    const draft = this.draft ?? { cells: this.kept, faults: [], left: [] };
    this.#put({ ...draft, cells: { ...draft.cells, [field]: text } });
    void this.check();
  }

  /** Asks what is wrong with the form; an answer that was overtaken by the next is dropped. */
  async check(): Promise<FieldFault[] | null> {
    const [key, draft, page] = [this.draftKey, this.draft, this.page];
    if (key === null || draft === null || page === null) return null;
    const asked = ++this.#asked;
    try {
      const faults = await this.backend.checkPart(page.open.id, this.sheet, this.#was(), this.#toSend(draft));
      const now = this.#drafts.get(key);
      if (asked !== this.#asked || now === undefined) return null;
      this.#drafts = new Map([...this.#drafts, [key, { ...now, faults }]]);
      return faults;
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
      return null;
    }
  }

  /** A field was left: where the whole form is in order, it is kept. A new part waits until it is added. */
  async leave(field: string): Promise<void> {
    const draft = this.draft;
    if (draft === null) return;
    if (!draft.left.includes(field)) this.#put({ ...draft, left: [...draft.left, field] });
    if (this.chosen !== NEW || !hasParts(this.sheet)) await this.keep();
  }

  /** Keeps the form on the screen, where nothing is wrong with it. Answers whether it is kept. */
  async keep(): Promise<boolean> {
    const [key, draft, page] = [this.draftKey, this.draft, this.page];
    if (key === null || draft === null || page === null) return true;
    if (this.chosen !== NEW && same(this.#toSend(draft), this.kept)) {
      this.drop();
      return true;
    }
    const faults = await this.check();
    if (faults === null || this.draftKey !== key) return false;
    if (faults.length > 0) {
      if (this.chosen === NEW && this.draft !== null) this.#put({ ...this.draft, left: faults.map((fault) => fault.field) });
      return false;
    }
    const { sheet } = this;
    const kept = this.draft ?? draft;
    const cells = this.#toSend(kept);
    return this.#change(async () => {
      const next = await this.backend.savePart(page.open.id, sheet, this.#was(), cells);
      // What was typed meanwhile stays a draft.
      if (this.#drafts.get(key)?.cells === kept.cells) this.#drafts = new Map([...this.#drafts].filter(([of]) => of !== key));
      if (hasParts(sheet)) this.chosen = cells.part ?? null;
      return next;
    });
  }

  takeOut(part: string): Promise<boolean> {
    return this.#change(() => this.backend.deletePart(this.#id(), part));
  }

  copy(id: string, name: string): Promise<boolean> {
    return this.#change(() => this.backend.copyCatalogue(id, name));
  }

  putInForce(id: string): Promise<boolean> {
    return this.#change(() => this.backend.putInForce(id));
  }

  settle(number: number): Promise<boolean> {
    return this.#change(() => this.backend.settleCatalogue(this.#id(), number));
  }

  /** Lets the person choose a file, and looks at what it would change. */
  async lookAtAFile(): Promise<void> {
    await this.#try(async () => {
      const path = await this.backend.chooseParts();
      if (path !== null) await this.#look(path, this.page?.open.built_in === false ? this.#id() : null);
    });
  }

  /** Looks at the same file as changes of the catalogue, or as one of its own. */
  async lookAgain(into: string | null): Promise<void> {
    const path = this.incoming?.path;
    if (path !== undefined) await this.#try(() => this.#look(path, into));
  }

  async #look(path: string, into: string | null): Promise<void> {
    this.incoming = { path, into, preview: await this.backend.previewImport(into, path) };
  }

  /** Takes what is looked at. */
  take(): Promise<boolean> {
    const incoming = this.incoming;
    if (incoming === null) return Promise.resolve(false);
    return this.#change(async () => {
      const { path, into, preview } = incoming;
      const page = await this.backend.takeImport(into, path, preview.file_sha256, preview.content_sha256);
      this.incoming = null;
      return page;
    });
  }

  cancel(): void {
    this.incoming = null;
    this.refusal = null;
  }

  async export(form: CatalogueForm): Promise<void> {
    await this.#try(async () => {
      const name = this.page?.open.name ?? 'catalogue';
      const ending = form.kind === 'toml' ? 'toml' : 'csv';
      const title = form.kind === 'toml' ? 'Write the catalogue to a file' : form.kind === 'csv' ? 'Write the list of parts to a file' : 'Write the template to a file';
      const of = form.kind === 'toml' ? '' : `-${form.sheet}${form.kind === 'template' ? '-template' : ''}`;
      const path = await this.backend.chooseTarget(title, `${fileName(name)}${of}`, ending);
      if (path !== null) this.#host.say(await this.backend.exportCatalogue(this.#id(), path, form));
    });
  }

  /** What a form sends: what belonged to a kind that is not chosen any more stays behind. */
  #toSend(draft: Draft): Cells {
    return withoutStale(this.formsOf, draft.cells);
  }

  #id(): string {
    return this.page?.open.id ?? '';
  }

  #was(): string | null {
    return hasParts(this.sheet) && this.chosen !== NEW ? this.chosen : null;
  }

  #put(draft: Draft): void {
    if (this.draftKey !== null) this.#drafts = new Map([...this.#drafts, [this.draftKey, draft]]);
  }

  #show(page: CataloguePage): void {
    this.page = page;
    const isThere = this.chosen === NEW || page.open.parts.some((part) => part.part === this.chosen);
    if (!isThere) this.chosen = null;
  }

  async #change(work: () => Promise<CataloguePage>, isThere = () => true, forgets = false): Promise<boolean> {
    let replanned = false;
    const done = await this.#host.inTurn(async () => {
      if (!isThere()) return;
      const page = await work();
      // What is taken back is not to be kept again by a form that still holds it.
      if (forgets) this.#drafts = new Map([...this.#drafts].filter(([key]) => key.endsWith(NEW)));
      this.#show(page);
      replanned = page.replanned;
      if (page.said !== null) this.#host.say(page.said);
    });
    if (replanned) await this.#host.toNow();
    return done;
  }

  async #try(work: () => Promise<void>): Promise<void> {
    this.refusal = null;
    try {
      await work();
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
    }
  }
}

function same(a: Cells, b: Cells): boolean {
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => (a[name] ?? '') === (b[name] ?? ''));
}

/** A name as that of a file: what some file systems cannot hold becomes a hyphen. */
function fileName(name: string): string {
  const plain = name.replace(/[^\p{L}\p{N} ._-]+/gu, '-').trim();
  return plain.replace(/^[.\s-]+|[.\s-]+$/g, '') || 'catalogue';
}
