/** Marks while they are drawn, and how they look. */
import type { Mark, Spot } from '../../generated/survey';

/** What a hand on the picture draws. */
export type MarkTool = 'arrow' | 'dimension' | 'frame' | 'words';

export const TOOLS: [MarkTool, string, string][] = [
  ['arrow', 'Arrow', 'A'],
  ['dimension', 'Dimension', 'D'],
  ['frame', 'Box', 'B'],
  ['words', 'Text', 'T'],
];

/** A pointer that went less far than this drew nothing [thousandths of the picture]. */
const LEAST = 6;

/** What a stroke of a tool draws; a dimension still needs its length, and words their text. Null where it went nowhere. */
export function drawn(tool: MarkTool, from: Spot, to: Spot, lengthMm = 0, text = ''): Mark | null {
  if (tool === 'words') return { kind: 'words', at: from, text };
  if (Math.hypot(to.x_permille - from.x_permille, to.y_permille - from.y_permille) < LEAST) return null;
  return tool === 'dimension' ? { kind: tool, from, to, length_mm: lengthMm } : { kind: tool, from, to };
}

interface Place {
  x: number;
  y: number;
}

/** The two strokes of an arrow head at the end of a line, as the saved copy draws them. */
export function head(from: Place, to: Place, half: number): string {
  const long = Math.hypot(to.x - from.x, to.y - from.y);
  if (long === 0) return '';
  const [ux, uy] = [(to.x - from.x) / long, (to.y - from.y) / long];
  const back = { x: to.x - ux * half * 12, y: to.y - uy * half * 12 };
  const wing = (side: 1 | -1) => `M${px(to.x)} ${px(to.y)}L${px(back.x - side * uy * half * 6)} ${px(back.y + side * ux * half * 6)}`;
  return wing(1) + wing(-1);
}

/** The bar across the end of a dimension. */
export function bar(from: Place, to: Place, half: number): string {
  const long = Math.hypot(to.x - from.x, to.y - from.y);
  if (long === 0) return '';
  const [ux, uy] = [((to.x - from.x) / long) * half * 9, ((to.y - from.y) / long) * half * 9];
  const across = (at: Place) => `M${px(at.x - uy)} ${px(at.y + ux)}L${px(at.x + uy)} ${px(at.y - ux)}`;
  return across(from) + across(to);
}

function px(value: number): string {
  return value.toFixed(1);
}
