/** Photos behind the photos page that are kept in memory. For previews and tests only. */
import type { Photo, Survey } from '../src/lib/generated/survey';
import type { AddProgress, Opened, PhotoFile } from '../src/lib/generated/types';
import type { Drop, PhotosBackend, PictureSize } from '../src/lib/photos/backend';
import type { PhotosHost } from '../src/lib/photos/session.svelte';
import type { ClockDrift, PhotoImport, PhotosAway } from '../src/lib/generated/photos';
import type { Edit } from '../src/lib/session/types';
import { fakeBackend, type FakeBackend } from './fake';

/** A photo of the survey. */
export function photo(id: string, more: Partial<Photo> = {}): Photo {
  return { id, file: `photos/${id}.jpg`, content_sha256: contentOf(id), shows: { kind: 'general' }, taken: '2026-09-15T09:00:00+02:00', position: null, heading_deg: null, camera: 'Invented Pocket One', note: '', marks: [], ...more };
}

/** 64 hex digits out of an id, the same each time. */
export function contentOf(id: string): string {
  let sum = 7;
  for (const letter of id) sum = (sum * 31 + letter.charCodeAt(0)) % 0xfffffff;
  return sum.toString(16).padStart(64, '0');
}

/** What is known of a photo's file. */
export function line(of: Photo, more: Partial<PhotoFile> = {}): PhotoFile {
  return {
    id: of.id, state: of.content_sha256 === null ? 'named' : 'here', file_kind: 'JPEG', bytes: 2_400_000, width_px: 4000, height_px: 3000,
    has_picture: true, offset_source: 'camera', heading: null, focal_length_mm: 4.2, focal_length_35mm_mm: 26,
    from_site: null, nearest: null, remarks: [], ...more,
  };
}

export interface PhotosFake {
  host: PhotosHost;
  backend: PhotosBackend;
  site: FakeBackend;
  /** Names and arguments of every command. */
  asked: [string, ...unknown[]][];
  drop: (drop: Drop) => void;
  progress: (done: number, all: number, name: string, kept?: number) => void;
  /** Tells how far copies are. */
  copied: (done: number, all: number) => void;
  /** While set, copies are written when they are let go and not before. */
  holdsCopies: boolean;
  writeCopies: () => void;
  /** Ends the import on its way. */
  finish: (came: PhotoImport) => void;
  /** Lets it fail. */
  fail: (why: string) => void;
}

interface Given {
  lines?: (survey: Survey) => PhotoFile[];
  away?: PhotosAway[];
  clocks?: ClockDrift[];
  picture?: (content: string, size: PictureSize) => string;
  changed?: (opened: Opened) => void;
}

export function photosFake(survey: Survey, given: Given = {}): PhotosFake {
  const site = fakeBackend(survey);
  const asked: PhotosFake['asked'] = [];
  let tellDrop: (drop: Drop) => void = () => undefined;
  let tellProgress: (progress: AddProgress) => void = () => undefined;
  let tellCopies: (progress: AddProgress) => void = () => undefined;
  let letCopies: () => void = () => undefined;
  let stopped = false;
  let finish: (came: PhotoImport) => void = () => undefined;
  let fail: (why: string) => void = () => undefined;
  const note = <Answer>(answer: Answer, name: string, ...args: unknown[]): Promise<Answer> => {
    asked.push([name, ...args]);
    return Promise.resolve(answer);
  };
  const lines = given.lines ?? ((now: Survey) => now.photos.map((each) => line(each)));
  const fake: PhotosFake = {
    site,
    asked,
    holdsCopies: false,
    writeCopies: () => letCopies(),
    copied: (done, all) => tellCopies({ done, all, name: 'a.jpg', kept: 0 }),
    drop: (drop) => tellDrop(drop),
    progress: (done, all, name, kept = 0) => tellProgress({ done, all, name, kept }),
    finish: (came) => finish(came),
    fail: (why) => fail(why),
    host: {
      get opened() {
        return site.opened();
      },
      edit: async (edits: Edit[]) => {
        const opened = await site.edit(edits);
        given.changed?.(opened);
        return true;
      },
      change: async (work) => {
        const opened = await work();
        given.changed?.(opened);
        return true;
      },
      refresh: () => {
        asked.push(['refresh']);
        given.changed?.(site.opened());
        return Promise.resolve(true);
      },
    },
    backend: {
      photos: () => note({ id: survey.site.id, files: lines(site.opened().survey), away: given.away ?? [], clocks: given.clocks ?? [] }, 'photos'),
      addPhotos: (paths, offset) => {
        asked.push(['addPhotos', paths, offset]);
        return new Promise((resolve, reject) => {
          finish = resolve;
          fail = (why) => reject(new Error(why));
        });
      },
      cancelPhotos: () => note(undefined, 'cancelPhotos'),
      shiftClock: (photos, aheadS) => note(site.opened(), 'shiftClock', photos, aheadS),
      renderMarked: (id, path) => note(`written: ${path}`, 'renderMarked', id, path),
      cancelCopies: () => ((stopped = true), note(undefined, 'cancelCopies')),
      exportClient: async (photos, tell, marks, folder) => {
        stopped = false;
        asked.push(['exportClient', photos, tell, marks, folder]);
        if (fake.holdsCopies) await new Promise<void>((go) => (letCopies = go));
        // What is stopped has written all but the last.
        const copies = photos.map((each, n) => (stopped && n === photos.length - 1 ? { photo: each, copy: null, reason: `${each}: stopped before it` } : { photo: each, copy: `${folder}/photo-${n + 1}.jpg`, reason: null }));
        return { schema_version: 1, id: survey.site.id, stopped, copies };
      },
      exportPhotoLog: (path) => note(`The photo log is in ${path}.`, 'exportPhotoLog', path),
      exportGeojson: (path) => note(`The map is in ${path}.`, 'exportGeojson', path),
      picture: given.picture ?? ((content, size) => `photo://localhost/${content}/${size}`),
      onProgress: (tell) => ((tellProgress = tell), Promise.resolve(() => (tellProgress = () => undefined))),
      onCopies: (tell) => ((tellCopies = tell), Promise.resolve(() => (tellCopies = () => undefined))),
      onDrop: (tell) => ((tellDrop = tell), Promise.resolve(() => (tellDrop = () => undefined))),
      choosePhotos: () => note(['/card/DCIM/a.jpg'], 'choosePhotos'),
      chooseFolder: () => note('/chosen', 'chooseFolder'),
      chooseTarget: (_, name, ending) => note(`/chosen/${name}.${ending}`, 'chooseTarget', name, ending),
    },
  };
  return fake;
}
