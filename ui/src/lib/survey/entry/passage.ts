/** What is typed for a passage: `16` proved by draw-wire, `16 c` by camera, `16 s` seen, `a` assumed, `b` blocked, `?` unknown. */
import type { Passage, Proof } from '../../generated/survey';
import { readLength, type BareUnit } from '../../units/read';

/** A passage, or why it could not be read. */
export type PassageEntry = { passage: Passage; why?: undefined } | { passage?: undefined; why: string };

const PROOFS: Record<string, Proof> = { d: 'draw_wire', w: 'draw_wire', c: 'camera', s: 'seen' };

/** What is accepted, for a hint. */
export const PASSAGE_HINT = '16 = proved, 16 mm passed · 16 c = by camera · a = assumed · b = blocked · ? = unknown';

/** Reads a passage; how it was proved stays as it was unless a letter says otherwise. */
export function readPassage(typed: string, before: Passage, bare: BareUnit = 'mm'): PassageEntry {
  const text = typed.trim().toLowerCase();
  const how = 'how' in before ? before.how : 'draw_wire';
  if (text === '' || text === '?' || 'unknown'.startsWith(text)) return { passage: { kind: 'unknown' } };
  if ('assumed'.startsWith(text)) return { passage: { kind: 'assumed' } };
  const blocked = /^b(?:locked)?(?:\s+([dwcs]))?$/.exec(text);
  if (blocked) return { passage: { kind: 'blocked', how: blocked[1] ? PROOFS[blocked[1]]! : 'how' in before ? how : 'seen' } };
  const [, lengthText = text, letter] = /^(.*\d[^a-z]*(?:mm|cm|m|in)?)\s+([dwcs])$/.exec(text) ?? [];
  const read = readLength(lengthText, { bare });
  if (read.why !== undefined) return { why: `“${typed.trim().slice(0, 24)}” is no passage. Type ${PASSAGE_HINT}.` };
  if (read.mm <= 0) return { why: 'The widest thing that passed is more than 0.' };
  return { passage: { kind: 'proved', how: letter ? PROOFS[letter]! : how, widest_mm: read.mm } };
}
