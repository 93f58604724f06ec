/** What lies nearest to where a person pointed. */

/** The item whose chainage is nearest, if it lies within a reach [px] of the place. */
export function nearest<T>(items: T[], chainage: (item: T) => number, atMm: number, scale: number, reach: number): T | null {
  let best: T | null = null;
  let least = reach / scale;
  for (const item of items) {
    const away = Math.abs(chainage(item) - atMm);
    if (away <= least) {
      least = away;
      best = item;
    }
  }
  return best;
}

/** The middle of something that starts and ends [mm]. */
export function middle(item: { start_mm: number; end_mm: number }): number {
  return (item.start_mm + item.end_mm) / 2;
}
