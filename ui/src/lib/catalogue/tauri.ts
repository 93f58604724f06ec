/** The program behind the catalogue page. */
import { open } from '@tauri-apps/plugin-dialog';
import { call, chooseTarget } from '../backend';
import { commands } from '../generated/commands';
import type { CatalogueBackend } from './backend';

export const catalogueBackend: CatalogueBackend = {
  ...commands(call),
  chooseParts: () =>
    open({
      title: 'Choose a catalogue or a list of parts',
      multiple: false,
      directory: false,
      filters: [{ name: 'Catalogues and lists of parts', extensions: ['toml', 'json', 'csv', 'tsv'] }],
    }),
  chooseTarget,
};
