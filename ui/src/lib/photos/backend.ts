/**
 * What the photos page asks of the program, beside the edits that every page makes: what a photo shows, its note and its
 * marks are edits (`set_photo`), so that undo takes them back like everything else.
 *
 * Each command works on the open site. A failed one is refused with a `Refusal`.
 */
import type { Opened } from '../generated/types';
import type { PhotoCopies, PhotoImport, PhotoList } from './wire';

/** How wide a picture is asked for [px]; `original` is the file as it was taken in. */
export type PictureSize = 320 | 1600 | 'original';

/** How far an import has come. */
export interface AddProgress {
  /** Files that were worked on. */
  done: number;
  all: number;
  /** The file that was worked on last. */
  name: string;
}

/** What came of an import, and the site with it. */
export interface PhotosAdded {
  import: PhotoImport;
  opened: Opened;
}

/** What copies for a client tell; whatever is not named here is left out. */
export interface Tell {
  /** Where they were taken and which way the camera pointed. */
  position: boolean;
  /** The camera with its serial number. */
  camera: boolean;
  /** Who owns the camera and took the picture. */
  owner: boolean;
}

export interface PhotosBackend {
  /** `photos`: every photo with where it belongs, those taken elsewhere, clocks that seem wrong. */
  photos: () => Promise<PhotoList>;
  /**
   * `add_photos`: takes in files and all that is in folders. Meanwhile the event `photo-progress` tells how far it is.
   * `offset` (such as "+02:00") is assumed where no camera and no satellite says how local time stands to UTC.
   */
  addPhotos: (paths: string[], offset: string | null) => Promise<PhotosAdded>;
  /** `cancel_photos`: stops an import after the files in hand; what was added stays. */
  cancelPhotos: () => Promise<void>;
  /** `shift_clock`: takes the seconds by which the clock was ahead away from the times of photos; one step takes it back. */
  shiftClock: (photos: string[], seconds: number) => Promise<Opened>;
  /** `render_marked`: writes a JPEG with the marks drawn on it, and answers with a sentence. */
  renderMarked: (photo: string, path: string) => Promise<string>;
  /** `export_client`: writes copies for a client into a folder. With `marks` drawn on them they tell nothing else. */
  exportClient: (photos: string[], tell: Tell, marks: boolean, folder: string) => Promise<PhotoCopies>;
  /** `export_photo_log`: writes the photo log as CSV, and answers with a sentence. */
  exportPhotoLog: (path: string) => Promise<string>;
  /** `export_geojson`: writes rails, mains points and photo positions, and answers with a sentence. */
  exportGeojson: (path: string) => Promise<string>;

  /** The address of a picture: `photo://localhost/<content>/<size>`, where content is the SHA-256 in 64 hex digits. */
  picture: (content: string, size: PictureSize) => string;
  /** Tells how far an import is; answers with what ends the telling. */
  onProgress: (tell: (progress: AddProgress) => void) => Promise<() => void>;
  /** Tells of files over the window and of files that were dropped on it; answers with what ends the telling. */
  onDrop: (tell: (drop: Drop) => void) => Promise<() => void>;
  /** Lets the person choose files; null when nothing was chosen. */
  choosePhotos: () => Promise<string[] | null>;
  /** Lets the person choose a folder. */
  chooseFolder: (title: string) => Promise<string | null>;
  /** Lets the person choose where a file is written. */
  chooseTarget: (title: string, name: string, ending: string) => Promise<string | null>;
}

/** Files held over the window, let go outside it, or dropped on it. */
export type Drop = { kind: 'over' } | { kind: 'away' } | { kind: 'dropped'; paths: string[] };
