/** What the page of the shared folder holds: how things stand, an invitation that is being told, and what is half typed. It
 * outlives the page: the head of the window says how it stands behind every screen. */
import { asBackendError, type BackendError } from '../backend/backend';
import type { ExchangeInvitation, PlaceForm } from '../generated/exchange';
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
export interface Typed {
  address: string;
  code: string;
  sealed: boolean;
  /** What a drive on the web or an object store asks for; empty for a folder. */
  user: string;
  password: string;
  server: string;
  region: string;
}

const nothing = (): Typed => ({ address: '', code: '', sealed: true, user: '', password: '', server: '', region: '' });

/** A place as it is told to the program: what was left empty is not said. */
function placeOf(typed: Partial<Typed> & { address: string }): PlaceForm {
  const said = (text: string | undefined): string | null => (text === undefined || text.trim() === '' ? null : text.trim());
  const { address, user, password, server, region } = typed;
  // Blanks may belong to a password.
  const secret = password === undefined || password === '' ? null : password;
  return { address: address.trim(), user: said(user), password: secret, server: said(server), region: said(region), ca: null, proxy: null, bytes_per_second: null, only_on: [] };
}

export class SharedSession {
  readonly backend: SharedBackend;
  readonly #host: SharedHost;
  page = $state.raw<SharedPage | null>(null);
  sign = $state.raw<SharedSign | null>(null);
  /** It is told once: whoever leaves the page has seen it. */
  invitation = $state.raw<ExchangeInvitation | null>(null);
  refusal = $state.raw<BackendError | null>(null);
  /** What is being done with the team, in words; null while nothing is. */
  doing = $state<string | null>(null);
  readonly begin = $state<Typed>(nothing());
  readonly join = $state<Typed>(nothing());
  #asked = 0;

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
    await this.#try(async () => {
      const page = await this.backend.shared();
      if (asked === this.#asked) this.#show(page);
    });
  }

  async name(person: string, device: string): Promise<boolean> {
    const named = await this.#host.nameDevice(person, device);
    await this.load();
    return named;
  }

  startTeam(): Promise<boolean> {
    return this.#enter(this.begin, 'Beginning a team…', (place) => this.backend.startTeam(place, this.begin.sealed));
  }

  joinTeam(): Promise<boolean> {
    return this.#enter(this.join, 'Asking to be let in…', (place) => this.backend.joinTeam(place, this.join.code.trim()));
  }

  /** Says where the team's folder is now. */
  moveTeam(address: string): Promise<boolean> {
    return this.#team('Looking there…', () => this.backend.joinTeam(placeOf({ address }), null));
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
    this.page = page;
    this.#note(page.sign);
    if (page.said !== null) this.#host.say(page.said);
  }

  /** What was typed is forgotten once it is kept: a password above all. */
  async #enter(typed: Typed, doing: string, work: (place: PlaceForm) => Promise<SharedPage>): Promise<boolean> {
    const done = await this.#team(doing, () => work(placeOf(typed)));
    if (done) Object.assign(typed, nothing());
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
