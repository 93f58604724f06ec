/** Moments as people read them, in this computer's own time. */
const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
const TIME = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' });

/** "20:44" of today, else with its day; the text itself where it is no moment. */
export function clock(written: string, now = new Date()): string {
  const at = new Date(written);
  return at.toDateString() === now.toDateString() ? TIME.format(at) : moment(written);
}

/** "25 Nov 2026, 20:44"; the text itself where it is no moment. */
export function moment(written: string): string {
  const at = new Date(written);
  return Number.isNaN(at.getTime()) ? written : `${DAY.format(at)}, ${TIME.format(at)}`;
}
