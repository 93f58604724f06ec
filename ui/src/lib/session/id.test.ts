import { describe, expect, it } from 'vitest';
import { newId } from './id';

describe('a new id', () => {
  it('is a version 7 UUID that carries its moment (the example of RFC 9562, appendix A.6, from memory)', () => {
    // 2022-02-22T19:22:22.00Z is 0x017F22E279B0 there; the random part is our own.
    const id = newId(Number.parseInt('017F22E279B0', 16), new Uint8Array(10).fill(0xff));
    expect(id).toMatch(/^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });
  it('sorts after every id made before it, even within a millisecond', () => {
    const ids = Array.from({ length: 500 }, () => newId());
    expect([...ids].sort()).toEqual(ids);
    expect(new Set(ids).size).toBe(500);
  });
});
