/** Heights of the survey drawing's lanes, one under another [px]. */
import type { Lanes, Room } from '../../drawing/lanes';

export interface SurveyLanes extends Lanes {
  /** Row of marks of findings. */
  marks: number;
  /** The band that says where a cable passes. */
  boreTop: number;
  boreFoot: number;
}

/** The lanes for a room. */
export function surveyLanes(room: Room): SurveyLanes {
  const post = { low: 26, tall: 40, ample: 56 }[room];
  const tubeFoot = 124;
  const ground = tubeFoot + post;
  const marks = ground + 13;
  const boreTop = marks + 12;
  const boreFoot = boreTop + 20;
  return {
    ruler: 24,
    dimensions: 60,
    names: [82, 97],
    tubeTop: 104,
    tubeFoot,
    ground,
    marks,
    boreTop,
    boreFoot,
    powerTop: boreFoot,
    powerFoot: boreFoot,
    voltsTop: boreFoot,
    voltsFoot: boreFoot,
    height: boreFoot + 8,
  };
}
