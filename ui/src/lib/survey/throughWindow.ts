/** The survey pages' calls, carried by the window's session, so that its head shows whether every change is kept. */
import { BackendError } from '../backend/backend';
import type { Opened, SurveyBackend } from '../session/types';
import type { WindowSession } from '../session/window.svelte';

export function throughWindow(session: WindowSession): SurveyBackend {
  const answer = async (work: Promise<boolean>): Promise<Opened> => {
    if ((await work) && session.opened !== null) return session.opened;
    throw session.refusal ?? new BackendError({ message: 'There is nothing to do.', faults: [] });
  };
  return {
    edit: (edits) => answer(session.edit(edits)),
    undo: () => answer(session.undo()),
    redo: () => answer(session.redo()),
  };
}
