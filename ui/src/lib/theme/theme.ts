/** Day or dark: the person's choice, else what the desktop asks for. */
import type { ThemeChoice } from '../generated/types';

export type Theme = 'day' | 'dark';

/** The theme that a choice comes to on this desktop. */
export function themeOf(choice: ThemeChoice): Theme {
  if (choice !== 'desktop') return choice;
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'day';
}

/** Shows a theme. */
export function showTheme(choice: ThemeChoice): void {
  document.documentElement.dataset.theme = themeOf(choice);
}
