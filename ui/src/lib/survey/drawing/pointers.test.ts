import { describe, expect, it } from 'vitest';
import { Pointers, type PointerActs } from './pointers';

function recorded(canGrab: boolean): { pointers: Pointers; did: string[] } {
  const did: string[] = [];
  const acts: PointerActs = {
    grab: () => canGrab,
    drag: (x, y) => did.push(`drag ${x},${y}`),
    drop: () => did.push('drop'),
    letGo: () => did.push('let go'),
    tap: (x, y) => did.push(`tap ${x},${y}`),
    pan: (dx, dy) => did.push(`pan ${dx},${dy}`),
    pinch: (factor, x, y, dx, dy) => did.push(`pinch ${factor} at ${x},${y} by ${dx},${dy}`),
  };
  return { pointers: new Pointers(acts), did };
}

describe('pointers', () => {
  it('tap where they do not wander', () => {
    const { pointers, did } = recorded(true);
    pointers.down(1, 10, 10);
    pointers.move(1, 12, 11);
    pointers.up(1, 12, 11);
    expect(did).toEqual(['let go', 'tap 12,11']);
  });
  it('drag what they hold', () => {
    const { pointers, did } = recorded(true);
    pointers.down(1, 10, 10);
    pointers.move(1, 20, 10);
    pointers.move(1, 30, 10);
    pointers.up(1, 30, 10);
    expect(did).toEqual(['drag 20,10', 'drag 30,10', 'drop']);
  });
  it('move the view where they hold nothing, without losing the first pixels', () => {
    const { pointers, did } = recorded(false);
    pointers.down(1, 10, 10);
    pointers.move(1, 20, 10);
    pointers.move(1, 25, 12);
    pointers.up(1, 25, 12);
    expect(did).toEqual(['pan 10,0', 'pan 5,2']);
  });
  it('zoom about the middle of two fingers and put back what one of them held', () => {
    const { pointers, did } = recorded(true);
    pointers.down(1, 100, 50);
    pointers.move(1, 120, 50);
    pointers.down(2, 220, 50);
    pointers.move(2, 320, 50);
    pointers.up(2, 320, 50);
    pointers.move(1, 130, 50);
    pointers.up(1, 130, 50);
    expect(did).toEqual(['drag 120,50', 'let go', 'pinch 2 at 220,50 by 50,0', 'pan 10,0']);
  });
  it('put back what they held when the system takes them away', () => {
    const { pointers, did } = recorded(true);
    pointers.down(1, 10, 10);
    pointers.move(1, 20, 10);
    pointers.cancel(1);
    pointers.up(1, 20, 10);
    expect(did).toEqual(['drag 20,10', 'let go']);
  });
});
