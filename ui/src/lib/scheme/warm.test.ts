/** Making the scheme's page ready draws all of it once, and leaves nothing behind. */
import { afterEach, expect, test, vi } from 'vitest';
import { warm } from './warm';

afterEach(() => vi.restoreAllMocks());

test('the sample is drawn whole where nobody sees it, and is gone when that is done', () => {
  document.body.innerHTML = '<main><h1>Sites</h1></main>';
  const before = document.body.innerHTML;
  let drawn: HTMLElement | null = null;
  const laid = vi.spyOn(HTMLElement.prototype, 'offsetHeight', 'get').mockImplementation(function (this: HTMLElement) {
    drawn = this.cloneNode(true) as HTMLElement;
    return 0;
  });
  warm();
  expect(laid).toHaveBeenCalled();
  const seen = drawn as HTMLElement | null;
  expect(seen?.querySelector('#drawing')).not.toBeNull();
  expect(seen?.querySelector('[data-field="spacing"]')).not.toBeNull();
  expect(seen?.querySelector('#table tbody tr')).not.toBeNull();
  expect(document.body.innerHTML).toBe(before);
});
