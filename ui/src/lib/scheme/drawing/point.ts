/** What a person pointed at. */
import type { FeedBox } from '../../drawing/feeds';
import type { Lanes } from '../../drawing/lanes';
import { nearest } from '../../drawing/nearest';
import { across, chainageAt, type View } from '../../drawing/scale';
import type { RailPage } from '../../generated/types';
import type { Part, RowName } from './parts';

/** The part under a place in the drawing [px]; null where there is nothing near. */
export function partAt(page: RailPage, rows: Map<RowName, Part[]>, place: { x: number; y: number }, view: View, at: Lanes, boxes: FeedBox[]): Part | null {
  const { x, y } = place;
  const find = (row: RowName, id: string | undefined) => rows.get(row)?.find((part) => part.id === id) ?? null;
  const near = (row: RowName, reach: number) => nearest(rows.get(row) ?? [], (part) => part.chainage_mm, chainageAt(view, x), view.scale, reach);
  if (y >= at.powerTop - 4 && y <= at.powerFoot + 8) {
    return find('drivers', boxes.find(({ left, width }) => x >= left - 8 && x <= left + width + 8)?.feed.driver);
  }
  if (y > at.powerFoot + 8) return near('luminaires', 24);
  if (y < at.dimensions + 4) return near('holes', 24) ?? near('luminaires', 24);
  if (y < at.tubeTop - 2) return near('features', 22) ?? near('holes', 24);
  if (y <= at.tubeFoot + 2) return near('end caps', 7) ?? near('luminaires', 22) ?? linkAt(page, x, view, find) ?? near('end caps', 22);
  // Between tube and drivers: what hangs under the tube comes before the leads that pass it.
  return near('sensors and controls', 14) ?? linkAt(page, x, view, find) ?? near('leads', 9) ?? near('features', 22) ?? near('leads', 22) ?? watched(page, x, view, find) ?? near('luminaires', 22);
}

type Find = (row: RowName, id: string | undefined) => Part | null;

function linkAt(page: RailPage, x: number, view: View, find: Find): Part | null {
  const link = page.links.find(({ from_mm, to_mm }) => x >= across(view, from_mm) - 8 && x <= across(view, to_mm) + 8);
  return find('link leads', link?.reference);
}

/** The sensor whose stretch lies there. */
function watched(page: RailPage, x: number, view: View, find: Find): Part | null {
  const mark = page.controls.find(({ reach }) => reach && x >= across(view, reach.from_mm) && x <= across(view, reach.to_mm));
  return find('sensors and controls', mark?.device);
}
