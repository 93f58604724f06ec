/** Day or dark: the person's choice, kept on this machine; at first what the desktop asks for. */

export type Theme = 'day' | 'dark';

const KEPT = 'newel.theme';

/** What is shown now. */
export function currentTheme(): Theme {
  return document.documentElement.dataset.theme === 'dark' ? 'dark' : 'day';
}

/** Shows a theme and remembers it. */
export function chooseTheme(theme: Theme): void {
  document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem(KEPT, theme);
  } catch {
    // Without a store the choice lasts until the window closes, which is no harm.
  }
}

/** Shows the kept theme, or the desktop's. */
export function startTheme(): void {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEPT);
  } catch {
    kept = null;
  }
  const dark = kept === null ? matchMedia('(prefers-color-scheme: dark)').matches : kept === 'dark';
  document.documentElement.dataset.theme = dark ? 'dark' : 'day';
}
