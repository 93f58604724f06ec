/** Where a file is to be written. */
import { save } from '@tauri-apps/plugin-dialog';

/** Lets the person choose where a file is written; null when nothing was chosen. */
export function chooseTarget(title: string, name: string, ending: string): Promise<string | null> {
  return save({ title, defaultPath: `${name}.${ending}`, filters: [{ name: ending.toUpperCase(), extensions: [ending] }] });
}
