// Generated from core/desk/src/view by `make bless`; changes here are overwritten.
import type { Asked, Explanation, SitePage, Start } from './types';

/** Carries a command's name and arguments to the program and brings back its answer. */
export type Call = (name: string, args: Record<string, unknown>) => Promise<unknown>;

/** One function for each command. */
export interface Commands {
  /** What to show first. */
  start: () => Promise<Start>;
  /** Opens a survey file; refused with a `Refusal`. */
  openFile: (path: string) => Promise<SitePage>;
  /** Opens the invented demo site. */
  openDemo: () => Promise<SitePage>;
  /** Why a number of the open site is what it is. */
  explain: (asked: Asked) => Promise<Explanation>;
}

export function commands(call: Call): Commands {
  return {
    start: () => call('start', {}) as Promise<Start>,
    openFile: (path) => call('open_file', { path }) as Promise<SitePage>,
    openDemo: () => call('open_demo', {}) as Promise<SitePage>,
    explain: (asked) => call('explain', { asked }) as Promise<Explanation>,
  };
}
