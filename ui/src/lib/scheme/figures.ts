/** The figures by which one brief is weighed against another. */
import { lowestPoint } from '../drawing/voltRange';
import { grouped, volts } from '../figures';
import type { RailBrief } from '../generated/survey';
import type { Asked, Figure, FindingLine, Mark, RailPage, Tally, VoltPoint } from '../generated/types';
import { bareLength, type System } from '../units/show';

/** The figures of one rail. */
export interface RailFigures {
  id: string;
  luminaires: number;
  drivers: string[];
  /** The luminaire that gets least. */
  least: VoltPoint | null;
  /** The luminaire after the gap that departs most from the target, and by how much [mm]. */
  departure: { luminaire: string; mm: number } | null;
  /** What feeding it costs; null where nothing is fed. */
  cost: Figure | null;
  tally: Tally;
}

export function railFigures(page: RailPage, brief: RailBrief | undefined, findings: FindingLine[]): RailFigures {
  return {
    id: page.id,
    luminaires: page.luminaires.length,
    drivers: [...new Set(page.feeds.map((feed) => feed.driver))],
    least: lowestPoint(page.chains),
    departure: departure(page, brief),
    cost: page.feeds.length > 0 ? page.objective.cost : null,
    tally: tallyOf(findings.filter((finding) => finding.rails.includes(page.id))),
  };
}

/** The greatest departure of the spacings in the table from the spacing asked for. */
function departure(page: RailPage, brief: RailBrief | undefined): RailFigures['departure'] {
  const target = page.pattern?.target_mm ?? (brief?.target.kind === 'spacing' ? brief.target.spacing_mm : null);
  if (target === null) return null;
  let worst: RailFigures['departure'] = null;
  for (const row of page.luminaires) {
    if (row.hole_mm === null || row.spacing_mm === null) continue;
    const mm = Math.abs(row.spacing_mm - target);
    if (worst === null || mm > worst.mm) worst = { luminaire: row.id, mm };
  }
  return worst;
}

function tallyOf(findings: FindingLine[]): Tally {
  const tally: Tally = { pass: 0, caution: 0, not_evaluated: 0, stop: 0 };
  for (const finding of findings) tally[finding.mark] += 1;
  return tally;
}

/** One figure of two briefs, and what the second changes. */
export interface FigureRow {
  /** Names the row for tests and for styles. */
  name: string;
  words: string;
  /** Of all three figures; empty for counts and for what carries its own. */
  unit: string;
  now: string;
  then: string;
  difference: string;
  /** What explains it, where the program can. */
  ask: Asked | null;
}

/** One side of a comparison. */
export interface Side {
  rail: RailFigures;
  cost: Figure | null;
  bound: Figure | null;
}

const NONE = '–';
const NARROW = '\u202f';

/** The rows of a comparison. */
export function compared(now: Side, then: Side, system: System): FigureRow[] {
  const count = (name: string, words: string, a: number, b: number, ask: Asked | null = null): FigureRow => ({
    name, words, unit: '', now: grouped(a), then: grouped(b), difference: signed(b - a, 0), ask,
  });
  const [a, b] = [now.rail, then.rail];
  return [
    count('luminaires', 'luminaires', a.luminaires, b.luminaires),
    count('drivers', 'drivers', a.drivers.length, b.drivers.length, driverAsked(a)),
    {
      name: 'least-volts',
      words: 'least volts',
      unit: 'V',
      now: a.least ? volts(a.least.volts) : NONE,
      then: b.least ? volts(b.least.volts) : NONE,
      difference: a.least && b.least ? signed(b.least.volts - a.least.volts, 2) : '',
      ask: a.least ? { about: 'luminaire_volts', luminaire: a.least.luminaire } : null,
    },
    {
      name: 'departure',
      words: 'worst departure',
      unit: system === 'metric' ? 'mm' : '',
      now: a.departure ? bareLength(a.departure.mm, system) : NONE,
      then: b.departure ? bareLength(b.departure.mm, system) : NONE,
      difference: a.departure && b.departure ? signedLength(b.departure.mm - a.departure.mm, system) : '',
      ask: a.departure ? { about: 'position', luminaire: a.departure.luminaire } : null,
    },
    {
      name: 'rail-cost',
      words: 'cost of feeds, this rail',
      unit: (a.cost ?? b.cost)?.unit ?? '',
      now: moneyOf(a.cost),
      then: moneyOf(b.cost),
      difference: a.cost && b.cost ? signed(b.cost.value - a.cost.value, b.cost.decimals) : '',
      ask: a.cost ? { about: 'rail_cost', rail: a.id } : null,
    },
    ...VERDICTS.map(([mark, words]) => count(`findings-${mark}`, words, a.tally[mark], b.tally[mark])),
    {
      name: 'cost',
      words: 'cost of feeds, whole site',
      unit: (now.cost ?? then.cost)?.unit ?? '',
      now: moneyOf(now.cost),
      then: moneyOf(then.cost),
      difference: now.cost && then.cost ? signed(then.cost.value - now.cost.value, then.cost.decimals) : '',
      ask: null,
    },
    { name: 'bound', words: 'proved lower bound', unit: '', now: boundOf(now), then: boundOf(then), difference: '', ask: null },
    { name: 'gap', words: 'gap to it', unit: '', now: gapWords(now), then: gapWords(then), difference: '', ask: null },
  ];
}

/** Findings by verdict, worst first. */
export const VERDICTS: [Mark, string][] = [
  ['stop', 'stops'],
  ['not_evaluated', 'not evaluated'],
  ['caution', 'cautions'],
  ['pass', 'passes'],
];

export function driverAsked(rail: RailFigures): Asked | null {
  const [driver] = rail.drivers;
  return driver === undefined ? null : { about: 'driver_load', driver };
}

function moneyOf(cost: Figure | null): string {
  return cost ? grouped(cost.value, cost.decimals) : NONE;
}

function boundOf({ bound }: Pick<Side, 'bound'>): string {
  return moneyOf(bound);
}

/** What a cost has over the least that is proved to be possible. */
export function gapWords({ cost, bound }: Pick<Side, 'cost' | 'bound'>): string {
  if (!cost || !bound) return NONE;
  const gap = cost.value - bound.value;
  return gap < 0.5 * 10 ** -cost.decimals ? 'none' : grouped(gap, cost.decimals);
}

/** A change with its sign; words where there is none. */
export function signed(value: number, decimals: number, unit = ''): string {
  const text = grouped(value, decimals);
  if (!/[1-9]/.test(text)) return 'same';
  return `${value > 0 ? '+' : ''}${text}${unit === '' ? '' : NARROW + unit}`;
}

export function signedMoney(then: Figure, now: Figure): string {
  return signed(then.value - now.value, then.decimals, then.unit);
}

/** A change of length without its unit in metric, with its signs in imperial. */
export function signedLength(mm: number, system: System): string {
  const text = bareLength(mm, system);
  if (!/[1-9]/.test(text)) return 'same';
  return mm > 0 ? `+${text}` : text;
}
