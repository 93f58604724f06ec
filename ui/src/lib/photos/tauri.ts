/** The program behind the photos page. */
import { convertFileSrc, invoke } from '@tauri-apps/api/core';
import { listen } from '@tauri-apps/api/event';
import { getCurrentWebview } from '@tauri-apps/api/webview';
import { open, save } from '@tauri-apps/plugin-dialog';
import { asBackendError } from '../backend/backend';
import type { Opened } from '../generated/types';
import type { AddProgress, PhotosAdded, PhotosBackend } from './backend';
import type { PhotoCopies, PhotoList } from './wire';

async function call<Answer>(name: string, args: Record<string, unknown> = {}): Promise<Answer> {
  try {
    return await invoke<Answer>(name, args);
  } catch (thrown) {
    throw asBackendError(thrown);
  }
}

export const photosBackend: PhotosBackend = {
  photos: () => call<PhotoList>('photos'),
  addPhotos: (paths, offset) => call<PhotosAdded>('add_photos', { paths, offset }),
  cancelPhotos: () => call<void>('cancel_photos'),
  shiftClock: (photos, seconds) => call<Opened>('shift_clock', { photos, seconds }),
  renderMarked: (photo, path) => call<string>('render_marked', { photo, path }),
  exportClient: (photos, tell, marks, folder) => call<PhotoCopies>('export_client', { photos, tell, marks, folder }),
  exportPhotoLog: (path) => call<string>('export_photo_log', { path }),
  exportGeojson: (path) => call<string>('export_geojson', { path }),

  // The shape of the address differs from system to system; only the web view knows which.
  picture: (content, size) => `${convertFileSrc('', 'photo')}${content}/${size}`,
  onProgress: (tell) => listen<AddProgress>('photo-progress', (event) => tell(event.payload)),
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
  chooseTarget: (title, name, ending) => save({ title, defaultPath: `${name}.${ending}`, filters: [{ name: ending.toUpperCase(), extensions: [ending] }] }),
};
