/** Something long that the program does, such as an import: how far it is, and a stop that is never lost. */
import type { AddProgress } from '../generated/types';

export class Running {
  /** Asks the program to stop; answers whether it was asked. */
  readonly #cancel: () => Promise<boolean>;
  /** How far it has come; null where none is on its way. */
  progress = $state.raw<AddProgress | null>(null);
  stopping = $state(false);
  /** Whether the program has told of it: before, it could not stop it. */
  #begun = false;

  constructor(cancel: () => Promise<boolean>) {
    this.#cancel = cancel;
  }

  get isOn(): boolean {
    return this.progress !== null;
  }

  /** Does it, while `listen` tells how far it is; `all` is how many there are, 0 where nobody knows yet. */
  async run<Came>(all: number, listen: (tell: (progress: AddProgress) => void) => Promise<() => void>, work: () => Promise<Came>): Promise<Came> {
    this.progress = { done: 0, all, name: '', kept: 0 };
    this.stopping = this.#begun = false;
    let end: () => void = () => undefined;
    try {
      end = await listen((progress) => this.#hear(progress));
      return await work();
    } finally {
      end();
      this.progress = null;
    }
  }

  /** Stops it, as soon as the program can. */
  async stop(): Promise<void> {
    this.stopping = true;
    // What could not be asked for can be asked for again.
    if (this.#begun && !(await this.#cancel())) this.stopping = false;
  }

  #hear(progress: AddProgress): void {
    this.progress = progress.name === '' ? { ...progress, name: this.progress?.name ?? '' } : progress;
    const isFirst = !this.#begun;
    this.#begun = true;
    if (isFirst && this.stopping) void this.stop();
  }
}
