/** What the catalogue page holds: the catalogues, the one that is looked at, forms that are half filled in, and a file whose
 * changes are looked at before they are taken. It outlives the page. */
import { asBackendError, type BackendError } from '../backend/backend';
import { fileName } from '../fileName';
import type { CatalogueForm, CataloguePage, FieldFault, FieldForm, PartLine, Preview, Sheet } from '../generated/types';
import type { Steps } from '../shell/screens';
import type { CatalogueBackend } from './backend';
import { Drafts, isSame, NEW, type Draft, type FormOf } from './drafts.svelte';
import { cellsOf, withoutStale, type Cells } from './fields';
import { hasParts } from './words';

/** The window around the page. */
export interface CatalogueHost {
  /** Makes a change in its turn, and says in the head whether it is kept. Answers whether it was made. */
  inTurn: (work: () => Promise<void>) => Promise<boolean>;
  /** Says what was done; where it can be taken back, how. */
  say: (words: string, undo?: () => Promise<boolean>) => void;
  /** Why nothing that is kept can be changed; each page says it anew. */
  store: string | null;
  /** Shows the open site as it is now planned. */
  toNow: () => Promise<boolean>;
}

/** A file whose changes are looked at. */
export interface Incoming {
  path: string;
  /** Null where the file is to be a catalogue of its own. */
  into: string | null;
  preview: Preview;
}

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
  readonly #drafts = new Drafts();
  /** The forms that are on their way to be kept. */
  readonly #keeping = new Set<FormOf>();

  constructor(host: CatalogueHost, backend: CatalogueBackend) {
    this.#host = host;
    this.backend = backend;
  }

  get steps(): Steps {
    const id = this.page?.open.id ?? null;
    return {
      undo: this.page?.undo ?? null,
      redo: this.page?.redo ?? null,
      takeBack: () => this.#takeBack(),
      makeAgain: () => this.#change(async () => (this.page?.redo == null ? null : this.backend.redoCatalogue(id))),
    };
  }

  get locked(): boolean {
    return this.page === null || this.readOnly || this.page.open.built_in;
  }

  /** Nothing of the store can be changed. */
  get readOnly(): boolean {
    return this.#host.store !== null;
  }

  /** The part that is chosen, as it is kept. */
  get part(): PartLine | null {
    return this.page?.open.parts.find((part) => part.part === this.chosen) ?? null;
  }

  get formsOf(): FieldForm[] {
    return this.forms.get(this.sheet) ?? [];
  }

  /** The form on the screen; null where none is shown. */
  get form(): FormOf | null {
    const { page, sheet, chosen } = this;
    if (page === null || (hasParts(sheet) && chosen === null)) return null;
    return { id: page.open.id, sheet, part: hasParts(sheet) ? chosen : null };
  }

  get draft(): Draft | null {
    return this.form === null ? null : this.#drafts.of(this.form);
  }

  draftOf(part: string): Draft | null {
    return this.page === null ? null : this.#drafts.of({ id: this.page.open.id, sheet: this.sheet, part });
  }

  /** The form on the screen: what is typed over what is kept. */
  get cells(): Cells {
    return this.form === null ? {} : this.#cells(this.form, this.draft?.typed);
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

  /** A part to be filled in, from nothing or from another. Where one is half filled in already, that comes back. */
  begin(from: Cells): void {
    this.chosen = NEW;
    const { form, draft } = this;
    if (form === null) return;
    if (draft === null || Object.keys(draft.typed).length === 0) this.#drafts.put(form, { from, typed: {}, faults: [], left: [] });
    void this.#check(form);
  }

  /** Puts a form back to what is kept. */
  drop(): void {
    if (this.form !== null) this.#drafts.drop(this.form);
    if (this.chosen === NEW) this.chosen = null;
  }

  type(field: string, text: string): void {
    const { form, draft } = this;
    if (form === null) return;
    this.#drafts.put(form, { typed: { ...draft?.typed, [field]: text } });
    void this.#check(form);
  }

  /** A field was left: where the whole form is in order, it is kept. A new part waits until it is added. */
  async leave(field: string): Promise<void> {
    const { form, draft } = this;
    if (form === null || draft === null) return;
    if (!draft.left.includes(field)) this.#drafts.put(form, { left: [...draft.left, field] });
    if (form.part !== NEW) await this.keep();
  }

  /** Keeps the form on the screen, where nothing is wrong with it, whatever is looked at meanwhile. Answers whether it is
   * kept. */
  async keep(): Promise<boolean> {
    const { form, draft } = this;
    if (form === null || draft === null) return true;
    const { typed } = draft;
    const before = this.#kept(form);
    this.#keeping.add(form);
    try {
      const faults = await this.#check(form);
      if (faults === null) return false;
      if (faults.length > 0) {
        if (form.part === NEW && this.#drafts.of(form) !== null) this.#drafts.put(form, { left: faults.map((fault) => fault.field) });
        return false;
      }
      return await this.#save(form, typed, before);
    } finally {
      this.#keeping.delete(form);
    }
  }

  /** `before` is what was kept as the form was left, should another catalogue be open when its turn comes. */
  #save(form: FormOf, typed: Cells, before: Cells): Promise<boolean> {
    return this.#change(async () => {
      const isOpen = (): boolean => this.page?.open.id === form.id;
      const kept = isOpen() ? this.#kept(form) : before;
      const sent = this.#toSend(form, { ...kept, ...typed });
      if (form.part !== NEW && same(sent, kept)) {
        this.#drafts.kept(form, typed, form);
        return null;
      }
      const saved = await this.backend.savePart(form.id, form.sheet, form.part === NEW ? null : form.part, sent);
      // Another catalogue may have been opened meanwhile, and stays open.
      const page = isOpen() ? saved : { ...(await this.backend.catalogues(this.page?.open.id ?? null)), said: saved.said, replanned: saved.replanned };
      const isShown = isSame(this.form, form);
      const part = form.part === null ? null : (sent.part ?? null);
      this.#drafts.kept(form, typed, { ...form, part });
      // Whatever else was typed into it and waits for its turn belongs to the same part.
      const renamed = [...this.#keeping].filter((each) => isSame(each, form));
      for (const each of renamed) each.part = part;
      if (isShown) this.chosen = part;
      this.#show(page);
      return page;
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
      // It may have been taken, or put away, while this waited for its turn.
      if (this.incoming !== incoming) return null;
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
      const path = await this.backend.chooseTarget(title, `${fileName(name, 'catalogue')}${of}`, ending);
      if (path !== null) this.#host.say(await this.backend.exportCatalogue(this.#id(), path, form));
    });
  }

  /** What is kept of a form of the open catalogue; of a part that is being made, what it began with. */
  #kept(form: FormOf): Cells {
    const open = this.page?.open;
    if (form.part === NEW) return this.#drafts.of(form)?.from ?? {};
    if (form.sheet === 'catalogue') return cellsOf(open?.head ?? {});
    if (form.sheet === 'labour') return cellsOf(open?.labour ?? {});
    return cellsOf(open?.parts.find((part) => part.part === form.part)?.cells ?? {});
  }

  #cells(form: FormOf, typed: Cells = {}): Cells {
    return { ...this.#kept(form), ...typed };
  }

  /** What a form sends: what belonged to a kind that is not chosen any more stays behind. */
  #toSend(form: FormOf, cells: Cells): Cells {
    return withoutStale(this.forms.get(form.sheet) ?? [], cells);
  }

  /** Asks what is wrong with a form; null where that cannot be told. */
  async #check(form: FormOf): Promise<FieldFault[] | null> {
    const was = form.part === NEW ? null : form.part;
    const cells = this.#toSend(form, this.#cells(form, this.#drafts.of(form)?.typed));
    try {
      return await this.#drafts.check(form, () => this.backend.checkPart(form.id, form.sheet, was, cells));
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
      return null;
    }
  }

  #id(): string {
    return this.page?.open.id ?? '';
  }

  #show(page: CataloguePage): void {
    this.page = page;
    this.#host.store = page.read_only;
    const isThere = this.chosen === NEW || page.open.parts.some((part) => part.part === this.chosen);
    if (!isThere) this.chosen = null;
  }

  /** Takes back the last change: what it is called is asked again when its turn has come. */
  #takeBack(last: () => string | null = () => this.page?.undo ?? null): Promise<boolean> {
    const id = this.page?.open.id ?? null;
    return this.#change(async () => (last() === null ? null : this.backend.undoCatalogue(id)), false);
  }

  /** Makes a change in its turn; `work` answers null where there is nothing to do any more. */
  async #change(work: () => Promise<CataloguePage | null>, offersUndo = true): Promise<boolean> {
    let replanned = false;
    const done = await this.#host.inTurn(async () => {
      const page = await work();
      if (page === null) return;
      this.#show(page);
      replanned = page.replanned;
      const { said, undo } = page;
      const isLast = (): string | null => (this.page?.undo === undo ? undo : null);
      if (said !== null) this.#host.say(said, offersUndo && undo !== null ? () => this.#takeBack(isLast) : undefined);
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
