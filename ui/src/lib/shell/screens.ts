/** The screens of an open site, in the order of the job. A stage that works is added here and in App.svelte; where it makes
 * changes of its own, through the session's `stage`. */
export type ScreenName = 'sites' | 'survey' | 'scheme' | 'history';

export interface Screen {
  name: ScreenName;
  label: string;
}

export const SCREENS: Screen[] = [
  { name: 'survey', label: 'Survey' },
  { name: 'scheme', label: 'Scheme' },
  { name: 'history', label: 'History' },
];
