/** What the person works on. */
export type Selection =
  | { kind: 'feature'; rail: string; id: string }
  | { kind: 'piece'; rail: string; id: string }
  | { kind: 'rail'; rail: string }
  | { kind: 'mains_point'; id: string }
  | { kind: 'driver_place'; id: string }
  | { kind: 'route'; id: string }
  | { kind: 'photo'; id: string }
  | { kind: 'site' };

/** Whether two selections are of one thing. */
export function isSame(a: Selection | null, b: Selection | null): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
