/** Round divisions of an axis. */
import { feetAndInches, type System } from '../units/show';

export interface Tick {
  value: number;
  /** The words at the tick; empty at a lesser one. */
  label: string;
}

/** The least round step (1, 2 or 5 times a power of ten) that is not under a length. */
export function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(least, 1e-9)));
  for (const factor of [1, 2, 5]) if (factor * power >= least * (1 - 1e-9)) return factor * power;
  return 10 * power;
}

/** Divisions of a ruler in feet and inches: a labelled step and the lesser step within it [in]. */
const IMPERIAL: [number, number][] = [
  [1, 0.25],
  [3, 1],
  [6, 1],
  [12, 3],
  [24, 6],
  [60, 12],
  [120, 24],
  [300, 60],
  [600, 120],
  [1200, 240],
];
const INCH = 25.4;

/** The chainage ruler between two chainages [mm] at a scale [px/mm]. */
export function rulerTicks(fromMm: number, toMm: number, lengthMm: number, scale: number, system: System): Tick[] {
  const least = 74 / scale;
  const [major, minor, label] = system === 'metric' ? metricRuler(least) : imperialRuler(least);
  const each = Math.round(major / minor);
  const ticks: Tick[] = [];
  const first = Math.max(0, Math.floor(fromMm / minor));
  const last = Math.floor(Math.min(toMm, lengthMm) / minor + 1e-9);
  for (let i = first; i <= last; i += 1) {
    const value = i * minor;
    ticks.push({ value, label: i % each === 0 ? label(value) : '' });
  }
  return ticks;
}

type Ruler = [major: number, minor: number, label: (valueMm: number) => string];

function metricRuler(leastMm: number): Ruler {
  const major = roundStep(leastMm);
  const decimals = major >= 1000 ? 0 : major >= 100 ? 1 : major >= 10 ? 2 : 3;
  return [major, major / 5, (value) => `${(value / 1000).toFixed(decimals)} m`];
}

function imperialRuler(leastMm: number): Ruler {
  const [major, minor] = IMPERIAL.find(([inches]) => inches * INCH >= leastMm) ?? IMPERIAL[IMPERIAL.length - 1]!;
  return [major * INCH, minor * INCH, (value) => (major % 12 === 0 ? `${Math.round(value / INCH / 12)}'` : feetAndInches(value))];
}

/** An axis of volts with three to six labelled lines between two voltages. */
export function voltTicks(least: number, greatest: number): Tick[] {
  const step = roundStep((greatest - least) / 5);
  const decimals = step >= 1 ? 0 : step >= 0.1 ? 1 : step >= 0.01 ? 2 : 3;
  const ticks: Tick[] = [];
  for (let i = Math.ceil(least / step - 1e-9); i * step <= greatest + 1e-9; i += 1) {
    ticks.push({ value: i * step, label: (i * step).toFixed(decimals) });
  }
  return ticks;
}
