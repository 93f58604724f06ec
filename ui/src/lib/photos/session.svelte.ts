/** What the photos page holds: the list, an import on its way and what came of it, and why something was not done. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { Edit } from '../generated/edit';
import type { PhotoImport } from '../generated/photos';
import type { CopiesTell, Opened, PhotosPage } from '../generated/types';
import type { PhotosBackend } from './backend';
import { readSpan } from './clock';
import { Running } from './running.svelte';

/** The window around the page: it makes the edits, so that its undo takes them back. */
export interface PhotosHost {
  /** The site on the screen. */
  readonly opened: Opened | null;
  /** Makes edits as one step; answers whether they were made. */
  edit: (edits: Edit[]) => Promise<boolean>;
  /** Makes a change by a command of this page; answers whether it was made. */
  change: (work: () => Promise<Opened>) => Promise<boolean>;
  /** Shows a site anew, where it is still on the screen. */
  refresh: (id: string) => Promise<boolean>;
}

/** It outlives the page, so that an import goes on while another page is shown. */
export class PhotosSession {
  readonly backend: PhotosBackend;
  readonly #host: PhotosHost;
  /** Null until the program has answered. */
  list = $state.raw<PhotosPage | null>(null);
  /** An import. */
  readonly adding = new Running(() => this.#try(() => this.backend.cancelPhotos()));
  /** What came of the last import. */
  added = $state.raw<PhotoImport | null>(null);
  /** Copies for a client that are being written. */
  readonly copying = new Running(() => this.#try(() => this.backend.cancelCopies()));
  refusal = $state.raw<BackendError | null>(null);
  /** What the last command did. */
  said = $state.raw<{ words: string; lines: string[] } | null>(null);
  #asked = 0;
  /** So many files of the import on its way lie in the site that is shown. */
  #shown = 0;
  #showing = false;

  constructor(host: PhotosHost, backend: PhotosBackend) {
    this.#host = host;
    this.backend = backend;
  }

  /** Asks for the list; an answer that was overtaken by the next is dropped. */
  async load(): Promise<void> {
    const asked = ++this.#asked;
    await this.#try(async () => {
      const list = await this.backend.photos();
      if (asked === this.#asked) this.list = list;
    });
  }

  async addFiles(): Promise<void> {
    await this.#try(async () => this.#add(await this.backend.choosePhotos()));
  }

  async addFolder(): Promise<void> {
    await this.#try(async () => {
      const folder = await this.backend.chooseFolder('Choose a folder of photos');
      await this.#add(folder === null ? null : [folder]);
    });
  }

  /** Takes in what was dropped. */
  async add(paths: string[]): Promise<void> {
    await this.#try(() => this.#add(paths));
  }

  edit(edits: Edit[]): Promise<boolean> {
    return this.#host.edit(edits);
  }

  /** Puts the times of photos right. Answers why not, where the span cannot be read. */
  async shiftClock(photos: string[], typed: string, way: 'ahead' | 'behind'): Promise<string | null> {
    const seconds = readSpan(typed);
    if (seconds === null || seconds === 0) return 'Type a span such as 1 h 2 min, 45 s or 3 d.';
    await this.#host.change(() => this.backend.shiftClock(photos, way === 'ahead' ? seconds : -seconds));
    return null;
  }

  async saveMarked(photo: string, file: string): Promise<void> {
    await this.#try(async () => {
      const path = await this.backend.chooseTarget('Save a copy with its marks', `${file.replace(/^.*[\\/]/, '').replace(/\.[^.]*$/, '')}-marked`, 'jpg');
      if (path !== null) this.#say(await this.backend.renderMarked(photo, path));
    });
  }

  async exportClient(photos: string[], tell: CopiesTell, marks: boolean): Promise<void> {
    await this.#try(async () => {
      const folder = await this.backend.chooseFolder('Choose a folder for the client’s copies');
      if (folder === null) return;
      if (this.copying.isOn) return;
      const came = await this.copying.run(photos.length, this.backend.onCopies, () => this.backend.exportClient(photos, tell, marks, folder));
      const { copies, stopped } = came;
      const written = copies.filter((copy) => copy.copy !== null).length;
      const reasons = copies.flatMap((copy) => (copy.reason === null ? [] : [copy.reason]));
      this.#say(`${stopped ? 'Stopped: ' : ''}${written} of ${copies.length} ${copies.length === 1 ? 'copy' : 'copies'} written into ${folder}.`, reasons);
    });
  }

  async exportLog(): Promise<void> {
    await this.#write('Save the photo log', 'photo-log', 'csv', (path) => this.backend.exportPhotoLog(path));
  }

  async exportGeojson(): Promise<void> {
    await this.#write('Save rails and photo positions', 'site', 'geojson', (path) => this.backend.exportGeojson(path));
  }

  async #write(title: string, name: string, ending: string, write: (path: string) => Promise<string>): Promise<void> {
    await this.#try(async () => {
      const path = await this.backend.chooseTarget(title, name, ending);
      if (path !== null) this.#say(await write(path));
    });
  }

  async #add(paths: string[] | null): Promise<void> {
    // One import at a time: what is dropped meanwhile would be taken in under the wrong count.
    const site = this.#host.opened?.id;
    if (site === undefined || paths === null || paths.length === 0 || this.adding.isOn) return;
    this.#shown = 0;
    this.added = null;
    const listen: PhotosBackend['onProgress'] = (tell) =>
      this.backend.onProgress((progress) => {
        tell(progress);
        if (progress.kept > this.#shown) void this.#appear(progress.kept, site);
      });
    try {
      this.added = await this.adding.run(0, listen, () => this.backend.addPhotos(paths, null));
    } finally {
      // What was added before a fault stays. A picture that came back shows in the list alone.
      await this.#host.refresh(site);
      if (this.#host.opened?.id === site) await this.load();
    }
  }

  /** Shows what lies in the site by now, while the rest is on its way; what comes meanwhile is shown with the next. */
  async #appear(kept: number, site: string): Promise<void> {
    if (this.#showing) return;
    this.#showing = true;
    this.#shown = kept;
    try {
      await this.#host.refresh(site);
    } finally {
      this.#showing = false;
    }
  }

  #say(words: string, lines: string[] = []): void {
    this.said = { words, lines };
  }

  /** Answers whether it was done. */
  async #try(work: () => Promise<void>): Promise<boolean> {
    this.refusal = null;
    try {
      await work();
      return true;
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
      return false;
    }
  }
}
