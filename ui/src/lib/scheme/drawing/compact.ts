/** Lanes for two drawings above each other. */
import type { Lanes, Room } from '../../drawing/lanes';

/** As the lanes of one drawing, closer together; without names, and without volts where there is little room. */
export function compactLanes(room: Room): Lanes & { hasVolts: boolean } {
  const chart = { low: 0, tall: 52, ample: 150 }[room];
  const tubeFoot = 108;
  const ground = tubeFoot + 14;
  const powerTop = ground + 10;
  const powerFoot = powerTop + 26;
  const voltsTop = powerFoot + (chart === 0 ? 0 : 28);
  const voltsFoot = voltsTop + chart;
  return { ruler: 24, dimensions: 84, names: [88, 88], tubeTop: 90, tubeFoot, ground, powerTop, powerFoot, voltsTop, voltsFoot, height: voltsFoot + 8, hasVolts: chart > 0 };
}
