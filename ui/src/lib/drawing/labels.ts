/** Places labels so that none lies on another: they take the next row, or wait for zoom. */

export interface Label {
  /** Middle of the label [px]. */
  x: number;
  text: string;
  /** The lower comes first when there is not room for all. */
  rank: number;
}

export interface Placed extends Label {
  row: number;
  width: number;
  /** Middle after stepping inside the picture [px]. */
  at: number;
}

const GAP = 6;

/** Room a text takes [px] at a size [px]; a touch generous, so that texts stay apart in any face. */
export function textWidth(text: string, size = 12): number {
  let em = 0;
  for (const letter of text) em += /[iljtf.,:;|' ]/.test(letter) ? 0.33 : /[mwMW@%]/.test(letter) ? 0.86 : 0.57;
  return em * size;
}

/** Places as many labels as fit in a number of rows between two edges. */
export function placeLabels(labels: Label[], rows: number, from: number, to: number, size = 12): Placed[] {
  const taken: [number, number][][] = Array.from({ length: rows }, () => []);
  const placed: Placed[] = [];
  const order = [...labels].sort((a, b) => a.rank - b.rank || a.x - b.x);
  for (const label of order) {
    const width = textWidth(label.text, size);
    if (label.x < from - 1 || label.x > to + 1 || width > to - from) continue;
    const at = Math.min(Math.max(label.x, from + width / 2), to - width / 2);
    const span: [number, number] = [at - width / 2 - GAP / 2, at + width / 2 + GAP / 2];
    const row = taken.findIndex((spans) => spans.every(([a, b]) => span[1] <= a || span[0] >= b));
    if (row < 0) continue;
    taken[row]?.push(span);
    placed.push({ ...label, row, width, at });
  }
  return placed.sort((a, b) => a.x - b.x);
}

/** Every how manyth of evenly spread things can carry a label of a width [px]; a round count. */
export function stride(count: number, from: number, to: number, room: number): number {
  if (count < 2) return 1;
  const spacing = Math.abs(to - from) / (count - 1);
  const least = Math.ceil(room / Math.max(spacing, 1e-6));
  for (const step of [1, 2, 5, 10, 20, 50, 100, 200, 500]) if (step >= least) return step;
  return Math.max(least, 1);
}
