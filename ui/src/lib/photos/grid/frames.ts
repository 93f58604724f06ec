/** The gaps between frames while something scrolls, told to the browser's own timeline so that a bench can read them. */

/** The name under which a scroll is found: `performance.getEntriesByName(SCROLL)`. */
export const SCROLL = 'photo-grid-scroll';
/** A scroll has ended when nothing moved for so many frames; by frames, so that one long frame does not end it. */
const REST = 10;

export interface FrameGaps {
  frames: number;
  /** [ms] */
  p50: number;
  p95: number;
  worst: number;
}

/** Middle, 95th of a hundred and worst of gaps [ms]. */
export function summary(gaps: readonly number[]): FrameGaps {
  const sorted = [...gaps].sort((a, b) => a - b);
  const at = (part: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? 0;
  return { frames: sorted.length, p50: at(0.5), p95: at(0.95), worst: sorted.at(-1) ?? 0 };
}

/** Watches frames from the first scroll event until the grid rests. */
export class FrameWatch {
  #gaps: number[] = [];
  #start = 0;
  #before = 0;
  /** Frames since something moved. */
  #still = 0;
  #runs = false;

  /** Something scrolled. */
  moved(): void {
    this.#still = 0;
    if (this.#runs) return;
    this.#runs = true;
    this.#gaps = [];
    this.#start = this.#before = performance.now();
    requestAnimationFrame(this.#frame);
  }

  #frame = (): void => {
    const now = performance.now();
    this.#gaps.push(now - this.#before);
    this.#before = now;
    this.#still += 1;
    if (this.#still < REST) {
      requestAnimationFrame(this.#frame);
      return;
    }
    this.#runs = false;
    performance.clearMeasures(SCROLL);
    performance.measure(SCROLL, { start: this.#start, end: now, detail: summary(this.#gaps) });
  };
}
