/** The survey's choices in words, in the order in which they are offered. */
import type {
  Answer,
  DeviceKind,
  EndState,
  Instrument,
  MainsKind,
  Material,
  Passage,
  Plane,
  Profile,
  Proof,
  PublicReach,
  RouteKind,
  Setting,
  SpecialLocation,
  Sun,
  TapedLine,
  WalkedSide,
} from '../generated/survey';
import type { Mark } from '../generated/types';
import { length, type System } from '../units/show';

/** Choices: the stored word and what a person reads. */
export type Choices<Word extends string> = [Word, string][];

export const ANSWERS: Choices<Answer> = [
  ['unknown', 'unknown'],
  ['yes', 'yes'],
  ['no', 'no'],
];
export const PROFILES: Choices<Profile['kind']> = [
  ['round', 'round'],
  ['round_slotted', 'round with a slot'],
  ['flat', 'flat'],
  ['other', 'other, in words'],
];
export const MATERIALS: Choices<Material['kind']> = [
  ['stainless_steel', 'stainless steel'],
  ['galvanised_steel', 'galvanised steel'],
  ['carbon_steel', 'carbon steel'],
  ['aluminium', 'aluminium'],
  ['brass', 'brass'],
  ['other', 'other, in words'],
];
export const ENDS: Choices<EndState> = [
  ['open', 'open'],
  ['removable_cap', 'removable cap'],
  ['welded_cap', 'welded cap'],
  ['returns_to_wall', 'returns to the wall'],
  ['continues', 'continues'],
];
export const SIDES: Choices<WalkedSide> = [
  ['left', 'left'],
  ['right', 'right'],
  ['both', 'both sides'],
];
export const PLANES: Choices<Plane> = [
  ['left', 'left'],
  ['right', 'right'],
  ['up', 'up'],
  ['down', 'down'],
];
export const TAPED_LINES: Choices<TapedLine> = [
  ['centreline', 'centreline'],
  ['top', 'top'],
  ['outside', 'outside'],
];
export const PASSAGES: Choices<Passage['kind']> = [
  ['unknown', 'unknown'],
  ['assumed', 'assumed, not proved'],
  ['proved', 'proved'],
  ['blocked', 'blocked'],
];
export const PROOFS: Choices<Proof> = [
  ['draw_wire', 'draw-wire'],
  ['camera', 'camera'],
  ['seen', 'seen'],
];
export const INSTRUMENTS: Choices<string> = [
  ['tape II', 'tape II'],
  ['tape I', 'tape I'],
  ['tape III', 'tape III'],
  ['laser', 'laser'],
  ['calliper', 'calliper'],
  ['thickness_gauge', 'thickness gauge'],
  ['wheel', 'wheel'],
  ['drawing', 'from a drawing'],
  ['estimate', 'estimate'],
];
export const SETTINGS: Choices<Setting> = [
  ['indoor_dry', 'indoors, dry'],
  ['indoor_damp', 'indoors, damp'],
  ['outdoor_sheltered', 'outdoors, sheltered'],
  ['outdoor_open', 'outdoors, open'],
  ['outdoor_hosed', 'outdoors, hosed down'],
  ['may_submerge', 'may be submerged'],
];
export const REACHES: Choices<PublicReach> = [
  ['staff', 'staff only'],
  ['public_watched', 'public, watched'],
  ['public_always', 'public at any time'],
];
export const SPECIALS: Choices<SpecialLocation | 'none'> = [
  ['none', 'none'],
  ['pool', 'swimming pool'],
  ['basin', 'basin or fountain'],
  ['bathroom', 'bathroom'],
];
export const MAINS_KINDS: Choices<MainsKind> = [
  ['fused_connection_unit', 'fused connection unit'],
  ['socket_outlet', 'socket outlet'],
  ['isolator', 'isolator'],
  ['board_way', 'way of a board'],
];
export const DEVICES: Choices<DeviceKind | 'unknown'> = [
  ['unknown', 'unknown'],
  ['fuse', 'fuse'],
  ['curve_b', 'breaker, curve B'],
  ['curve_c', 'breaker, curve C'],
  ['curve_d', 'breaker, curve D'],
];
export const SUNS: Choices<Sun> = [
  ['shade', 'shade'],
  ['part', 'part of the day'],
  ['full', 'full sun'],
];
export const ROUTE_KINDS: Choices<RouteKind> = [
  ['surface', 'on the surface'],
  ['duct', 'duct'],
  ['inside_post', 'inside a post'],
  ['under_deck', 'under the deck'],
];

/** What is chosen, in words. */
export function word<Word extends string>(choices: Choices<Word>, chosen: Word): string {
  return choices.find(([name]) => name === chosen)?.[1] ?? chosen;
}

/** The instrument's name among the choices; null where it was given in words of its own. */
export function instrumentName(instrument: Instrument): string | null {
  if (instrument.kind === 'tape') return `tape ${instrument.class}`;
  return instrument.kind === 'other' ? null : instrument.kind;
}

/** The instrument of a name among the choices. */
export function instrumentOf(name: string): Instrument {
  if (name === 'tape I' || name === 'tape II' || name === 'tape III') return { kind: 'tape', class: name.slice(5) as 'I' | 'II' | 'III' };
  return { kind: name } as Instrument;
}

/** A passage in words. */
export function passageWords(passage: Passage, system: System): string {
  if (passage.kind === 'proved') return `proved ${length(passage.widest_mm, system)}, ${word(PROOFS, passage.how)}`;
  if (passage.kind === 'blocked') return `blocked, ${word(PROOFS, passage.how)}`;
  return passage.kind === 'assumed' ? 'assumed' : 'unknown';
}

/** A passage in as few words as a cell holds. */
export function passageShort(passage: Passage, system: System): string {
  return passage.kind === 'proved' ? `proved ${length(passage.widest_mm, system)}` : passage.kind;
}

/** How sure a passage is. */
export function passageMark(passage: Passage): Mark {
  if (passage.kind === 'proved') return 'pass';
  return passage.kind === 'blocked' ? 'stop' : 'not_evaluated';
}
