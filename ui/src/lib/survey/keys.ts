/** Keys of the survey stage: one list, from which the cheat sheet is made too. */
import { KINDS, type KindName } from './kinds';

/** What a letter does while a rail is shown. */
export type Letter = { does: 'pick'; kind: KindName } | { does: 'drawing' } | { does: 'table' } | { does: 'fit' };

/** What a letter does; null where it does nothing. */
export function letterOf(key: string): Letter | null {
  const tool = KINDS.find((each) => each.key.toLowerCase() === key);
  if (tool) return { does: 'pick', kind: tool.kind };
  if (key === 'r') return { does: 'drawing' };
  if (key === 't') return { does: 'table' };
  if (key === 'f' || key === '0') return { does: 'fit' };
  return null;
}

/** The cheat sheet: groups of keys with what they do. */
export const CHEATS: [string, [string, string][]][] = [
  [
    'Add to the rail',
    [
      ...KINDS.map((tool): [string, string] => [tool.key, tool.word]),
      ['Esc', 'put the tool down'],
    ],
  ],
  [
    'In the drawing (R goes there)',
    [
      ['↑ ↓', 'previous, next feature'],
      ['← →', 'move the chosen one by 1 mm; the view where none is chosen'],
      ['Shift ← →', 'move it by 10 mm'],
      ['Delete', 'remove it; Ctrl Z brings it back'],
      ['Enter', 'go to its row in the table'],
      ['+ − 0', 'zoom in, out, whole rail; the wheel zooms too'],
    ],
  ],
  [
    'In the table (T goes there)',
    [
      ['Enter', 'save and go to the next row'],
      ['1250', 'a chainage in millimetres; 1.25 m or 4\' 1 1/4" as well'],
      ['+1100', 'that far after the row above'],
      ['x12', 'twelve more at the last spacing; * does it too'],
      ['+1100 x12', 'twelve more, 1,100 apart'],
      ['Ctrl V', 'a whole column from a spreadsheet'],
      ['16, 16 c, a, b, ?', 'bore: proved 16 mm, by camera, assumed, blocked, unknown'],
      ['Delete', 'on what it is: remove the row'],
      ['Esc', 'back to what was there; once more, to the drawing'],
    ],
  ],
  [
    'Everywhere',
    [
      ['Ctrl Z', 'take back'],
      ['Ctrl Y', 'make again; Ctrl Shift Z too'],
      ['N, Shift N', 'next rail, rail before; on the plan it is chosen there'],
      ['G', 'plan of the site'],
      ['?', 'this sheet'],
    ],
  ],
  [
    'On the plan',
    [
      ['↑ ↓ ← →', 'move the chosen rail by 0.1 m, with Shift by 1 m; the view where none is chosen'],
      ['[ ]', 'turn it by 1°, with Shift by 10°'],
      ['+ − 0', 'zoom in, out, whole site'],
    ],
  ],
];
