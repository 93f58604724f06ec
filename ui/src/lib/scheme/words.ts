/** The brief's choices in words, in the order in which they are offered. */
import type { Answer, Control, FeedWish, LampKind, Light, Target } from '../generated/survey';

/** Choices: the stored word and what a person reads. */
export type Choices<Word extends string> = [Word, string][];

export const LAMPS: Choices<LampKind> = [
  ['points', 'points'],
  ['modules', 'linear modules'],
  ['modules_else_points', 'modules where slotted, else points'],
];
export const LIGHTS: Choices<Light['kind']> = [
  ['fixed_white', 'fixed white'],
  ['fixed_colour', 'fixed colour'],
  ['variable_colour', 'variable colour'],
];
export const TARGETS: Choices<Target['kind']> = [
  ['spacing', 'spacing'],
  ['illuminance', 'illuminance'],
  ['lit_length', 'greatest lit length'],
];
export const FEEDS: Choices<FeedWish> = [
  ['cheapest', 'wherever is cheapest'],
  ['ends', 'at the ends'],
  ['middle', 'near the middle'],
];
export const CONTROLS: Choices<Control> = [
  ['always_on', 'always on'],
  ['dusk', 'dusk to dawn'],
  ['presence_after_dusk', 'presence after dusk'],
  ['wall_station', 'wall station'],
  ['dimmed', 'dimmed'],
];
export const ANSWERS: Choices<Answer> = [
  ['unknown', 'unknown'],
  ['yes', 'yes'],
  ['no', 'no'],
];
export const YES_NO: Choices<'yes' | 'no'> = [
  ['yes', 'yes'],
  ['no', 'no'],
];

/** Another kind of light, with what is usual for it (common practice, no source). */
export function lightOf(kind: Light['kind'], before: Light): Light {
  if (kind === before.kind) return before;
  if (kind === 'fixed_white') return { kind, kelvin: 3000, cri: null };
  return kind === 'fixed_colour' ? { kind, colour: 'amber' } : { kind };
}

/** Another kind of target, with what is usual for it (common practice, no source). */
export function targetOf(kind: Target['kind'], before: Target): Target {
  if (kind === before.kind) return before;
  if (kind === 'spacing') return { kind, spacing_mm: 300 };
  return kind === 'illuminance' ? { kind, lux: 20 } : { kind };
}
