import type { Opened } from '../generated/types';

/** The screens of an open site, in the order of the job. A stage that works is added here and in App.svelte; where it makes
 * changes of its own, through the session's `stage`. */
export type ScreenName = 'sites' | 'survey' | 'photos' | 'scheme' | 'history' | 'catalogue' | 'shared';

export interface Screen {
  name: ScreenName;
  label: string;
}

/** What can be taken back and made again, in words, and how. */
export interface Steps {
  undo: string | null;
  redo: string | null;
  takeBack: () => Promise<boolean>;
  makeAgain: () => Promise<boolean>;
}

const SCREENS: Screen[] = [
  { name: 'survey', label: 'Survey' },
  { name: 'photos', label: 'Photos' },
  { name: 'scheme', label: 'Scheme' },
  { name: 'history', label: 'History' },
  { name: 'catalogue', label: 'Catalogue' },
  { name: 'shared', label: 'Shared folder' },
];

/** A site that cannot be changed is not surveyed: a file that is looked at, or the site as it was. Photos are kept with
 * stored sites alone. */
export function screensOf({ read_only, way_on }: Pick<Opened, 'read_only' | 'way_on'>): Screen[] {
  return SCREENS.filter(({ name }) => !(name === 'survey' && read_only !== null) && !(name === 'photos' && way_on === 'take_in'));
}
