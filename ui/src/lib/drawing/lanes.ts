/** Heights of the drawing's lanes, one under another [px]. */

export interface Lanes {
  ruler: number;
  /** Foot of the running dimensions, which are written upwards from here. */
  dimensions: number;
  /** Foot of the first and the second row of names. */
  names: [number, number];
  tubeTop: number;
  tubeFoot: number;
  ground: number;
  powerTop: number;
  powerFoot: number;
  voltsTop: number;
  voltsFoot: number;
  height: number;
}

/** How much height there is for the drawing and the table under it. */
export type Room = 'low' | 'tall' | 'ample';

/** The room that a page of a height [px] has. */
export function roomOf(height: number): Room {
  return height > 880 ? 'ample' : height > 760 ? 'tall' : 'low';
}

/** The lanes for a room. */
export function lanes(room: Room): Lanes {
  const post = { low: 24, tall: 36, ample: 46 }[room];
  const chart = { low: 62, tall: 92, ample: 150 }[room];
  const tubeFoot = 142;
  const ground = tubeFoot + post;
  const powerTop = ground + 10;
  const powerFoot = powerTop + 26;
  const voltsTop = powerFoot + (room === 'low' ? 30 : 38);
  const voltsFoot = voltsTop + chart;
  return {
    ruler: 24,
    dimensions: 86,
    names: [101, 116],
    tubeTop: 124,
    tubeFoot,
    ground,
    powerTop,
    powerFoot,
    voltsTop,
    voltsFoot,
    height: voltsFoot + 10,
  };
}
