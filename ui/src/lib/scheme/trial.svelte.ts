/** Another brief that is tried beside the one that is kept. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { Edit } from '../generated/edit';
import type { Brief } from '../generated/survey';
import type { BriefEditor } from './brief/editor';
import { briefWith, together } from './draft';
import type { SchemeSession } from './session.svelte';
import { KEY_TO_DRAWING, noteDrawn } from '../stopwatch';
import type { Rehearsed } from './whole';

export class Trial implements BriefEditor {
  /** What the other brief changes. */
  edits = $state.raw<Edit[]>([]);
  /** The site with it; null until it is planned, and where it changes nothing. */
  tried = $state.raw<Rehearsed | null>(null);
  /** Why it cannot be. */
  refusal = $state.raw<BackendError | null>(null);

  readonly #session: SchemeSession;
  #typed = $state.raw<Edit[]>([]);
  #asked: Edit[] = [];

  constructor(session: SchemeSession) {
    this.#session = session;
  }

  /** The other brief as it is meant. */
  get brief(): Brief {
    return briefWith(this.#session.opened.survey.brief, this.edits);
  }

  /** The other brief as it is drawn: with what is being typed. */
  get drawnBrief(): Brief {
    return briefWith(this.brief, this.#typed);
  }

  // As arrows, since forms take them one by one.
  type = (edits: Edit[], pressedAt: number): void => {
    this.#typed = edits;
    void this.#plan(pressedAt);
  };
  drop = (): void => {
    if (this.#typed.length === 0) return;
    this.#typed = [];
    void this.#plan();
  };
  keep = (edits: Edit[]): void => {
    this.edits = together(this.edits, edits);
    this.#typed = [];
    void this.#plan();
  };

  /** Plans it again: what it stands beside has changed. */
  again(): void {
    void this.#plan();
  }

  async #plan(pressedAt?: number): Promise<void> {
    const edits = together(this.edits, this.#typed);
    this.#asked = edits;
    if (edits.length === 0) {
      this.tried = null;
      this.refusal = null;
      return;
    }
    const outcome = await this.#session.rehearse('trial', edits, true);
    if (outcome === null || this.#asked !== edits) return;
    this.tried = outcome.tried ?? null;
    this.refusal = outcome.tried ? null : asBackendError(outcome.refused);
    if (outcome.tried && pressedAt !== undefined) await noteDrawn(KEY_TO_DRAWING, pressedAt);
  }
}
