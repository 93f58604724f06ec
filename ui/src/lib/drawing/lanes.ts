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

/** The lanes for a tall or a low window. */
export function lanes(room: 'tall' | 'low'): Lanes {
  const post = room === 'tall' ? 36 : 26;
  const chart = room === 'tall' ? 92 : 62;
  const tubeFoot = 142;
  const ground = tubeFoot + post;
  const powerTop = ground + 10;
  const powerFoot = powerTop + 26;
  const voltsTop = powerFoot + (room === 'tall' ? 38 : 32);
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
