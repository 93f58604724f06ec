import type { Opened } from '../generated/types';

/** The screens of an open site, in the order of the job. A stage that works is added here and in App.svelte; where it makes
 * changes of its own, through the session's `stage`. */
export type ScreenName = 'sites' | 'survey' | 'scheme' | 'history';

export interface Screen {
  name: ScreenName;
  label: string;
}

const SCREENS: Screen[] = [
  { name: 'survey', label: 'Survey' },
  { name: 'scheme', label: 'Scheme' },
  { name: 'history', label: 'History' },
];

/** A site that cannot be changed is not surveyed: a file that is looked at, or the site as it was. */
export function screensOf({ read_only }: Pick<Opened, 'read_only'>): Screen[] {
  return read_only === null ? SCREENS : SCREENS.filter((screen) => screen.name !== 'survey');
}
