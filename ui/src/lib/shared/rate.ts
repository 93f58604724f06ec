/** A limit of bytes a second, as people type it in kB/s. */

/** The least that is accepted [B/s]; less would end nowhere. */
const LEAST = 1000;

/** The limit [B/s]; null where none is wished, 'wrong' where it is no number or too small. */
export function readRate(typed: string): number | null | 'wrong' {
  const text = typed.trim().replace(',', '.');
  if (text === '') return null;
  if (!/^\d{1,9}(\.\d{1,3})?$/.test(text)) return 'wrong';
  const rate = Math.round(Number(text) * 1000);
  return rate < LEAST ? 'wrong' : rate;
}

/** A limit [B/s] as it would be typed. */
export function writtenRate(rate: number | null): string {
  return rate === null ? '' : String(rate / 1000);
}
