/** Trials of edits, one at a time: what is asked while one is under way waits, and of one kind only the last counts. */
import type { Edit } from '../generated/edit';
import type { Rehearsed } from './whole';

/** What a trial came to: the site as it would be, why it cannot be, or nothing where a later one took its place. */
export type Outcome = { tried: Rehearsed; refused?: undefined } | { tried?: undefined; refused: unknown } | null;

interface Waiting {
  edits: Edit[];
  answer: (outcome: Outcome) => void;
}

export class Rehearsals {
  #run: (edits: Edit[]) => Promise<Rehearsed>;
  #waiting = new Map<string, Waiting>();
  #isFlying = false;

  constructor(run: (edits: Edit[]) => Promise<Rehearsed>) {
    this.#run = run;
  }

  /** Tries edits. `urgent` goes before everything that waits: a person is typing. */
  ask(lane: string, edits: Edit[], urgent = false): Promise<Outcome> {
    this.drop(lane);
    return new Promise((answer) => {
      const rest = urgent ? [...this.#waiting] : [];
      if (urgent) this.#waiting.clear();
      this.#waiting.set(lane, { edits, answer });
      for (const [name, job] of rest) this.#waiting.set(name, job);
      void this.#fly();
    });
  }

  /** Forgets what waits in a lane. */
  drop(lane: string): void {
    this.#waiting.get(lane)?.answer(null);
    this.#waiting.delete(lane);
  }

  /** Forgets all that waits: the site has changed. */
  dropAll(): void {
    for (const lane of [...this.#waiting.keys()]) this.drop(lane);
  }

  async #fly(): Promise<void> {
    if (this.#isFlying) return;
    this.#isFlying = true;
    for (let next = this.#next(); next; next = this.#next()) {
      let outcome: Outcome;
      try {
        outcome = { tried: await this.#run(next.edits) };
      } catch (refused) {
        outcome = { refused };
      }
      next.answer(outcome);
    }
    this.#isFlying = false;
  }

  #next(): Waiting | undefined {
    for (const [lane, job] of this.#waiting) {
      this.#waiting.delete(lane);
      return job;
    }
    return undefined;
  }
}
