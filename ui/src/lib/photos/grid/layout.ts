/** Where headings and rows of photos lie in the grid, and which of them can be seen. */
import type { Group } from '../groups';
import type { Shot } from '../lines';

/** Between photos and at the sides [px]. */
export const GAP = 10;
/** A photo is never narrower [px]. */
const LEAST = 156;
/** The words under a picture [px]. */
const CAPTION = 44;
const HEADING = 40;

interface Band {
  /** Unique among the bands. */
  key: string;
  top: number;
  height: number;
}
/** The heading of a group over the columns of its photos. */
export interface Heading {
  group: Group;
  /** Of its first photo, from 0. */
  column: number;
  /** How many columns it may take. */
  span: number;
}
export interface HeadingRow extends Band {
  kind: 'headings';
  headings: Heading[];
}
export interface ShotRow extends Band {
  kind: 'shots';
  /** Of the first photo, counted over all groups. */
  first: number;
  shots: Shot[];
}
export type Row = HeadingRow | ShotRow;

export interface Layout {
  columns: number;
  /** Width of a photo [px]. */
  cell: number;
  rows: Row[];
  /** Of everything [px]. */
  height: number;
  /** All photos in the order in which they lie. */
  order: Shot[];
}

/** Lays groups out in a width [px]. Small groups share a row, as many as fit into it whole and one after the other. */
export function layOut(groups: readonly Group[], width: number): Layout {
  const columns = Math.max(1, Math.floor((width - GAP) / (LEAST + GAP)));
  const cell = Math.max(60, Math.floor((width - GAP) / columns) - GAP);
  const tall = Math.round(cell * 0.75) + CAPTION + GAP;
  const rows: Row[] = [];
  const order: Shot[] = [];
  let top = 0;
  /** A row that has room for more groups, with the headings over it. */
  let open: { over: HeadingRow; row: ShotRow } | null = null;
  for (const group of groups) {
    const { shots } = group;
    if (open && shots.length > 0 && open.row.shots.length + shots.length <= columns) {
      open.over.headings.push({ group, column: open.row.shots.length, span: shots.length });
      open.row.shots.push(...shots);
      order.push(...shots);
      continue;
    }
    const over: HeadingRow = { kind: 'headings', key: group.key, top, height: HEADING, headings: [{ group, column: 0, span: Math.min(columns, Math.max(1, shots.length)) }] };
    rows.push(over);
    top += HEADING;
    open = null;
    for (let at = 0; at < shots.length; at += columns) {
      const row: ShotRow = { kind: 'shots', key: `${group.key} ${at}`, top, height: tall, first: order.length, shots: shots.slice(at, at + columns) };
      rows.push(row);
      order.push(...row.shots);
      top += tall;
      open = shots.length < columns ? { over, row } : null;
    }
  }
  return { columns, cell, rows, height: top, order };
}

/** The rows that reach into a stretch of the grid [px]. */
export function rowsIn(rows: readonly Row[], from: number, to: number): Row[] {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const row = rows[middle]!;
    if (row.top + row.height <= from) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < rows.length && rows[end]!.top < to) end += 1;
  return rows.slice(low, end);
}

/** The row in which a photo lies, by its place in the order. */
export function rowOf(layout: Layout, index: number): ShotRow | null {
  return layout.rows.find((row): row is ShotRow => row.kind === 'shots' && index >= row.first && index < row.first + row.shots.length) ?? null;
}

/** The photo in the same column of the next or previous row; the nearest column where that row is shorter. */
export function beside(layout: Layout, index: number, by: 1 | -1): number {
  const rows = layout.rows.filter((row): row is ShotRow => row.kind === 'shots');
  const here = rows.findIndex((row) => index >= row.first && index < row.first + row.shots.length);
  const next = rows[here + by];
  const row = rows[here];
  if (!row || !next) return index;
  return next.first + Math.min(index - row.first, next.shots.length - 1);
}
