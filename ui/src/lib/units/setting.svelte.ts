/** Which units the person reads: their choice, kept on this machine. */
import type { System } from './show';

const KEPT = 'newel.units';

function kept(): System {
  try {
    return localStorage.getItem(KEPT) === 'imperial' ? 'imperial' : 'metric';
  } catch {
    return 'metric';
  }
}

class UnitsSetting {
  #system = $state<System>(kept());

  get system(): System {
    return this.#system;
  }

  set system(next: System) {
    this.#system = next;
    try {
      localStorage.setItem(KEPT, next);
    } catch {
      // Without a store the choice lasts until the window closes, which is no harm.
    }
  }
}

/** The units in force in this window. */
export const units = new UnitsSetting();
