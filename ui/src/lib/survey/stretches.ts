/** Stretches of bore that are alike: where a cable was proved to pass, where nobody knows. */
import type { Passage, Rail } from '../generated/survey';
import type { PieceSpan } from '../generated/types';

/** A stretch along the rail. */
export interface Stretch {
  startMm: number;
  endMm: number;
  state: Passage['kind'];
  /** The widest thing that passed all of it [mm]; null where it is not proved. */
  widestMm: number | null;
}

interface Station {
  at: number;
  passage: Passage;
}

/**
 * Stretches from the datum to the far end. What was stated at a feature or a bend holds there; the plain tube between
 * two of them is only as good as the worse of both, so a proved stretch ends at the last proved feature.
 */
export function stretches(rail: Rail, spans: PieceSpan[]): Stretch[] {
  const length = spans.at(-1)?.end_mm ?? 0;
  const bends = rail.pieces.flatMap((piece): Station[] => {
    const span = spans.find((each) => each.id === piece.id);
    return piece.kind === 'bend' && span ? [{ at: (span.start_mm + span.end_mm) / 2, passage: piece.bore }] : [];
  });
  const stations = rail.features
    .map((feature): Station => ({ at: feature.chainage_mm.value_mm, passage: feature.bore }))
    .concat(bends)
    .sort((a, b) => a.at - b.at);
  const [first, last] = [stations[0], stations.at(-1)];
  if (!first || !last || length <= 0) return length > 0 ? [{ startMm: 0, endMm: length, state: 'unknown', widestMm: null }] : [];

  const parts: Stretch[] = [part(0, first.at, first.passage, first.passage)];
  for (let index = 1; index < stations.length; index += 1) {
    const [a, b] = [stations[index - 1]!, stations[index]!];
    parts.push(part(a.at, b.at, a.passage, b.passage));
  }
  parts.push(part(last.at, length, last.passage, last.passage));
  return joined(parts.filter((each) => each.endMm > each.startMm));
}

const RANK: Record<Passage['kind'], number> = { proved: 0, assumed: 1, unknown: 2, blocked: 3 };

function part(startMm: number, endMm: number, a: Passage, b: Passage): Stretch {
  const state = RANK[a.kind] >= RANK[b.kind] ? a.kind : b.kind;
  const widestMm = a.kind === 'proved' && b.kind === 'proved' ? Math.min(a.widest_mm, b.widest_mm) : null;
  return { startMm, endMm, state, widestMm };
}

function joined(parts: Stretch[]): Stretch[] {
  const result: Stretch[] = [];
  for (const each of parts) {
    const before = result.at(-1);
    if (before && before.state === each.state) {
      before.endMm = each.endMm;
      if (before.widestMm !== null && each.widestMm !== null) before.widestMm = Math.min(before.widestMm, each.widestMm);
    } else result.push({ ...each });
  }
  return result;
}
