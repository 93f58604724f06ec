/** The kinds of features: their words, key letters, and what a new one of each kind is. */
import type { Feature, JointKind, PostKind, Rail } from '../generated/survey';
import type { FeatureShape } from '../generated/types';
import { newId } from '../session/id';
import type { FeatureKind } from '../session/types';

/** The name of a kind. */
export type KindName = Feature['kind'];

/** A kind as the tool row shows it. */
export interface KindTool {
  kind: KindName;
  /** The program's word for it, as in findings. */
  word: string;
  /** A short word where there is little room. */
  short: string;
  /** The key that picks it. */
  key: string;
  shape: FeatureShape;
  /** What its size is called; null where it has none. */
  size: string | null;
}

export const KINDS: KindTool[] = [
  { kind: 'post', word: 'post', short: 'Post', key: 'P', shape: 'post', size: 'Width' },
  { kind: 'joint', word: 'joint', short: 'Joint', key: 'J', shape: 'joint', size: 'Width' },
  { kind: 'movement_joint', word: 'movement joint', short: 'Movement', key: 'M', shape: 'movement_joint', size: 'Width' },
  { kind: 'infill_clamp', word: 'infill clamp', short: 'Clamp', key: 'C', shape: 'clamp', size: 'Width' },
  { kind: 'existing_hole', word: 'existing hole', short: 'Hole', key: 'H', shape: 'hole', size: 'Diameter' },
  { kind: 'low_point', word: 'low point', short: 'Low point', key: 'L', shape: 'low_point', size: null },
  { kind: 'damage', word: 'damage', short: 'Damage', key: 'D', shape: 'damage', size: 'Length' },
  { kind: 'way_in', word: 'way in', short: 'Way in', key: 'W', shape: 'way_in', size: 'Opening' },
];

/** The tool of a kind. */
export function toolOf(kind: KindName): KindTool {
  return KINDS.find((tool) => tool.kind === kind)!;
}

/** Clear length to each side where none is stated [mm]. Source: common practice, as core/survey has it. */
export function usualClear(kind: KindName): number {
  switch (kind) {
    case 'post':
    case 'joint':
    case 'damage':
      return 40;
    case 'movement_joint':
      return 60;
    case 'low_point':
      return 0;
    default:
      return 20;
  }
}

/** Its size along the rail [mm]; null where the kind has none. */
export function sizeOf(kind: FeatureKind): number | null {
  switch (kind.kind) {
    case 'low_point':
      return null;
    case 'existing_hole':
      return kind.diameter_mm;
    case 'way_in':
      return kind.opening_mm;
    default:
      return kind.width_mm;
  }
}

/** Whether a size of 0 is allowed: what lies across the rail like a weld may take up no length. */
export function mayBeZero(kind: KindName): boolean {
  return kind === 'joint' || kind === 'movement_joint' || kind === 'damage';
}

/** The kind with another size. */
export function withSize(kind: FeatureKind, sizeMm: number): FeatureKind {
  switch (kind.kind) {
    case 'low_point':
      return kind;
    case 'existing_hole':
      return { ...kind, diameter_mm: sizeMm };
    case 'way_in':
      return { ...kind, opening_mm: sizeMm };
    default:
      return { ...kind, width_mm: sizeMm };
  }
}

/** What a feature is, without what every feature has. */
export function kindOf(feature: Feature): FeatureKind {
  const { id: _id, label: _label, chainage_mm: _chainage, keep_clear_mm: _clear, bore: _bore, note: _note, ...kind } = feature;
  return kind;
}

/** A kind with its details, of a size [mm]; details that nobody has stated are unknown or the commonest, to be corrected. */
export function freshKind(kind: KindName, sizeMm: number): FeatureKind {
  switch (kind) {
    case 'post':
      return { kind, width_mm: sizeMm, meets: { kind: 'welded_below' }, into_post: { kind: 'unknown' } };
    case 'joint':
      return { kind, made: 'welded', width_mm: sizeMm };
    case 'movement_joint':
      return { kind, range_mm: 0, width_mm: sizeMm };
    case 'infill_clamp':
    case 'damage':
      return { kind, width_mm: sizeMm };
    case 'existing_hole':
      return { kind, diameter_mm: sizeMm, angle_deg: null, used_for: 'other' };
    case 'way_in':
      return { kind, opening_mm: sizeMm, post: null };
    case 'low_point':
      return { kind };
  }
}

/** The last feature of a kind before a chainage [mm], else the nearest after it: a new one is probably like it. */
export function likely(rail: Rail, kind: KindName, atMm: number): Feature | null {
  const same = rail.features.filter((feature) => feature.kind === kind).sort((a, b) => a.chainage_mm.value_mm - b.chainage_mm.value_mm);
  return same.filter((feature) => feature.chainage_mm.value_mm <= atMm).at(-1) ?? same[0] ?? null;
}

/**
 * A new feature. Its make and size are those of its like on the rail; its passages are unknown, for nobody has proved
 * them there.
 */
export function newFeature(rail: Rail, kind: KindName, atMm: number, sizeMm: number): Feature {
  const like = likely(rail, kind, atMm);
  let what = withSize(like ? kindOf(like) : freshKind(kind, sizeMm), sizeMm);
  if (what.kind === 'post') what = { ...what, into_post: { kind: 'unknown' } };
  if (what.kind === 'way_in') what = { ...what, post: null };
  return {
    id: newId(),
    label: '',
    chainage_mm: { value_mm: atMm, instrument: { kind: 'tape', class: 'II' }, tolerance_mm: null },
    keep_clear_mm: null,
    bore: { kind: 'unknown' },
    note: '',
    ...what,
  };
}

export const POST_MEETS: [PostKind['kind'], string][] = [
  ['welded_below', 'welded below'],
  ['saddle', 'saddle screwed from below'],
  ['side_bracket', 'side bracket'],
  ['through', 'through the tube'],
  ['other', 'otherwise, in words'],
];

export const JOINT_MADE: [JointKind, string][] = [
  ['welded', 'welded'],
  ['sleeved', 'sleeved'],
  ['bolted', 'bolted'],
  ['flush', 'flush'],
];

/** What a feature is in a few words, for a cell. */
export function describeKind(kind: FeatureKind): string {
  const word = toolOf(kind.kind).word;
  const named = word.charAt(0).toUpperCase() + word.slice(1);
  if (kind.kind === 'post') return `${named}, ${kind.meets.kind === 'other' ? kind.meets.words : POST_MEETS.find(([name]) => name === kind.meets.kind)![1]}`;
  if (kind.kind === 'joint') return `${named}, ${kind.made}`;
  if (kind.kind === 'existing_hole' && kind.used_for === 'luminaire') return `${named} for a luminaire`;
  if (kind.kind === 'way_in' && kind.post !== null) return `${named} through a post`;
  return named;
}
