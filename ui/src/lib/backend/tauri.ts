/** The program behind the window. */
import { invoke } from '@tauri-apps/api/core';
import { open, save } from '@tauri-apps/plugin-dialog';
import { commands } from '../generated/commands';
import { asBackendError, type Backend } from './backend';

/** Asks the program for a command's answer. */
export async function call(name: string, args: Record<string, unknown>): Promise<unknown> {
  try {
    return await invoke(name, args);
  } catch (thrown) {
    throw asBackendError(thrown);
  }
}

export const backend: Backend = {
  ...commands(call),
  chooseFile: () =>
    open({
      title: 'Choose a survey file or a site file',
      multiple: false,
      directory: false,
      filters: [{ name: 'Survey files and site files', extensions: ['json', 'toml', 'newel'] }],
    }),
  choosePlace: (label, form) => {
    const kind = form === 'site' ? { name: 'Site with its history', extensions: ['newel'] } : { name: 'Survey file', extensions: ['json'] };
    return save({ title: 'Write the site to a file', defaultPath: `${fileName(label)}.${kind.extensions[0]}`, filters: [kind] });
  },
};

/** A label as the name of a file: what some file systems cannot hold becomes a hyphen. */
function fileName(label: string): string {
  const name = label.replace(/[^\p{L}\p{N} ._-]+/gu, '-').trim();
  return name.replace(/^[.\s-]+|[.\s-]+$/g, '') || 'site';
}
