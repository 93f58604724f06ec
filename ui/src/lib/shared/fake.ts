/** A program to test the page of the shared folder with: a team in memory, of which a test says how it stands. */
import { BackendError } from '../backend/backend';
import type { ExchangePlace, ExchangeRound, ExchangeStatus, PlaceForm } from '../generated/exchange';
import type { SharedPage, SharedSign, SharedSite } from '../generated/types';
import type { SharedBackend } from './backend';

export const OWN = 'a1'.repeat(32);
export const BEN = 'b2'.repeat(32);
export const CEM = 'c3'.repeat(32);

export function sign(changes: Partial<SharedSign> = {}): SharedSign {
  return { state: 'alone', sharing: null, unshared_items: 0, unshared_photo_files: 0, last_round: null, failing_since: null, failure: null, passing: false, stopped: false, asking: 0, read_only: false, arrivals: 0, ...changes };
}

/** A place as the program tells it. */
export function placed({ password: _, ...changes }: Partial<ExchangePlace> & { password?: unknown; address: string }): ExchangePlace {
  return { schema_version: 1, user: null, has_password: false, server: null, region: null, ca: null, proxy: null, has_proxy_login: false, bytes_per_second: null, only_on: [], network: null, held_back: null, held_back_in_window: null, ...changes };
}

export class FakeShared {
  readonly calls: [string, ...unknown[]][] = [];
  sign = sign();
  status: ExchangeStatus = {
    schema_version: 1,
    state: 'alone',
    device: OWN,
    person: 'Invented Anna',
    device_name: 'tablet',
    keys: 'file',
    address: null,
    place: null,
    team: null,
    sealed: null,
    members: [],
    removed: [],
    asking: [],
    waiting: [],
    kept_aside: [],
    unshared_items: 0,
    unshared_photo_files: 0,
    unshared_photo_bytes: 0,
    kept_sites: [],
    keeps_every_site: false,
    last_round: null,
    failing_since: null,
    failure: null,
    failure_in_window: null,
    clock: null,
  };
  last: ExchangeRound | null = null;
  sites: SharedSite[] = [];
  refuses: string | null = null;
  /** Why the page cannot be read. */
  unread: string | null = null;
  folder: string | null = '/invented/team';
  file: string | null = '/invented/authority.pem';
  /** No place answers until somebody stops waiting for it. */
  silent = false;
  #letGo: (() => void) | null = null;
  #tell: ((sign: SharedSign) => void) | null = null;

  /** In a team with Ben, up to date. */
  member(changes: Partial<SharedSign> = {}): void {
    this.sign = sign({ state: 'member', last_round: '2030-03-04T10:20:30.000Z', ...changes });
    this.status = {
      ...this.status,
      state: 'member',
      address: '/invented/team',
      place: placed({ address: '/invented/team' }),
      sealed: true,
      members: [
        { id: BEN, person: 'Invented Ben', device: 'laptop', this: false, last_shared: '2030-03-04T09:00:00.000Z' },
        { id: OWN, person: 'Invented Anna', device: 'tablet', this: true, last_shared: '2030-03-04T10:20:30.000Z' },
      ],
    };
  }

  /** Tells the page how it stands now, as a round does. */
  tell(changes: Partial<SharedSign>): void {
    this.sign = { ...this.sign, ...changes };
    this.#tell?.(this.sign);
  }

  backend(): SharedBackend {
    const page = (name: string, ...given: unknown[]) => this.#answer(name, given, () => this.#page(`${name} done`));
    return {
      shared: () => {
        if (this.unread !== null) return Promise.reject(new BackendError({ message: this.unread, faults: [] }));
        return this.#answer('shared', [], () => this.#page(null));
      },
      sharedSign: () => this.#answer('sharedSign', [], () => this.sign),
      startTeam: (place, sealed) => {
        if (this.silent) return this.#silence('startTeam', place, sealed);
        if (this.refuses === null) this.member();
        return page('startTeam', place, sealed);
      },
      joinTeam: (place, code) => {
        if (this.refuses === null) [this.sign, this.status] = [sign({ state: 'waiting' }), { ...this.status, state: 'waiting', address: place.address }];
        return page('joinTeam', place, code);
      },
      changePlace: (place) => {
        if (this.silent) return this.#silence('changePlace', place);
        if (this.refuses === null) this.#moveTo(place);
        return page('changePlace', place);
      },
      stopLooking: () => {
        this.#letGo?.();
        return this.#answer('stopLooking', [], () => undefined);
      },
      invite: () => this.#answer('invite', [], () => ({ schema_version: 1, code: 'newel-team-abcdef', address: '/invented/team' })),
      approveDevice: (device) => {
        this.status = { ...this.status, asking: this.status.asking.filter((line) => line.id !== device) };
        return page('approveDevice', device);
      },
      removeDevice: (device) => {
        this.status = { ...this.status, members: this.status.members.filter((line) => line.id !== device) };
        return page('removeDevice', device);
      },
      acceptDevice: (device) => page('acceptDevice', device),
      keepSite: (id, kept) => {
        this.sites = this.sites.map((site) => (id === null || site.id === id ? { ...site, kept } : site));
        if (id === null) this.status = { ...this.status, keeps_every_site: kept };
        return page('keepSite', id, kept);
      },
      leaveTeam: () => {
        this.unread = null;
        [this.sign, this.status] = [sign(), { ...this.status, state: 'alone', address: null, members: [] }];
        return page('leaveTeam');
      },
      shareNow: () => this.#answer('shareNow', [], () => undefined),
      stopSharing: () => this.#answer('stopSharing', [], () => undefined),
      onSign: (tell) => {
        this.#tell = tell;
        return Promise.resolve(() => (this.#tell = null));
      },
      chooseFolder: () => Promise.resolve(this.folder),
      chooseFile: () => Promise.resolve(this.file),
    };
  }

  #silence(name: string, ...given: unknown[]): Promise<never> {
    this.calls.push([name, ...given]);
    return new Promise((_, refuse) => (this.#letGo = () => refuse(new BackendError({ message: 'it was stopped; on this device everything is as it was', faults: [] }))));
  }

  #moveTo(form: PlaceForm): void {
    const before = this.status.place;
    const password = form.password === null ? (before?.has_password ?? false) : form.password !== '';
    this.status = { ...this.status, address: form.address, place: placed({ ...before, ...form, has_password: password, has_proxy_login: before?.has_proxy_login === true && form.proxy === before.proxy }) };
  }

  #page(said: string | null): SharedPage {
    return { said, status: this.status, named: this.status.person !== 'somebody', sign: this.sign, last: this.last, sites: this.sites, read_only: null };
  }

  async #answer<T>(name: string, given: unknown[], make: () => T): Promise<T> {
    this.calls.push([name, ...given]);
    if (this.refuses !== null && !['shared', 'sharedSign'].includes(name)) throw new BackendError({ message: this.refuses, faults: [] });
    return make();
  }
}
