/** Where a hand on the drawing means. */
import { across, type View } from '../../drawing/scale';
import { roundStep } from '../../drawing/ticks';
import type { FeatureRow } from '../../generated/types';

/** How far a finger may miss [px]. */
export const REACH = 22;

/** From this scale on a feature can be dragged without choosing it first [px/mm]. */
export const DIRECT = 0.08;

/** How finely a hand can place at a scale [mm]: never finer than a millimetre, never finer than it can be seen. */
export function grain(scale: number): number {
  return Math.max(1, Math.min(100, roundStep(0.5 / scale)));
}

/** A chainage on the rail, as finely as the hand can place it [mm]. */
export function snapped(mm: number, scale: number, lengthMm: number): number {
  const step = grain(scale);
  return Math.min(Math.max(0, Math.round(mm / step) * step), Math.max(0, lengthMm));
}

/** Middle of a feature or bend [mm]. */
export function middleOf(row: FeatureRow): number {
  return row.shape === 'bend' ? row.chainage_mm + (row.width_mm ?? 0) / 2 : row.chainage_mm;
}

/** What lies under a finger; where several lie on one another, pointing again goes from one to the next. */
export function under(rows: FeatureRow[], view: View, x: number, selected: string | null): FeatureRow | null {
  const near = rows
    .map((row) => ({ row, away: awayFrom(row, view, x) }))
    .filter(({ away }) => away <= REACH)
    .sort((a, b) => a.away - b.away);
  const least = near[0]?.away ?? Infinity;
  const tied = near.filter(({ away }) => away - least < 3).map(({ row }) => row);
  const at = tied.findIndex((row) => row.id === selected);
  return tied[(at + 1) % Math.max(1, tied.length)] ?? null;
}

function awayFrom(row: FeatureRow, view: View, x: number): number {
  const half = ((row.width_mm ?? 0) / 2) * view.scale;
  return Math.max(0, Math.abs(across(view, middleOf(row)) - x) - half);
}
