/** Ticks of the chainage ruler, in metres or in feet. */
import { roundStep, rulerTicks, type Tick } from '../../drawing/ticks';
import { feetAndInches, type System } from '../../units/show';

const FOOT = 304.8;

/** The ticks between two chainages [mm], none past the rail's end. */
export function ticksOf(system: System, fromMm: number, toMm: number, lengthMm: number, scale: number): Tick[] {
  if (system === 'metric') return rulerTicks(fromMm, toMm, lengthMm, scale);
  // Feet below a foot go by inches: 6, 3, 1.
  const wanted = 90 / scale / FOOT;
  const major = wanted > 0.5 ? Math.max(1, roundStep(wanted)) : wanted > 0.25 ? 0.5 : wanted > 1 / 12 ? 0.25 : 1 / 12;
  const minor = major >= 5 ? major / 5 : major / 2;
  const ticks: Tick[] = [];
  const last = Math.min(toMm, lengthMm) / FOOT;
  for (let index = Math.max(0, Math.ceil(fromMm / FOOT / minor)); index * minor <= last + 1e-9; index += 1) {
    const feet = index * minor;
    const isMajor = Math.abs(feet / major - Math.round(feet / major)) < 1e-6;
    ticks.push({ value: feet * FOOT, label: isMajor ? (feet === 0 ? "0'" : feetAndInches(feet * FOOT)) : '' });
  }
  return ticks;
}
