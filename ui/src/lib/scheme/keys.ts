/** The keys of the scheme stage, for the sheet of all keys. */
export const SCHEME_KEYS: [string, [string, string][]][] = [
  [
    'Scheme',
    [
      ['B', 'to the brief'],
      ['D', 'to the drawing'],
      ['C', 'try another brief beside this one'],
      ['N, Shift N', 'next rail, rail before'],
    ],
  ],
  [
    'Scheme: drawing',
    [
      ['← →', 'along: the next luminaire, hole, lead, driver'],
      ['↑ ↓', 'between luminaires, holes, leads and drivers'],
      ['Home, End', 'the first, the last'],
      ['L', 'keep the chosen hole or driver where it is, or let it go'],
      ['Alt ← →', 'move the chosen hole by 1 mm (1/16 in); with Shift by ten'],
      ['Enter, Esc', 'the moved hole stays, or goes back'],
      ['+ − 0', 'zoom in, zoom out, the whole rail'],
    ],
  ],
  [
    'Scheme: brief',
    [
      ['Enter', 'keep what was typed'],
      ['Esc', 'take back what was typed'],
    ],
  ],
];
