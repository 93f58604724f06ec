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
  const post = { low: 18, tall: 36, ample: 56 }[room];
  const tubeTop = room === 'low' ? 88 : 104;
  const tubeFoot = tubeTop + (room === 'low' ? 18 : 20);
  const ground = tubeFoot + post;
  const marks = ground + 13;
  const boreTop = marks + (room === 'low' ? 6 : 12);
  const boreFoot = boreTop + 20;
  return {
    ruler: 23,
    dimensions: tubeTop - 37,
    names: [tubeTop - 21, tubeTop - 7],
    tubeTop,
    tubeFoot,
    ground,
    marks,
    boreTop,
    boreFoot,
    powerTop: boreFoot,
    powerFoot: boreFoot,
    voltsTop: boreFoot,
    voltsFoot: boreFoot,
    height: boreFoot + 7,
  };
}
