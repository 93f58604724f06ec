/** The program behind the window. */
import { invoke } from '@tauri-apps/api/core';
import { open } from '@tauri-apps/plugin-dialog';
import { commands } from '../generated/commands';
import { asBackendError, type Backend } from './backend';

async function call(name: string, args: Record<string, unknown>): Promise<unknown> {
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
      title: 'Open a survey file',
      multiple: false,
      directory: false,
      filters: [{ name: 'Survey file', extensions: ['json'] }],
    }),
};
