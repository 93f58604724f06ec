/** One or two pointers on a drawing: tap, drag a thing, move the view, pinch. */

/** What a drawing does about them; all places in its own pixels. */
export interface PointerActs {
  /** Takes hold of what lies here; false where there is nothing to drag. */
  grab: (x: number, y: number) => boolean;
  drag: (x: number, y: number) => void;
  /** Puts down what was dragged. */
  drop: () => void;
  /** Leaves what was dragged where it was. */
  letGo: () => void;
  tap: (x: number, y: number) => void;
  pan: (dx: number, dy: number) => void;
  /** Zooms about a place that has moved by a little. */
  pinch: (factor: number, x: number, y: number, dx: number, dy: number) => void;
}

/** A finger wanders this far before a press becomes a drag [px]. */
const STILL = 5;

interface Place {
  x: number;
  y: number;
}

/** Tells taps, drags and pinches apart. */
export class Pointers {
  #acts: PointerActs;
  #down = new Map<number, Place>();
  #from: Place = { x: 0, y: 0 };
  #doing: 'nothing' | 'pressing' | 'dragging' | 'panning' | 'pinching' = 'nothing';
  #grabbed = false;

  constructor(acts: PointerActs) {
    this.#acts = acts;
  }

  down(id: number, x: number, y: number): void {
    this.#down.set(id, { x, y });
    if (this.#down.size === 2) {
      if (this.#doing === 'dragging' || this.#grabbed) this.#acts.letGo();
      this.#grabbed = false;
      this.#doing = 'pinching';
    } else if (this.#down.size === 1) {
      this.#from = { x, y };
      this.#grabbed = this.#acts.grab(x, y);
      this.#doing = 'pressing';
    }
  }

  move(id: number, x: number, y: number): void {
    const before = this.#down.get(id);
    if (!before) return;
    if (this.#doing === 'pinching') return this.#pinch(id, { x, y });
    this.#down.set(id, { x, y });
    if (this.#doing === 'pressing' && Math.hypot(x - this.#from.x, y - this.#from.y) > STILL) {
      this.#doing = this.#grabbed ? 'dragging' : 'panning';
      if (this.#doing === 'panning') this.#acts.pan(x - this.#from.x, y - this.#from.y);
    } else if (this.#doing === 'panning') this.#acts.pan(x - before.x, y - before.y);
    if (this.#doing === 'dragging') this.#acts.drag(x, y);
  }

  up(id: number, x: number, y: number): void {
    if (!this.#down.delete(id)) return;
    const did = this.#doing;
    if (this.#down.size > 0) {
      // After a pinch the finger that stays moves the view; it never drags or taps.
      this.#doing = 'panning';
      return;
    }
    this.#doing = 'nothing';
    if (did === 'dragging') this.#acts.drop();
    else if (did === 'pressing') {
      if (this.#grabbed) this.#acts.letGo();
      this.#acts.tap(x, y);
    }
    this.#grabbed = false;
  }

  /** The system took the pointer away. */
  cancel(id: number): void {
    if (!this.#down.delete(id)) return;
    if (this.#grabbed) this.#acts.letGo();
    this.#grabbed = false;
    this.#doing = this.#down.size > 0 ? 'panning' : 'nothing';
  }

  #pinch(id: number, to: Place): void {
    const [a, b] = [...this.#down.values()] as [Place, Place];
    const before = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, apart: Math.hypot(a.x - b.x, a.y - b.y) };
    this.#down.set(id, to);
    const [c, d] = [...this.#down.values()] as [Place, Place];
    const after = { x: (c.x + d.x) / 2, y: (c.y + d.y) / 2, apart: Math.hypot(c.x - d.x, c.y - d.y) };
    const factor = before.apart > 1 && after.apart > 1 ? after.apart / before.apart : 1;
    this.#acts.pinch(factor, after.x, after.y, after.x - before.x, after.y - before.y);
  }
}
