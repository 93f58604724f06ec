/** A small site and a program behind it for the tests: points at the spacing that the brief asks for, one driver. */
import type { Edit } from '../generated/edit';
import type { Brief, RailBrief, Survey } from '../generated/survey';
import type { Asked, Explanation, Figure, FindingLine, LockRow, LuminaireRow, Opened, RailPage, SitePage, Tried } from '../generated/types';
import { briefWith, newRailBrief } from './draft';
import type { SchemeBackend } from './session.svelte';

const LENGTH = 6000;
const euros = (value: number): Figure => ({ value, unit: 'EUR', decimals: 2 });

export function survey(label = 'Stair'): Survey {
  const brief: RailBrief = { ...newRailBrief('stair', 'steps'), locks: { holes_mm: [1250], drivers: [] } };
  return {
    site: { label: 'Site' },
    rails: [{ id: 'stair', label, features: [] }, { id: 'ramp', label: 'Ramp', features: [] }],
    driver_places: [{ id: 'store', label: 'Store under the stair' }, { id: 'kiosk', label: 'Kiosk' }],
    brief: {
      rails: [brief],
      zones: [{ id: 'steps', label: 'Steps', control: { kind: 'dusk', hold_seconds: null, dusk_lux: 20, supply_v: null, sensor_height_mm: null, station: null }, stairs: 'yes' }],
      reserve_percent: 20,
      drop_percent: 5,
      loop_per_hole_mm: 100,
      spare_percent: 2,
    },
  } as unknown as Survey;
}

/** Holes at the spacing of the brief, with the kept ones in between. */
function luminaires(label: string, brief: RailBrief | undefined): LuminaireRow[] {
  if (brief?.target.kind !== 'spacing') return [];
  const { spacing_mm } = brief.target;
  const holes = Array.from({ length: Math.floor(LENGTH / spacing_mm) }, (_, index) => (index + 0.5) * spacing_mm);
  const all = [...holes.filter((mm) => brief.locks.holes_mm.every((kept) => Math.abs(kept - mm) > spacing_mm / 2)), ...brief.locks.holes_mm].sort((a, b) => a - b);
  return all.map((mm, index) => ({
    id: `${label}-${index + 1}`,
    part: 'PT-1',
    start_mm: mm,
    end_mm: mm,
    hole_mm: mm,
    from_mark_mm: mm,
    spacing_mm: index === 0 ? null : mm - all[index - 1]!,
    diameter_mm: 18,
    girth_mm: 0,
    fixed: brief.locks.holes_mm.includes(mm),
    volts: 11.9 - 0.01 * index,
    driver: 'D1',
  }));
}

const departure = (rows: LuminaireRow[], spacing: number) => Math.max(0, ...rows.map((row) => (row.spacing_mm === null ? 0 : Math.abs(row.spacing_mm - spacing))));

/** The holes that the brief keeps, each laid out without it: here feeds cost the same for every luminaire. */
function locksOf(label: string, brief: RailBrief | undefined): LockRow[] {
  if (brief?.target.kind !== 'spacing') return [];
  const { spacing_mm } = brief.target;
  const rows = luminaires(label, brief);
  return brief.locks.holes_mm.map((at_mm) => {
    const without = luminaires(label, { ...brief, locks: { ...brief.locks, holes_mm: brief.locks.holes_mm.filter((each) => each !== at_mm) } });
    return {
      lock: { kind: 'hole', at_mm },
      what: `Hole at ${at_mm} mm`,
      cost: `${10 * (rows.length - without.length)}.00 EUR`,
      departure_mm: departure(rows, spacing_mm),
      departure_without_mm: departure(without, spacing_mm),
    };
  });
}

const money = (value: number) => ({ value, unit: '', decimals: 2 });

function railPage(id: string, label: string, brief: Brief): RailPage {
  const own = brief.rails.find((rail) => rail.rail === id);
  const rows = luminaires(label, own);
  return {
    id,
    label,
    length_mm: LENGTH,
    outside_mm: 48.3,
    facts: [],
    datum: '',
    drilling_waits: [],
    mark: 'pass',
    pieces: [{ id: 's1', shape: 'straight', start_mm: 0, end_mm: LENGTH, name: '', detail: '' }],
    features: [],
    luminaires: rows,
    feeds: rows.length === 0 ? [] : [{ driver: 'D1', part: 'DR-1', chainage_mm: 3000, lead: 'E1', leads_text: '', mains_text: '', also_serves: [], load: { value: 10, unit: 'W', decimals: 0 }, rated: { value: 32, unit: 'W', decimals: 0 }, place: 'store' } as RailPage['feeds'][number]],
    chains: rows.length === 0 ? [] : [{ circuit: 'D1.1a', unsolved: null, points: rows.map((row) => ({ luminaire: row.id, channel: '', chainage_mm: row.start_mm, volts: row.volts! })) }],
    limits: [{ name: 'drop of 5 %', volts: 11.4, governs: true }],
    links: [],
    end_caps: [],
    controls: [],
    cables: [],
    alternatives: [],
    cost: '',
    objective: { cost: money(100), lower_bound: money(100) },
    pattern: null,
    locks: locksOf(label, own),
  };
}

const cost = (page: SitePage) => page.rails.reduce((sum, rail) => sum + 10 * rail.luminaires.length, 100);

function sitePage(survey: Survey): SitePage {
  const rails = survey.rails.map((rail) => railPage(rail.id, rail.label, survey.brief));
  const findings: FindingLine[] = [
    { index: 0, rule: 'drop', about: { kind: 'rail', rail: 'stair' }, subject: 'Stair', rails: ['stair'], mark: (rails[0]?.luminaires.length ?? 0) > 30 ? 'stop' : 'pass', message: 'drop', figures: '', advice: '', source: '' },
  ];
  return { title: survey.site.label, subtitle: '', file: '', plan_id: '', rails, mains_points: [], zones: [], findings, tally: { pass: 0, caution: 0, not_evaluated: 0, stop: 0 } };
}

export function opened(survey: Survey): Opened {
  const page = sitePage(survey);
  const catalogue = { label: 'Test parts', priced_on: '2030-01-01', invented: true, stands_in: null };
  return { id: 'site', page, page_number: 1, survey, said: null, undo: null, redo: null, read_only: null, way_on: 'none', as_of: null, catalogue, cost: money(cost(page)), bound: money(cost(page)), luminaire_parts: [] };
}

export function tried(survey: Survey, edits: Edit[]): Tried {
  const page = sitePage({ ...survey, brief: briefWith(survey.brief, edits) });
  const [then, now] = [cost(page), cost(sitePage(survey))];
  return { page, cost: euros(then), cost_now: euros(now), bound: euros(then - 5), bound_now: euros(now) };
}

/** The program, with what was asked of it. */
export interface FakeProgram extends SchemeBackend {
  edits: Edit[][];
  tries: Edit[][];
  asked: Asked[];
  /** How many trials are under way at once, at most. */
  mostAtOnce: number;
  /** While set, trials answer when they are let go and not before. */
  holds: boolean;
  letGo: () => void;
}

export function program(start: Survey): FakeProgram {
  let site = start;
  let flying = 0;
  const held: (() => void)[] = [];
  const fake: FakeProgram = {
    edits: [],
    tries: [],
    asked: [],
    mostAtOnce: 0,
    holds: false,
    letGo: () => held.splice(0).forEach((go) => go()),
    edit: async (edits) => {
      fake.edits.push(edits);
      site = { ...site, brief: briefWith(site.brief, edits) };
      return opened(site);
    },
    tryEdits: async (edits) => {
      fake.tries.push(edits);
      flying += 1;
      fake.mostAtOnce = Math.max(fake.mostAtOnce, flying);
      if (fake.holds) await new Promise<void>((go) => held.push(go));
      flying -= 1;
      return tried(site, edits);
    },
    explain: async (asked): Promise<Explanation> => {
      fake.asked.push(asked);
      return { figure: null, title: JSON.stringify(asked), mark: null, steps: [], notes: [] };
    },
  };
  return fake;
}
