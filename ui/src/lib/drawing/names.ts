/** The names of bends and features over the tube: as many as fit. */
import type { RailPage } from '../generated/types';
import { placeLabels, type Label, type Placed } from './labels';
import { middle } from './nearest';
import { across, LEFT, type View } from './scale';

/** The names that fit in two rows, and how many wait for zoom. */
export function placeNames(page: Pick<RailPage, 'pieces' | 'features'>, view: View): { placed: Placed[]; waiting: number } {
  const labels: Label[] = [];
  for (const piece of page.pieces) if (piece.name) labels.push({ x: across(view, middle(piece)), text: piece.name, rank: 1 });
  for (const feature of page.features)
    if (feature.name)
      labels.push({ x: across(view, feature.chainage_mm), text: feature.name, rank: feature.shape === 'post' ? 3 : feature.shape === 'way_in' ? 2 : 0 });
  const seen = labels.filter((label) => label.x >= LEFT - 2 && label.x <= view.width);
  const placed = placeLabels(seen, 2, LEFT, view.width - 8);
  return { placed, waiting: seen.length - placed.length };
}
