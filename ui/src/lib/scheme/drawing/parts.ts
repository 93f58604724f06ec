/** Everything on a rail that can be asked about, in rows that the arrow keys walk through. */
import { middle } from '../../drawing/nearest';
import type { Asked, RailPage } from '../../generated/types';

/** Rows of parts, from the top of the drawing down. */
export type RowName = 'holes' | 'luminaires' | 'end caps' | 'link leads' | 'sensors and controls' | 'features' | 'leads' | 'drivers';

export interface Part {
  row: RowName;
  /** Its name, unique in its row. */
  id: string;
  chainage_mm: number;
  /** What explains it. */
  asked: Asked;
}

/** The parts of a rail, row by row, each row by chainage. */
export function partsOf(page: RailPage): Map<RowName, Part[]> {
  const rows = new Map<RowName, Part[]>();
  const names = new Set<string>();
  // A driver that feeds the rail at two places is one part.
  const add = (row: RowName, id: string, chainage_mm: number, asked: Asked) => {
    const name = `${row} ${id}`;
    if (names.has(name)) return;
    names.add(name);
    const parts = rows.get(row);
    const part = { row, id, chainage_mm, asked };
    if (parts) parts.push(part);
    else rows.set(row, [part]);
  };
  for (const lamp of page.luminaires) {
    if (lamp.hole_mm !== null) add('holes', lamp.id, lamp.hole_mm, { about: 'position', luminaire: lamp.id });
  }
  for (const lamp of page.luminaires) add('luminaires', lamp.id, middle(lamp), { about: 'luminaire_volts', luminaire: lamp.id });
  for (const cap of page.end_caps) add('end caps', cap.circuit, cap.chainage_mm, { about: 'end_cap', circuit: cap.circuit });
  for (const link of page.links) add('link leads', link.reference, (link.from_mm + link.to_mm) / 2, { about: 'cable', reference: link.reference });
  for (const mark of page.controls) add('sensors and controls', mark.device, mark.chainage_mm, { about: 'control', device: mark.device });
  for (const feature of page.features) add('features', feature.id, feature.chainage_mm, { about: 'feature', rail: page.id, feature: feature.id });
  for (const feed of page.feeds) if (feed.lead !== null) add('leads', feed.lead, feed.chainage_mm, { about: 'cable', reference: feed.lead });
  for (const feed of page.feeds) add('drivers', feed.driver, feed.chainage_mm, { about: 'driver_load', driver: feed.driver });
  for (const parts of rows.values()) parts.sort((a, b) => a.chainage_mm - b.chainage_mm);
  return rows;
}

/** The part that a key leads to: up and down change the row, left and right walk along it. */
export function walk(rows: Map<RowName, Part[]>, at: { row: RowName; id: string } | null, key: string): Part | null {
  const names = [...rows.keys()];
  const row = at && rows.has(at.row) ? at.row : rows.has('luminaires') ? 'luminaires' : names[0];
  if (row === undefined) return null;
  const parts = rows.get(row) ?? [];
  const index = parts.findIndex((part) => part.id === at?.id);
  switch (key) {
    case 'ArrowRight':
      return parts[index < 0 ? 0 : index + 1] ?? null;
    case 'ArrowLeft':
      return parts[index < 0 ? parts.length - 1 : index - 1] ?? null;
    case 'Home':
      return parts[0] ?? null;
    case 'End':
      return parts.at(-1) ?? null;
    case 'ArrowUp':
    case 'ArrowDown': {
      const next = names[names.indexOf(row) + (key === 'ArrowDown' ? 1 : -1)];
      if (next === undefined) return null;
      const here = parts[index]?.chainage_mm ?? 0;
      return rows.get(next)?.reduce((best, part) => (Math.abs(part.chainage_mm - here) < Math.abs(best.chainage_mm - here) ? part : best)) ?? null;
    }
    default:
      return null;
  }
}
