/** What is seen is drawn first: what lies out of sight, such as under the fold, waits for the first frame. */
import { onMount } from 'svelte';

/** Called while a component is set up; `is` turns true when its first frame has been shown. */
export class Drawn {
  #is = $state(false);

  constructor() {
    onMount(() => {
      let then: ReturnType<typeof setTimeout>;
      // The callback comes before its frame is painted, a timer after it.
      const frame = requestAnimationFrame(() => (then = setTimeout(() => (this.#is = true))));
      return () => {
        cancelAnimationFrame(frame);
        clearTimeout(then);
      };
    });
  }

  get is(): boolean {
    return this.#is;
  }
}
