/** The program behind the page of the shared folder. */
import { listen } from '@tauri-apps/api/event';
import { open } from '@tauri-apps/plugin-dialog';
import { call } from '../backend';
import { commands } from '../generated/commands';
import type { SharedSign } from '../generated/types';
import type { SharedBackend } from './backend';

export const sharedBackend: SharedBackend = {
  ...commands(call),
  onSign: (tell) => listen<SharedSign>('shared', (event) => tell(event.payload)),
  chooseFolder: (title) => open({ title, multiple: false, directory: true }),
  chooseFile: (title) => open({ title, multiple: false, directory: false }),
};
