/** Ticks of the chainage ruler, in metres or in feet. */
import { roundStep, type Tick } from '../../drawing/ticks';
import { feetAndInches, type System } from '../../units/show';

const FOOT = 304.8;

/** The room that a label takes [px]. */
const ROOM = 76;

/** The ticks between two chainages [mm], none past the rail's end. */
export function ticksOf(system: System, fromMm: number, toMm: number, lengthMm: number, scale: number): Tick[] {
  const [major, each] = system === 'metric' ? [roundStep(ROOM / scale), 5] : imperial(ROOM / scale / FOOT);
  const minor = major / each;
  const ticks: Tick[] = [];
  const last = Math.floor(Math.min(toMm, lengthMm) / minor + 1e-9);
  for (let index = Math.max(0, Math.ceil(fromMm / minor)); index <= last; index += 1) {
    const value = index * minor;
    ticks.push({ value, label: index % each !== 0 ? '' : system === 'metric' ? metricLabel(value, major) : value === 0 ? "0'" : feetAndInches(value) });
  }
  return ticks;
}

function metricLabel(value: number, major: number): string {
  const decimals = major >= 1000 ? 0 : major >= 100 ? 1 : major >= 10 ? 2 : 3;
  return `${(value / 1000).toFixed(decimals)} m`;
}

/** A labelled step [mm] of at least so many feet, and into how many parts it is divided; below a foot it goes by inches. */
function imperial(leastFeet: number): [number, number] {
  if (leastFeet > 0.5) {
    const feet = Math.max(1, roundStep(leastFeet));
    return [feet * FOOT, feet >= 5 ? 5 : 2];
  }
  const inches = [1, 3, 6].find((each) => each / 12 >= leastFeet) ?? 6;
  return [(inches * FOOT) / 12, inches === 6 ? 6 : inches === 3 ? 3 : 4];
}
