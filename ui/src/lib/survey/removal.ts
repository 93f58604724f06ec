/** The name under which a chosen thing is removed. */
import type { ThingName } from '../session/types';
import type { Selection } from './selection';

/** The thing; null for what is never removed. */
export function removal(selection: Selection): ThingName | null {
  return selection.kind === 'site' ? null : selection;
}
