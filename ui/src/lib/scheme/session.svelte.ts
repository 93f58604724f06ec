/** The open site in the scheme stage: what is typed is tried at once, what is meant is kept. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { Commands } from '../generated/commands';
import type { Edit } from '../generated/edit';
import type { Asked, Explanation, Figure, Opened } from '../generated/types';
import { Rehearsals, type Outcome } from './rehearsals';
import { whole, type Rehearsed } from './whole';
import { KEY_TO_DRAWING, noteDrawn } from '../stopwatch';

/** What the scheme stage asks of the program. */
export type SchemeBackend = Pick<Commands, 'edit' | 'tryEdits' | 'explain'>;

export class SchemeSession {
  /** The site as it is kept. */
  opened = $state.raw() as Opened;
  /** The site as it would be with what is being typed; null where nothing is. */
  tried = $state.raw<Rehearsed | null>(null);
  /** What is being typed. */
  draft = $state.raw<Edit[]>([]);
  /** Why what is being typed cannot be. */
  draftRefusal = $state.raw<BackendError | null>(null);
  /** Why the last change was not kept. */
  refusal = $state.raw<BackendError | null>(null);
  /** How many changes are on their way. */
  keeping = $state(0);
  /** What the feeds cost as the site is kept; null until it is known. */
  cost = $state.raw<Figure | null>(null);
  bound = $state.raw<Figure | null>(null);
  /** The stage may be told that nothing is to be changed, whatever the site says. */
  readOnly = $state(false);

  readonly #backend: SchemeBackend;
  readonly #tell: (opened: Opened) => void;
  readonly #rehearsals: Rehearsals;
  #queue: Promise<unknown> = Promise.resolve();

  constructor(opened: Opened, backend: SchemeBackend, tell: (opened: Opened) => void = () => undefined) {
    this.#backend = backend;
    this.#tell = tell;
    this.#rehearsals = new Rehearsals(async (edits) => {
      const { page, page_number: beside } = this.opened;
      return whole(await backend.tryEdits(edits, beside), page);
    });
    this.opened = opened;
    void this.#weigh();
  }

  /** What the drawing shows: the site as it would be while something is typed. */
  get page(): Opened['page'] {
    return this.tried?.page ?? this.opened.page;
  }

  get isReadOnly(): boolean {
    return this.readOnly || this.opened.read_only !== null;
  }

  /** The site changed elsewhere. */
  show(opened: Opened): void {
    if (opened === this.opened) return;
    this.#rehearsals.dropAll();
    this.dropDraft();
    this.opened = opened;
    void this.#weigh();
  }

  /** Draws what is being typed; only the last answer is drawn. */
  async type(edits: Edit[], pressedAt: number): Promise<void> {
    if (this.isReadOnly) return;
    this.draft = edits;
    const outcome = await this.#rehearsals.ask('draft', edits, true);
    if (outcome === null || this.draft !== edits) return;
    this.tried = outcome.tried ?? null;
    this.draftRefusal = outcome.tried ? null : asBackendError(outcome.refused);
    if (outcome.tried) await noteDrawn(KEY_TO_DRAWING, pressedAt);
  }

  /** Back to what is kept. */
  dropDraft(): void {
    this.#rehearsals.drop('draft');
    this.draft = [];
    this.tried = null;
    this.draftRefusal = null;
  }

  /** Tries edits beside what is shown, as for a comparison. */
  rehearse(lane: string, edits: Edit[], urgent = false): Promise<Outcome> {
    return this.#rehearsals.ask(lane, edits, urgent);
  }

  /** Keeps edits as one change. What was drawn while typing stays until the answer is there. */
  keep(edits: Edit[]): Promise<boolean> {
    if (this.isReadOnly || edits.length === 0) return Promise.resolve(false);
    const { draft, tried } = this;
    // What was drawn is what will be kept, so that its cost is known.
    const known = tried && JSON.stringify(draft) === JSON.stringify(edits) ? tried : null;
    this.#rehearsals.drop('draft');
    this.keeping += 1;
    return this.#next(async () => {
      try {
        const answer = await this.#backend.edit(edits);
        this.refusal = null;
        // A shell that shares the answer has shown it by now; what was asked about it since is not forgotten.
        const isShown = answer === this.opened;
        if (!isShown) this.#rehearsals.dropAll();
        this.opened = answer;
        this.#tell(answer);
        if (!isShown || known) void this.#weigh(known);
        return true;
      } catch (thrown) {
        this.refusal = asBackendError(thrown);
        return false;
      } finally {
        this.keeping -= 1;
        if (this.draft === draft) this.dropDraft();
      }
    });
  }

  dismiss(): void {
    this.refusal = null;
  }

  /** Why a number is what it is, once every change before the question is kept. */
  explain(asked: Asked): Promise<Explanation> {
    return this.#next(() => this.#backend.explain(asked));
  }

  #next<T>(call: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(call);
    this.#queue = done.catch(() => undefined);
    return done;
  }

  /** What the site costs as it is: it comes with the site, or with the trial that was kept, or else with one of nothing. */
  async #weigh(kept: Rehearsed | null = null): Promise<void> {
    const { opened } = this;
    this.cost = opened.cost ?? kept?.cost ?? null;
    this.bound = opened.cost ? (opened.bound ?? null) : (kept?.bound ?? null);
    if (this.cost) return;
    // A file that is only looked at cannot be tried; then the cost stays unknown.
    const outcome = await this.#rehearsals.ask('cost', []);
    if (outcome?.tried && this.opened === opened) {
      this.cost = outcome.tried.cost_now;
      this.bound = outcome.tried.bound_now ?? null;
    }
  }
}
