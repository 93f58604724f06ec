/** Spans of time by which a camera's clock is wrong. */

/** Seconds in what people type: "90", "1 h 2 min", "3 d"; null where it is no span. */
export function readSpan(typed: string): number | null {
  const words = typed.trim().toLowerCase();
  if (!/^(\d+\s*(d|h|min|s)?\s*)+$/.test(words)) return null;
  let seconds = 0;
  for (const [, number, unit] of words.matchAll(/(\d+)\s*(d|h|min|s)?/g)) {
    seconds += Number(number) * { d: 86400, h: 3600, min: 60, s: 1 }[unit ?? 's']!;
  }
  return Number.isSafeInteger(seconds) ? seconds : null;
}

/** A span in words: "1 h 2 min". */
export function spanWords(seconds: number): string {
  let left = Math.abs(Math.round(seconds));
  const parts: string[] = [];
  for (const [size, unit] of [[86400, 'd'], [3600, 'h'], [60, 'min'], [1, 's']] as const) {
    const count = Math.floor(left / size);
    left -= count * size;
    if (count > 0) parts.push(`${count} ${unit}`);
  }
  return parts.join(' ') || '0 s';
}
