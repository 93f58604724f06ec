/** The line of a rail in the site frame, seen from above. */
import type { Rail } from '../../generated/survey';
import type { PieceSpan } from '../../generated/types';

/** A place in the site frame [mm], with the way the rail runs there [degrees clockwise from the frame's y axis]. */
export interface Along {
  x: number;
  y: number;
  bearing: number;
  /** Chainage [mm]. */
  at: number;
}

const RADIANS = Math.PI / 180;

/** How finely a bend is drawn [degrees]. */
const STEP = 7.5;

/**
 * The rail from its datum on; empty where it has no place. Slopes shorten it, bends to the left and right turn it, and
 * bends up and down only lead from one slope to the next.
 */
export function lineOf(rail: Rail, spans: PieceSpan[]): Along[] {
  if (rail.sketch === null) return [];
  let here: Along = { x: rail.sketch.start.x_mm, y: rail.sketch.start.y_mm, bearing: rail.sketch.bearing_deg, at: 0 };
  const line = [here];
  const slopes = rail.pieces.map((piece) => (piece.kind === 'straight' ? piece.slope_deg : null));
  rail.pieces.forEach((piece, index) => {
    const span = spans.find((each) => each.id === piece.id);
    if (!span) return;
    const length = span.end_mm - span.start_mm;
    const before = slopes.slice(0, index).reverse().find((slope) => slope !== null);
    const after = slopes.slice(index + 1).find((slope) => slope !== null);
    if (piece.kind === 'straight') here = ahead(here, length, piece.slope_deg, 0);
    else {
      const slope = ((before ?? after ?? 0) + (after ?? before ?? 0)) / 2;
      const turn = piece.plane === 'right' ? piece.angle_deg : piece.plane === 'left' ? -piece.angle_deg : 0;
      const steps = Math.max(1, Math.ceil(Math.abs(turn) / STEP));
      for (let step = 0; step < steps; step += 1) {
        // Half the turn before each chord and half after it keeps the chords on the arc.
        here = ahead(here, chord(length / steps, turn / steps), slope, turn / steps);
        here = { ...here, at: span.start_mm + (length * (step + 1)) / steps };
        if (step < steps - 1) line.push(here);
      }
    }
    here = { ...here, at: span.end_mm };
    line.push(here);
  });
  return line;
}

function chord(arc: number, turnDeg: number): number {
  const half = (Math.abs(turnDeg) / 2) * RADIANS;
  return half < 1e-9 ? arc : (arc * Math.sin(half)) / half;
}

function ahead(from: Along, length: number, slopeDeg: number, turnDeg: number): Along {
  const level = length * Math.cos(slopeDeg * RADIANS);
  const way = (from.bearing + turnDeg / 2) * RADIANS;
  return { x: from.x + level * Math.sin(way), y: from.y + level * Math.cos(way), bearing: from.bearing + turnDeg, at: from.at + length };
}

/** The place at a chainage [mm]; null where the rail has no place. */
export function placeAt(line: Along[], atMm: number): Along | null {
  const index = line.findIndex((point) => point.at >= atMm);
  const b = line[index < 0 ? line.length - 1 : index];
  const a = line[index <= 0 ? 0 : index - 1];
  if (!a || !b) return null;
  const share = b.at > a.at ? Math.min(1, Math.max(0, (atMm - a.at) / (b.at - a.at))) : 0;
  return { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share, bearing: a.bearing, at: atMm };
}
