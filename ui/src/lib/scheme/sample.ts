/** The smallest site that shows something of everything on the scheme's page. Nobody sees it. */
import type { Measurement, Survey } from '../generated/survey';
import type { Figure, FindingLine, LuminaireRow, Opened, RailPage } from '../generated/types';
import { newRail } from '../survey/fresh';
import { newRailBrief } from './draft';

const LONG = 1200;
const mm = (value_mm: number): Measurement => ({ value_mm, instrument: { kind: 'estimate' }, tolerance_mm: null });
const figure = (value: number, unit: string): Figure => ({ value, unit, decimals: 1 });

function surveyed(): Survey {
  const made = newRail('Sample', { end: 'left', mark: '' }, { kind: 'straight', id: 'piece', length_mm: mm(LONG), slope_deg: 0, mark: null }, mm(48.3), { kind: 'stainless_steel' }, null);
  const zone = { id: 'zone', label: 'Zone', control: { kind: 'dusk', hold_seconds: null, dusk_lux: null, supply_v: null, sensor_height_mm: null, station: null }, stairs: 'unknown' } as const;
  return {
    schema_version: 1,
    site: { id: 'sample', label: 'Sample', address: '', invented: true, surveyed_on: null, surveyor: null, origin: null, exposure: { setting: 'indoor_dry', salt: { salt_water_mm: null, deicing_mm: null }, cleaning: '', public_reach: 'staff', least_temperature_c: 0, greatest_temperature_c: 30, in_sun: false, special: null }, note: '' },
    rails: [{ ...made, id: 'rail' }],
    mains_points: [],
    driver_places: [],
    routes: [],
    photos: [],
    brief: { rails: [newRailBrief('rail', zone.id)], zones: [zone], reserve_percent: 20, drop_percent: 5, loop_per_hole_mm: 100, spare_percent: 2 },
  };
}

/** The site as it is opened. */
export function sample(): Opened {
  const luminaires = [300, 600, 900].map(
    (at, index): LuminaireRow => ({ id: `Sample-${index + 1}`, part: 'part', start_mm: at, end_mm: at, hole_mm: at, from_mark_mm: at, spacing_mm: index === 0 ? null : 300, diameter_mm: 18, girth_mm: 0, fixed: false, volts: 12 - index / 10, driver: 'D1' }),
  );
  const points = luminaires.map((row) => ({ luminaire: row.id, channel: '', chainage_mm: row.start_mm, volts: row.volts ?? 0 }));
  const cost = figure(100, 'EUR');
  const rail: RailPage = {
    id: 'rail',
    label: 'Sample',
    length_mm: LONG,
    outside_mm: 48.3,
    facts: ['round tube'],
    datum: 'left',
    drilling_waits: ['the bore is not proved'],
    mark: 'caution',
    pieces: [{ id: 'piece', shape: 'straight', start_mm: 0, end_mm: LONG, name: 'straight', detail: '' }],
    features: [{ id: 'post', shape: 'post', chainage_mm: 450, what: 'Post', name: '', width_mm: 40, keep_clear_mm: 40, bore: 'not known', bore_mark: 'not_evaluated', note: '' }],
    luminaires,
    feeds: [{ driver: 'D1', part: 'part', place: null, chainage_mm: 0, lead: 'E1', leads_text: 'lead', mains_text: 'mains', also_serves: [], load: figure(3, 'W'), rated: figure(10, 'W') }],
    chains: [{ circuit: 'D1.1a', unsolved: null, points }],
    limits: [{ name: 'drop of 5 %', volts: 11.4, governs: true }],
    links: [],
    end_caps: [],
    controls: [{ device: 'S1', what: 'sensor', chainage_mm: 600, reach: null }],
    cables: [],
    cost: '100.00 EUR',
    objective: { cost, lower_bound: cost },
    pattern: null,
    locks: [],
    alternatives: [],
  };
  const finding: FindingLine = { index: 0, rule: 'bore', about: { kind: 'rail', rail: 'rail' }, subject: 'Sample', rails: ['rail'], mark: 'caution', message: 'The bore is not proved.', figures: '', advice: 'Prove it.', source: '' };
  return {
    id: 'sample',
    page: { title: 'Sample', subtitle: '', file: '', plan_id: '', rails: [rail], mains_points: [], zones: [], findings: [finding], tally: { pass: 0, caution: 1, not_evaluated: 0, stop: 0 } },
    page_number: 0,
    survey: surveyed(),
    said: null,
    undo: null,
    redo: null,
    read_only: null,
    as_of: null,
    way_on: 'none',
    catalogue: { label: '', priced_on: '2030-01-01', invented: true, stands_in: null },
    cost,
    bound: cost,
    luminaire_parts: [],
  };
}
