/** What the page of the shared folder holds: how things stand, an invitation that is being told, and what is half typed. It
 * outlives the page: the head of the window says how it stands behind every screen. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { ExchangeInvitation, ExchangePlace, PlaceForm } from '../generated/exchange';
import type { SharedPage, SharedSign } from '../generated/types';
import type { SharedBackend } from './backend';

/** The window around the page. */
export interface SharedHost {
  /** Why nothing that is kept can be changed; null where it can. */
  readonly store: string | null;
  /** Says what was done. */
  say: (words: string) => void;
  /** Shows what came from others. */
  renew: () => Promise<void>;
  /** Says who works here and what this device is called; answers whether that was kept. */
  nameDevice: (person: string, device: string) => Promise<boolean>;
}

/** What is typed to begin a team, to join one, or to say where its folder is. */
export class Typed {
  address = $state('');
  code = $state('');
  sealed = $state(true);
  /** What a drive on the web or an object store asks for; empty for a folder. */
  user = $state('');
  password = $state('');
  server = $state('');
  region = $state('');
  /** A file of certificates, and a proxy. */
  ca = $state('');
  proxy = $state('');

  /** A place as it is kept, to be typed over: what is secret about it stays, unless it is typed anew. */
  static of({ address, user, server, region, ca, proxy }: ExchangePlace): Typed {
    const typed = new Typed();
    [typed.address, typed.user, typed.server] = [address, user ?? '', server ?? ''];
    [typed.region, typed.ca, typed.proxy] = [region ?? '', ca ?? '', proxy ?? ''];
    return typed;
  }
}

/** A place as it is told to the program: what was left empty is not said. */
export function placeOf({ address, user, password, server, region, ca, proxy }: Typed): PlaceForm {
  const said = (text: string): string | null => (text.trim() === '' ? null : text.trim());
  // Blanks may belong to a password.
  const secret = password === '' ? null : password;
  return { address: address.trim(), user: said(user), password: secret, server: said(server), region: said(region), ca: said(ca), proxy: said(proxy), bytes_per_second: null, only_on: [] };
}

export class SharedSession {
  readonly backend: SharedBackend;
  readonly #host: SharedHost;
  page = $state.raw<SharedPage | null>(null);
  sign = $state.raw<SharedSign | null>(null);
  /** It is told once: whoever leaves the page has seen it. */
  invitation = $state.raw<ExchangeInvitation | null>(null);
  refusal = $state.raw<BackendError | null>(null);
  /** Why there is no page to show; null where there is one. */
  unread = $state.raw<BackendError | null>(null);
  /** What is being done with the team, in words; null while nothing is. */
  doing = $state<string | null>(null);
  /** It waits for a place, which may be long in answering, or never answer: that can be stopped. */
  looking = $state(false);
  begin = $state.raw(new Typed());
  join = $state.raw(new Typed());
  #asked = 0;
  #stopped = false;

  constructor(host: SharedHost, backend: SharedBackend) {
    this.#host = host;
    this.backend = backend;
  }

  get locked(): boolean {
    return this.#host.store !== null || this.doing !== null;
  }

  /** Hears how it stands from now on; answers with what ends that. */
  async listen(): Promise<() => void> {
    const end = await this.backend.onSign((sign) => this.#hear(sign));
    await this.#try(async () => this.#hear(await this.backend.sharedSign()));
    return end;
  }

  /** The page, read anew; an answer that was overtaken by the next is dropped. */
  async load(): Promise<void> {
    const asked = ++this.#asked;
    try {
      const page = await this.backend.shared();
      if (asked === this.#asked) this.#show(page);
    } catch (thrown) {
      const why = asBackendError(thrown);
      if (this.page === null) this.unread = why;
      else this.refusal = why;
    }
  }

  async name(person: string, device: string): Promise<boolean> {
    const named = await this.#host.nameDevice(person, device);
    await this.load();
    return named;
  }

  startTeam(): Promise<boolean> {
    const typed = this.begin;
    return this.#enter('Beginning a team…', typed, (place) => this.backend.startTeam(place, typed.sealed));
  }

  joinTeam(): Promise<boolean> {
    const typed = this.join;
    return this.#enter('Asking to be let in…', typed, (place) => this.backend.joinTeam(place, typed.code.trim()));
  }

  /** Says where the team's files are now, and how that is reached. */
  changePlace(place: PlaceForm): Promise<boolean> {
    return this.#look('Looking there…', () => this.backend.changePlace(place));
  }

  /** Waits no longer for the place that is being looked at. */
  async stopLooking(): Promise<void> {
    this.#stopped = true;
    await this.#try(() => this.backend.stopLooking());
  }

  invite(): Promise<boolean> {
    return this.#do('Making an invitation…', async () => {
      this.invitation = await this.backend.invite();
      await this.load();
    });
  }

  approve(device: string): Promise<boolean> {
    return this.#team('Letting it in…', () => this.backend.approveDevice(device));
  }

  remove(device: string): Promise<boolean> {
    return this.#team('Taking what it gave, then removing it…', () => this.backend.removeDevice(device));
  }

  accept(device: string): Promise<boolean> {
    return this.#team('Counting it…', () => this.backend.acceptDevice(device));
  }

  keep(site: string | null, kept: boolean): Promise<boolean> {
    return this.#team('Saving…', () => this.backend.keepSite(site, kept));
  }

  leave(): Promise<boolean> {
    return this.#team('Ending it…', () => this.backend.leaveTeam());
  }

  shareNow(): Promise<boolean> {
    return this.#try(() => this.backend.shareNow());
  }

  stop(): Promise<boolean> {
    return this.#try(() => this.backend.stopSharing());
  }

  /** A folder that the person chose; null where none was. */
  async chooseFolder(title: string): Promise<string | null> {
    let folder: string | null = null;
    await this.#try(async () => void (folder = await this.backend.chooseFolder(title)));
    return folder;
  }

  /** A file that the person chose; null where none was. */
  async chooseFile(title: string): Promise<string | null> {
    let file: string | null = null;
    await this.#try(async () => void (file = await this.backend.chooseFile(title)));
    return file;
  }

  dismiss(): void {
    this.refusal = null;
  }

  #hear(sign: SharedSign): void {
    const before = this.sign;
    this.#note(sign);
    // How far a round has come stands in the sign; the rest of the page may have changed with anything else.
    const rest = (of: SharedSign | null) => JSON.stringify({ ...of, sharing: of?.sharing != null });
    if (this.page !== null && rest(before) !== rest(sign)) void this.load();
  }

  #note(sign: SharedSign): void {
    const before = this.sign;
    this.sign = sign;
    if (before !== null && before.arrivals !== sign.arrivals) void this.#host.renew();
  }

  #show(page: SharedPage): void {
    [this.page, this.unread] = [page, null];
    this.#note(page.sign);
    if (page.said !== null) this.#host.say(page.said);
  }

  /** What was typed is forgotten once it is kept: a password above all. */
  async #enter(doing: string, typed: Typed, work: (place: PlaceForm) => Promise<SharedPage>): Promise<boolean> {
    const done = await this.#look(doing, () => work(placeOf(typed)));
    if (done) [this.begin, this.join] = [new Typed(), new Typed()];
    return done;
  }

  async #look(doing: string, work: () => Promise<SharedPage>): Promise<boolean> {
    if (this.doing !== null) return false;
    [this.looking, this.#stopped] = [true, false];
    const done = await this.#team(doing, work);
    this.looking = false;
    if (!done && this.#stopped && this.refusal !== null) {
      // Whoever stops something has not been refused anything.
      this.#host.say(this.refusal.message);
      this.refusal = null;
    }
    return done;
  }

  #team(doing: string, work: () => Promise<SharedPage>): Promise<boolean> {
    return this.#do(doing, async () => {
      const page = await work();
      // What was asked before says how it stood before.
      this.#asked += 1;
      this.#show(page);
    });
  }

  async #do(doing: string, work: () => Promise<void>): Promise<boolean> {
    if (this.doing !== null) return false;
    this.refusal = null;
    this.doing = doing;
    try {
      return await this.#try(work);
    } finally {
      this.doing = null;
    }
  }

  async #try(work: () => Promise<void>): Promise<boolean> {
    try {
      await work();
      return true;
    } catch (thrown) {
      this.refusal = asBackendError(thrown);
      return false;
    }
  }
}
