/** The program behind the window. */
import { invoke } from '@tauri-apps/api/core';
import { open, save } from '@tauri-apps/plugin-dialog';
import { fileName } from '../fileName';
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
    return save({ title: 'Write the site to a file', defaultPath: `${fileName(label, 'site')}.${kind.extensions[0]}`, filters: [kind] });
  },
};
