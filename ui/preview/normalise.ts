/** Writes a survey file's short forms out, as the program does when it reads one. For previews and tests only. */
import type { Survey } from '../src/lib/generated/survey';

type Loose = Record<string, unknown>;

const TAPE = { kind: 'tape', class: 'II' };
const MEASURED = new Set(['overall_mm', 'outside_diameter_mm', 'wall_mm', 'walking_width_mm', 'to_mm']);
const KINDS = new Set(['instrument', 'profile', 'material', 'meets', 'into_post', 'bore', 'passage', 'consent', 'light', 'target', 'shows']);

/** A whole survey out of its short form. */
export function normalise(file: unknown): Survey {
  const survey = structuredClone(file) as Loose;
  const rails = list(survey.rails).map(rail);
  return {
    ...survey,
    site: { origin: null, surveyor: null, surveyed_on: null, note: '', ...(survey.site as Loose), exposure: exposure((survey.site as Loose).exposure) },
    rails,
    mains_points: list(survey.mains_points).map((point) => ({
      device: null, rcd: 'unknown', existing_load_a: null, photo: null, note: '', ...point, exposure: exposure(point.exposure), position: sitePoint(point.position),
    })),
    driver_places: list(survey.driver_places).map((place) => ({
      above_flood_mm: null, reachable: 'unknown', lockable: 'unknown', note: '', ...place, exposure: exposure(place.exposure), position: sitePoint(place.position),
    })),
    routes: list(survey.routes).map((route) => ({
      clear_mm: null, obstacles: [], note: '', passage: 'unknown', ...route, corners: list(route.corners).map(sitePoint), length_mm: measurement(route.length_mm),
    })).map(words),
    photos: list(survey.photos).map((photo) => words({ taken: null, position: null, heading_deg: null, camera: null, note: '', marks: [], ...photo })),
  } as unknown as Survey;
}

function list(value: unknown): Loose[] {
  return Array.isArray(value) ? (value as Loose[]) : [];
}

function measurement(value: unknown): unknown {
  if (value === undefined || value === null) return null;
  if (typeof value === 'object') return words({ instrument: TAPE, tolerance_mm: null, ...(value as Loose), value_mm: lengthOf((value as Loose).value_mm) });
  return { value_mm: lengthOf(value), instrument: TAPE, tolerance_mm: null };
}

function lengthOf(value: unknown): number {
  if (typeof value === 'number') return value;
  const [, number = '0', unit = 'mm'] = /^([\d.]+)\s*(mm|m)?$/.exec(String(value)) ?? [];
  return Number(number) * (unit === 'm' ? 1000 : 1);
}

/** Bare words written out, and measurements too. */
function words(thing: Loose): Loose {
  return Object.fromEntries(
    Object.entries(thing).map(([name, value]) => {
      if (KINDS.has(name) && typeof value === 'string') return [name, { kind: value }];
      if (MEASURED.has(name)) return [name, measurement(value)];
      return [name, value];
    }),
  );
}

function exposure(value: unknown): unknown {
  if (!value) return null;
  const given = value as Loose;
  return { special: null, ...given, salt: { salt_water_mm: null, deicing_mm: null, ...((given.salt as Loose | undefined) ?? {}) } };
}

function sitePoint(value: unknown): unknown {
  return value ? { z_mm: 0, measured: false, ...(value as Loose) } : null;
}

function rail(given: Loose): Loose {
  const tube = words({ wall_mm: null, grade: null, finish: null, ...(given.tube as Loose) });
  const sketch = given.sketch as Loose | undefined;
  return words({
    overall_mm: null, walking_width_mm: null, ownership: null, guard: 'unknown', sealed: 'unknown', drains: 'unknown', note: '', ...given,
    bonding: { bonded: 'unknown', lightning: 'unknown', near_traction: 'unknown', ...((given.bonding as Loose | undefined) ?? {}) },
    ...(given.ownership ? { ownership: words(given.ownership as Loose) } : {}),
    height_mm: measurement(given.height_mm),
    exposure: exposure(given.exposure),
    sketch: sketch ? { ...sketch, start: sitePoint(sketch.start) } : null,
    tube,
    pieces: list(given.pieces).map(piece),
    features: list(given.features).map(feature),
  });
}

function piece(given: Loose): Loose {
  if (given.kind === 'straight') return { slope_deg: 0, mark: null, ...given, length_mm: measurement(given.length_mm) };
  const taped = given.taped as Loose | undefined;
  return words({ bore: 'unknown', keep_clear_mm: null, ...given, taped: taped ? { ...taped, length_mm: measurement(taped.length_mm) } : null });
}

function feature(given: Loose): Loose {
  const extra: Loose = given.kind === 'way_in' ? { post: null } : given.kind === 'existing_hole' ? { angle_deg: null } : given.kind === 'post' ? { into_post: 'unknown' } : {};
  return words({ label: '', keep_clear_mm: null, bore: 'unknown', note: '', ...extra, ...given, chainage_mm: measurement(given.chainage_mm) });
}
