/** The window as a whole: which screen, which site, what was said and what went wrong. Every page works through this. */
import { asBackendError, type Backend, type BackendError } from '../backend/backend';
import type { Edit } from '../generated/edit';
import type { HitLine } from '../generated/sites';
import type { ExportForm, Opened, Settings, SitesPage } from '../generated/types';
import { screensOf, type ScreenName } from '../shell/screens';
import { FIRST_SHOWN, noteDrawn, SITE_SHOWN } from '../stopwatch';
import { showTheme } from '../theme/theme';
import { units } from '../units/setting.svelte';

/** How it stands with what the person has changed. */
export type Kept = 'kept' | 'keeping' | 'failed' | 'read_only';

/** What was done, in words, with what takes just that back; null where it was no change, such as a file that was written. */
export interface Message {
  words: string;
  undo: (() => Promise<boolean>) | null;
}

export class WindowSession {
  readonly backend: Backend;
  #screen = $state<ScreenName>('sites');
  /** The site on the screen. */
  opened = $state.raw<Opened | null>(null);
  /** The list of sites; null until the store has answered. */
  sites = $state.raw<SitesPage | null>(null);
  /** Why the last thing was not done. */
  refusal = $state.raw<BackendError | null>(null);
  /** What the last thing did; each is a new object, so that the same words are said again. */
  said = $state.raw<Message | null>(null);
  /** Why nothing that is kept can be changed, as the program said last; null where it can. */
  store = $state<string | null>(null);
  settings = $state.raw<Settings>({ theme: 'desktop', units: 'metric' });
  /** How many answers are awaited. */
  waiting = $state(0);
  #changing = $state(0);
  #failed = $state(false);
  /** One thing after another: the program may take up two at once in any order. */
  #queue: Promise<unknown> = Promise.resolve();

  constructor(backend: Backend) {
    this.backend = backend;
  }

  /** The screen that is shown: the scheme where the chosen one is not for the open site. */
  get screen(): ScreenName {
    const isThere = this.#screen === 'sites' || this.opened === null || screensOf(this.opened).some((screen) => screen.name === this.#screen);
    return isThere ? this.#screen : 'scheme';
  }

  /** A person goes elsewhere: what was only said there ends, what can be taken back keeps its time. */
  set screen(screen: ScreenName) {
    if (screen !== this.#screen && this.said?.undo === null) this.said = null;
    this.#screen = screen;
  }

  get readOnly(): string | null {
    // The firm's catalogues and its team can be changed whatever site is looked at.
    const ofStore = ['sites', 'catalogue', 'shared'].includes(this.screen);
    return ofStore ? this.store : (this.opened?.read_only ?? null);
  }

  get kept(): Kept {
    if (this.#changing > 0) return 'keeping';
    if (this.#failed) return 'failed';
    return this.readOnly === null ? 'kept' : 'read_only';
  }

  async start(): Promise<void> {
    await this.#next(async () => {
      const start = await this.backend.start();
      this.#show(start.settings);
      if (start.first.show === 'site') this.#open(start.first.opened);
      if (start.first.show === 'refused') this.refusal = asBackendError(start.first.refusal);
      if (start.first.show !== 'site') await this.#list();
    });
    await noteDrawn(FIRST_SHOWN, 0);
  }

  /** The list of sites, read anew. */
  showSites(): Promise<boolean> {
    this.screen = 'sites';
    return this.#next(() => this.#list());
  }

  tryAgain(): Promise<boolean> {
    return this.#next(async () => {
      this.#listed(await this.backend.reopenStore());
      if (this.opened !== null && this.screen !== 'sites') this.#open(await this.backend.openSite(this.opened.id));
    });
  }

  openSite(id: string): Promise<boolean> {
    const began = performance.now();
    return this.#next(async () => {
      this.#open(await this.backend.openSite(id));
      void noteDrawn(SITE_SHOWN, began);
    });
  }

  /** Looks at a survey file without taking it in. */
  lookAt(path: string): Promise<boolean> {
    return this.#next(async () => this.#open(await this.backend.openFile(path)));
  }

  lookAtAFile(): Promise<boolean> {
    return this.#next(async () => {
      const path = await this.backend.chooseFile();
      if (path !== null) this.#open(await this.backend.openFile(path));
    });
  }

  /** Where in the sites every word is found; null where the store cannot say. */
  async find(words: string): Promise<HitLine[] | null> {
    try {
      return (await this.backend.search(words)).hits;
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
      return null;
    }
  }

  newSite(label: string, address: string): Promise<boolean> {
    return this.#make(() => this.backend.newSite(label, address));
  }

  addDemoSite(): Promise<boolean> {
    return this.#make(() => this.backend.addDemoSite());
  }

  takeIn(path: string): Promise<boolean> {
    return this.#make(() => this.backend.importSite(path));
  }

  takeInAFile(): Promise<boolean> {
    return this.#next(async () => {
      const path = await this.backend.chooseFile();
      if (path !== null) await this.#made(await this.backend.importSite(path));
    });
  }

  /** Something done to the list, such as archiving. */
  inList(work: (backend: Backend) => Promise<SitesPage>): Promise<boolean> {
    return this.#change(async () => this.#listed(await work(this.backend)));
  }

  exportSite(id: string, label: string, form: ExportForm): Promise<boolean> {
    return this.#next(async () => {
      const path = await this.backend.choosePlace(label, form);
      if (path !== null) this.#listed(await this.backend.exportSite(id, path, form));
    });
  }

  /** Makes edits as one step. Answers whether they were made. */
  edit(edits: Edit[]): Promise<boolean> {
    return this.#changeSite(() => this.backend.edit(edits));
  }

  /** A change by a command of a page's own; it keeps its order with all others. */
  change(work: () => Promise<Opened>): Promise<boolean> {
    return this.#changeSite(work);
  }

  /** A change by a page that shows the answer itself; it keeps its order with all others. Answers whether it was made. */
  inTurn(work: () => Promise<void>): Promise<boolean> {
    return this.#change(work);
  }

  /** Says what was done; where it can be taken back, how. */
  say(words: string, undo: Message['undo'] = null): void {
    this.said = { words, undo };
  }

  /** Shows a site anew that has grown without an answer, where it is still on the screen as it is now. */
  refresh(id: string): Promise<boolean> {
    return this.#next(async () => {
      if (this.opened?.id === id && this.opened.way_on === 'none') this.#shown(await this.backend.openSite(id));
    });
  }

  /** Shows what came from others: the list, and the open site as it is now. What is being typed stays, and so does what was
   * said and refused before. */
  renew(): Promise<void> {
    const renewed = this.#queue.then(async () => {
      try {
        if (this.sites !== null) this.sites = { ...(await this.backend.listSites()), said: null };
        const { opened, screen } = this;
        if (opened !== null && screen !== 'sites' && opened.way_on === 'none') this.#shown(await this.backend.openSite(opened.id));
      } catch (thrown) {
        this.refusal = asBackendError(thrown);
      }
    });
    this.#queue = renewed;
    return renewed;
  }

  /** Says who works here and what this device is called; the open site stays open. */
  nameDevice(person: string, device: string): Promise<boolean> {
    return this.#change(async () => {
      this.#listed(await this.backend.nameDevice(person, device));
      const { opened } = this;
      if (opened !== null && opened.way_on === 'none') this.#shown(await this.backend.openSite(opened.id));
    });
  }

  undo(): Promise<boolean> {
    return this.#changeSite(() => this.backend.undo(), () => this.opened?.undo != null, false);
  }

  redo(): Promise<boolean> {
    return this.#changeSite(() => this.backend.redo(), () => this.opened?.redo != null);
  }

  settle(name: string, number: number): Promise<boolean> {
    return this.#changeSite(() => this.backend.settle(name, number));
  }

  /** Looks at the site as it was with a change. */
  viewAt(change: string): Promise<boolean> {
    return this.#next(async () => {
      this.opened = await this.backend.viewAt(change);
      this.#screen = 'scheme';
    });
  }

  /** Back from the past. */
  toNow(): Promise<boolean> {
    const id = this.opened?.id;
    if (id === undefined) return Promise.resolve(false);
    return this.#next(async () => {
      this.#shown(await this.backend.openSite(id));
    });
  }

  /** The changes for a stage that shows each answer itself: they go through this session, so that they keep their order
   * and the head of the window says whether they are saved. */
  readonly stage: Pick<Backend, 'edit' | 'undo' | 'redo'> = {
    edit: (edits) => this.#answered(() => this.backend.edit(edits)),
    undo: () => this.#answered(() => this.backend.undo(), false),
    redo: () => this.#answered(() => this.backend.redo()),
  };

  async set(settings: Partial<Settings>): Promise<void> {
    this.#show({ ...this.settings, ...settings });
    await this.#change(async () => this.#show(await this.backend.setSettings(this.settings)));
  }

  dismiss(): void {
    this.refusal = null;
    this.#failed = false;
  }

  #show(settings: Settings): void {
    this.settings = settings;
    showTheme(settings.theme);
    units.system = settings.units;
  }

  /** From the list of sites, one without rails is opened where they are recorded, any other where they are planned. */
  #open(opened: Opened): void {
    // What was done to another site is not to be taken back from here.
    if (this.opened?.id !== opened.id && this.said !== null && this.said.undo !== null) this.said = null;
    this.#shown(opened);
    if (this.screen === 'sites') this.#screen = opened.page.rails.length === 0 ? 'survey' : 'scheme';
  }

  #shown(opened: Opened): void {
    this.opened = opened;
    if (opened.way_on === 'none') this.store = opened.read_only;
  }

  async #list(): Promise<void> {
    this.#listed(await this.backend.listSites());
  }

  #listed(page: SitesPage): void {
    this.sites = page;
    this.store = page.read_only;
    if (page.said !== null) this.say(page.said);
  }

  #make(make: () => Promise<SitesPage>): Promise<boolean> {
    return this.#change(async () => this.#made(await make()));
  }

  /** A site that was just made is opened, unless there is something to be answered first. */
  async #made(page: SitesPage): Promise<void> {
    this.#listed(page);
    if (page.site !== null && page.unknown_devices.length === 0) this.#open(await this.backend.openSite(page.site));
  }

  /** Whether there is something to do is asked when its turn has come: what is on its way may have made it so. */
  #changeSite(work: () => Promise<Opened>, isThere = () => true, offersUndo = true): Promise<boolean> {
    return this.#change(async () => {
      if (!isThere()) return;
      const opened = await work();
      this.opened = opened;
      const { id, said, undo } = opened;
      const isLast = (): boolean => this.opened?.id === id && this.opened.undo === undo;
      const takeBack = (): Promise<boolean> => this.#changeSite(() => this.backend.undo(), isLast, false);
      if (said !== null) this.say(said, offersUndo && undo !== null ? takeBack : null);
    });
  }

  async #answered(work: () => Promise<Opened>, offersUndo = true): Promise<Opened> {
    let answer: Opened | null = null;
    await this.#changeSite(async () => (answer = await work()), () => true, offersUndo);
    if (answer === null) throw this.refusal ?? asBackendError('nothing was answered');
    return answer;
  }

  async #change(work: () => Promise<void>): Promise<boolean> {
    this.#changing += 1;
    const done = await this.#next(work);
    this.#changing -= 1;
    this.#failed = !done;
    return done;
  }

  #next(work: () => Promise<void>): Promise<boolean> {
    this.waiting += 1;
    const done = this.#queue.then(async () => {
      this.refusal = null;
      try {
        await work();
        return true;
      } catch (thrown) {
        this.refusal = asBackendError(thrown);
        return false;
      } finally {
        this.waiting -= 1;
      }
    });
    this.#queue = done;
    return done;
  }
}
