/** The page of a survey without a plan: pieces and features by chainage, and a few findings. For previews and tests only. */
import { metres, mm } from '../src/lib/figures';
import type { Piece, Rail, Survey } from '../src/lib/generated/survey';
import type { FeatureRow, FindingLine, Mark, PieceSpan, RailPage, SitePage } from '../src/lib/generated/types';
import { describeKind, kindOf, sizeOf, toolOf, usualClear } from '../src/lib/survey/kinds';
import { passageMark, passageWords } from '../src/lib/survey/words';
import { findingsOf } from './findings';

function bendLength(piece: Extract<Piece, { kind: 'bend' }>, outsideMm: number): number {
  const radians = (Math.abs(piece.angle_deg) * Math.PI) / 180;
  if (!piece.taped) return piece.centreline_radius_mm * radians;
  const half = (outsideMm / 2) * radians;
  const taped = piece.taped.length_mm.value_mm;
  if (piece.taped.line === 'outside') return taped - half;
  if (piece.taped.line === 'top' && piece.plane === 'up') return taped + half;
  if (piece.taped.line === 'top' && piece.plane === 'down') return taped - half;
  return taped;
}

export function spans(rail: Rail): PieceSpan[] {
  let at = 0;
  return rail.pieces.map((piece) => {
    const start_mm = at;
    at += piece.kind === 'straight' ? piece.length_mm.value_mm : bendLength(piece, rail.tube.outside_diameter_mm.value_mm);
    const isBend = piece.kind === 'bend';
    return {
      id: piece.id,
      shape: piece.kind,
      start_mm,
      end_mm: at,
      name: isBend ? `${Math.abs(piece.angle_deg)}° ${piece.plane}` : '',
      detail: '',
    };
  });
}

function rows(rail: Rail, placed: PieceSpan[]): FeatureRow[] {
  const features = rail.features.map((feature): FeatureRow => {
    const kind = kindOf(feature);
    const shape = toolOf(feature.kind).shape;
    return {
      id: feature.id,
      shape,
      chainage_mm: feature.chainage_mm.value_mm,
      what: describeKind(kind),
      name: shape === 'post' || shape === 'clamp' ? '' : shape === 'hole' ? 'hole' : toolOf(feature.kind).word,
      width_mm: sizeOf(kind),
      keep_clear_mm: feature.keep_clear_mm ?? usualClear(feature.kind),
      bore: passageWords(feature.bore, 'metric'),
      bore_mark: passageMark(feature.bore),
      note: [feature.label, feature.note].filter((text) => text !== '').join(': '),
    };
  });
  const bends = rail.pieces.flatMap((piece): FeatureRow[] => {
    const span = placed.find((each) => each.id === piece.id);
    if (piece.kind !== 'bend' || !span) return [];
    return [{ id: piece.id, shape: 'bend', chainage_mm: span.start_mm, what: `Bend, ${span.name}`, name: '', width_mm: span.end_mm - span.start_mm, keep_clear_mm: piece.keep_clear_mm, bore: passageWords(piece.bore, 'metric'), bore_mark: passageMark(piece.bore), note: `centreline radius ${mm(piece.centreline_radius_mm)} mm` }];
  });
  return [...features, ...bends].sort((a, b) => a.chainage_mm - b.chainage_mm);
}

/** What feeds cost where there are none. */
export const NOTHING = { value: 0, unit: '', decimals: 2 };

function railPage(rail: Rail, findings: FindingLine[]): RailPage {
  const pieces = spans(rail);
  const order: Mark[] = ['pass', 'caution', 'not_evaluated', 'stop'];
  const own = findings.filter((finding) => finding.rails.includes(rail.id));
  return {
    id: rail.id,
    label: rail.label,
    objective: { cost: NOTHING, lower_bound: NOTHING },
    pattern: null,
    length_mm: pieces.at(-1)?.end_mm ?? 0,
    outside_mm: rail.tube.outside_diameter_mm.value_mm,
    facts: [metres(pieces.at(-1)?.end_mm ?? 0)],
    datum: rail.datum.mark,
    drilling_waits: [],
    mark: own.reduce<Mark>((worst, finding) => (order.indexOf(finding.mark) > order.indexOf(worst) ? finding.mark : worst), 'pass'),
    pieces,
    features: rows(rail, pieces),
    luminaires: [],
    feeds: [],
    chains: [],
    limits: [],
    links: [],
    end_caps: [],
    controls: [],
    cables: [],
    alternatives: [],
    cost: '',
    locks: [],
  };
}

/** The page of a survey. */
export function pageOf(survey: Survey): SitePage {
  const findings = findingsOf(survey).map((finding, index) => ({ ...finding, index }));
  const count = (mark: Mark) => findings.filter((finding) => finding.mark === mark).length;
  return {
    title: survey.site.label,
    subtitle: survey.site.invented ? 'invented site' : '',
    file: 'preview',
    plan_id: 'preview',
    rails: survey.rails.map((rail) => railPage(rail, findings)),
    zones: [],
    mains_points: survey.mains_points.map((point) => ({ id: point.id, label: point.label, detail: point.kind, rating: null })),
    findings,
    tally: { pass: count('pass'), caution: count('caution'), stop: count('stop'), not_evaluated: count('not_evaluated') },
  };
}
