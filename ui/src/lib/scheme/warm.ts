/** Makes the scheme's page ready before it is needed: the engine reads and compiles code where it first runs, which takes as
 * long again as drawing a site does. */
import { flushSync, mount, unmount } from 'svelte';
import { sample } from './sample';
import SchemeStage from './SchemeStage.svelte';

/** Draws a sample where nobody sees it, and takes it away before the next frame. */
export function warm(): void {
  const target = document.createElement('div');
  target.className = 'unseen-room';
  target.inert = true;
  document.body.append(target);
  const never = () => new Promise<never>(() => undefined);
  try {
    const shown = mount(SchemeStage, { target, props: { opened: sample(), backend: { edit: never, tryEdits: never, explain: never } } });
    flushSync();
    // What it needs of the room is measured by now; this lays it out once.
    void target.offsetHeight;
    void unmount(shown);
  } finally {
    target.remove();
  }
}
