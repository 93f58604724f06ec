/**
 * What the photos page asks of the program, beside the edits that every page makes: what a photo shows, its note and its
 * marks are edits (`set_photo`), so that undo takes them back like everything else.
 *
 * Each command works on the open site. A failed one is refused with a `Refusal`.
 */
import type { PhotoCommand } from '../backend';
import type { Commands } from '../generated/commands';
import type { AddProgress } from '../generated/types';

/** How wide a picture is asked for [px]; `original` is the file as it was taken in. */
export type PictureSize = 320 | 1600 | 'original';

export interface PhotosBackend extends Pick<Commands, PhotoCommand> {
  /** The address of a picture: `photo://localhost/<content>/<size>`, where content is the SHA-256 in 64 hex digits. */
  picture: (content: string, size: PictureSize) => string;
  /** Tells how far an import is; answers with what ends the telling. */
  onProgress: (tell: (progress: AddProgress) => void) => Promise<() => void>;
  /** The same of copies that are written. */
  onCopies: (tell: (progress: AddProgress) => void) => Promise<() => void>;
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
