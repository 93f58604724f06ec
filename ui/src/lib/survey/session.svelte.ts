/** The open site in the survey pages: one edit after another, what was said, and what went wrong. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { Edit, Opened, SurveyBackend } from '../session/types';

/** Carries edits to the program in the order in which they were made. */
export class SurveySession {
  /** The site as the program last answered. */
  opened = $state.raw<Opened>() as Opened;
  /** Why the last change was not made. */
  refusal = $state.raw<BackendError | null>(null);
  /** How many changes are on their way. */
  waiting = $state(0);

  #backend: SurveyBackend;
  #tell: (opened: Opened) => void;
  #queue: Promise<unknown> = Promise.resolve();

  constructor(opened: Opened, backend: SurveyBackend, tell: (opened: Opened) => void = () => undefined) {
    this.opened = opened;
    this.#backend = backend;
    this.#tell = tell;
  }

  /** Makes edits as one step. Answers whether they were made. */
  send(edits: Edit[]): Promise<boolean> {
    if (edits.length === 0) return Promise.resolve(true);
    return this.#next(() => this.#backend.edit(edits));
  }

  undo(): Promise<boolean> {
    return this.#next(() => this.#backend.undo());
  }

  redo(): Promise<boolean> {
    return this.#next(() => this.#backend.redo());
  }

  /** Takes the refusal off the screen. */
  dismiss(): void {
    this.refusal = null;
  }

  #next(call: () => Promise<Opened>): Promise<boolean> {
    this.waiting += 1;
    const done = this.#queue.then(async () => {
      try {
        this.opened = await call();
        this.refusal = null;
        this.#tell(this.opened);
        return true;
      } catch (thrown) {
        this.refusal = asBackendError(thrown);
        return false;
      } finally {
        this.waiting -= 1;
      }
    });
    this.#queue = done;
    return done;
  }
}
