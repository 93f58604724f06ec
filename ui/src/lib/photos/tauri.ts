/** The program behind the photos page. */
import { convertFileSrc } from '@tauri-apps/api/core';
import { listen } from '@tauri-apps/api/event';
import { getCurrentWebview } from '@tauri-apps/api/webview';
import { open } from '@tauri-apps/plugin-dialog';
import { call, chooseTarget } from '../backend';
import { commands } from '../generated/commands';
import type { AddProgress } from '../generated/types';
import type { PhotosBackend } from './backend';

export const photosBackend: PhotosBackend = {
  ...commands(call),

  // The shape of the address differs from system to system; only the web view knows which.
  picture: (content, size) => `${convertFileSrc('', 'photo')}${content}/${size}`,
  onProgress: (tell) => listen<AddProgress>('photo-progress', (event) => tell(event.payload)),
  onCopies: (tell) => listen<AddProgress>('copies-progress', (event) => tell(event.payload)),
  onDrop: (tell) =>
    getCurrentWebview().onDragDropEvent(({ payload }) => {
      if (payload.type === 'drop') tell({ kind: 'dropped', paths: payload.paths });
      else tell({ kind: payload.type === 'leave' ? 'away' : 'over' });
    }),
  choosePhotos: () =>
    open({
      title: 'Choose photos',
      multiple: true,
      directory: false,
      filters: [{ name: 'Photos', extensions: ['jpg', 'jpeg', 'png', 'tif', 'tiff', 'webp', 'heic', 'heif'] }],
    }),
  chooseFolder: (title) => open({ title, multiple: false, directory: true }),
  chooseTarget,
};
