/** Ids for new things: UUID version 7 (RFC 9562, 5.7), so that ids made later sort later. */

let last = { ms: 0, count: 0 };

/** A new id; two made in one millisecond still sort in the order in which they were made. */
export function newId(now = Date.now(), random: Uint8Array = crypto.getRandomValues(new Uint8Array(10))): string {
  const ms = Math.max(now, last.ms);
  const count = ms === last.ms ? last.count + 1 : 0;
  last = { ms, count };
  // The twelve bits after the version count within the millisecond (RFC 9562, 6.2, method 1).
  const time = ms.toString(16).padStart(12, '0').slice(-12);
  const counted = (count & 0xfff).toString(16).padStart(3, '0');
  const tail = [...random.slice(0, 8)].map((byte, index) => (index === 0 ? (byte & 0x3f) | 0x80 : byte));
  const hex = tail.map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${time.slice(0, 8)}-${time.slice(8)}-7${counted}-${hex.slice(0, 4)}-${hex.slice(4)}`;
}
