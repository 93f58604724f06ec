import { flushSync, mount, unmount } from 'svelte';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import schema from '../../../../fixtures/schemas/exchange-status.schema.json';
import type { WaitsFor } from '../generated/exchange';
import { BEN, CEM, FakeShared, OWN, placed, sign } from './fake';
import SharedStage from './SharedStage.svelte';
import { SharedSession } from './session.svelte';
import { bytes, digits, plain, stateOf, unshared, waits } from './words';

const FRAGMENT = '<img src=x onerror="alert(1)"><b>Ben</b>';
let program: FakeShared;
let session: SharedSession;
let shown: Record<string, unknown> | null = null;
let page: HTMLElement;
let said: string[];
let named: [string, string][];
let renewed: number;

beforeEach(() => {
  program = new FakeShared();
  [said, named, renewed] = [[], [], 0];
});
afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

async function settle(): Promise<void> {
  for (let turn = 0; turn < 6; turn += 1) await new Promise((done) => setTimeout(done, 0));
  flushSync();
}
async function start(store: string | null = null): Promise<void> {
  session = new SharedSession(
    {
      store,
      say: (words) => said.push(words),
      renew: () => Promise.resolve(void (renewed += 1)),
      nameDevice: (person, device) => {
        named.push([person, device]);
        program.status = { ...program.status, person, device_name: device };
        return Promise.resolve(true);
      },
    },
    program.backend(),
  );
  await session.listen();
  document.body.innerHTML = '<div id="app"></div>';
  page = document.getElementById('app')!;
  shown = mount(SharedStage, { target: page, props: { session } });
  await settle();
}
function at<Found extends HTMLElement>(selector: string): Found {
  const element = page.querySelector<Found>(selector);
  if (element === null) throw new Error(`${selector} is not there`);
  return element;
}
async function click(selector: string): Promise<void> {
  at(selector).click();
  await settle();
}
async function type(selector: string, text: string): Promise<void> {
  const field = at<HTMLInputElement>(selector);
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  await settle();
}
const place = (address: string, changes = {}) => ({ address, user: null, password: null, server: null, region: null, ca: null, proxy: null, bytes_per_second: null, only_on: [], ...changes });
const calls = (name: string) => program.calls.filter((call) => call[0] === name).map(([, ...given]) => given);
const button = (selector: string) => at<HTMLButtonElement>(selector);

describe('a device that shares with nobody', () => {
  it('says first whose it is, then begins a sealed team in a folder that was chosen', async () => {
    program.status.person = 'somebody';
    await start();
    expect(at<HTMLInputElement>('#who-person').value).toBe('');
    await click('#begin-address-choose');
    expect(at<HTMLInputElement>('#begin-address').value).toBe('/invented/team');
    expect(button('#start-team').disabled).toBe(true);
    await type('#who-person', 'Invented Anna');
    await click('#who-save');
    expect(named).toEqual([['Invented Anna', 'tablet']]);
    await click('#start-team');
    expect(calls('startTeam')).toEqual([[place('/invented/team'), true]]);
    expect(at('#share-state').textContent).toContain('Up to date as of 4 Mar 2030');
    expect(said).toEqual(['startTeam done']);
  });
  it('says what an open folder means before one is begun', async () => {
    await start();
    await type('#begin-address', ' /invented/open ');
    expect(page.textContent).toContain('Whoever can open the folder can read everything in it');
    await click('#seal-open');
    await click('#start-team');
    expect(calls('startTeam')).toEqual([[place('/invented/open'), false]]);
  });
  it('asks to be let in and says what happens next', async () => {
    await start();
    await type('#join-address', '/invented/team');
    expect(button('#join-team').disabled).toBe(true);
    await type('#join-code', 'newel-team-abcdef');
    await click('#join-team');
    expect(calls('joinTeam')).toEqual([[place('/invented/team'), 'newel-team-abcdef']]);
    expect(at('#share-state').dataset.shape).toBe('waits');
    expect(at('#own-digits').textContent).toBe('a1a1 a1a1 a1a1 a1a1');
    await click('#share-now');
    expect(calls('shareNow')).toHaveLength(1);
    // Once it was let in, the page says so by itself.
    program.member();
    program.tell({});
    await settle();
    expect(page.querySelector('#devices')).not.toBeNull();
  });
  it('names an object store with its key, and forgets the secret once it is kept', async () => {
    await start();
    await type('#begin-address', 's3://invented/team');
    await type('#begin-user', 'KEY');
    await type('#begin-password', ' secret ');
    await type('#begin-server', 'https://store.example');
    await click('#start-team');
    expect(calls('startTeam')).toEqual([[place('s3://invented/team', { user: 'KEY', password: ' secret ', server: 'https://store.example' }), true]]);
    expect(session.begin.password).toBe('');
  });
  it('waits for a place that does not answer only until somebody stops that', async () => {
    program.silent = true;
    await start();
    await type('#begin-address', 'https://drive.invented.example/team');
    await click('#start-team');
    expect(at('.doing').textContent).toContain('Beginning a team…');
    expect(button('#start-team').disabled).toBe(true);
    await click('#stop-looking');
    expect(calls('stopLooking')).toHaveLength(1);
    expect(page.querySelector('.doing, #shared-refusal')).toBeNull();
    expect(said).toEqual(['it was stopped; on this device everything is as it was']);
    expect(at<HTMLInputElement>('#begin-address').value).toBe('https://drive.invented.example/team');
    expect(button('#start-team').disabled).toBe(false);
  });
  it('keeps what was typed where it was refused, and says why', async () => {
    program.refuses = '/invented/full holds other things already';
    await start();
    await type('#begin-address', '/invented/full');
    await click('#start-team');
    expect(at('#shared-refusal').textContent).toContain('holds other things already');
    expect(at<HTMLInputElement>('#begin-address').value).toBe('/invented/full');
  });
});

describe('a device of a team', () => {
  it('tells every state with words and a shape of its own', () => {
    const long = (changes: Parameters<typeof sign>[0], size: number | null = null) => stateOf(sign({ state: 'member', last_round: '2030-03-04T10:20:30.000Z', ...changes }), size);
    const away = { failing_since: '2030-03-04T08:00:00.000Z', passing: true };
    const all = [long({}), long({ sharing: { took: 1, gave: 2, photo_bytes: 3_400_000 } }), long({ unshared_items: 3, unshared_photo_files: 12 }, 8_400_000), long(away), long({ ...away, passing: false })];
    expect(all.map(({ shape }) => shape)).toEqual(['done', 'moving', 'waits', 'away', 'stop']);
    expect(all[1]!.long).toBe('Sharing now: 1 item came, 2 given, 3.4 MB of photos carried');
    expect(all[2]!.long).toBe('Not yet shared: 3 changes and 12 photo files (8.4 MB)');
    expect(all[2]!.short).toBe('15 not yet shared');
    expect(all[3]!.short).toMatch(/^offline since 4 Mar 2030/);
    expect(long({ ...away, unshared_items: 1 }).long).toContain('1 change waits here and goes');
    expect(stateOf(sign({ state: 'removed' })).shape).toBe('stop');
    expect(stateOf(sign({ state: 'member', read_only: true })).long).toContain('another program has the sites open');
  });
  it('shows a round on its way and stops it', async () => {
    program.member();
    await start();
    program.tell({ sharing: { took: 4, gave: 0, photo_bytes: 0 } });
    await settle();
    expect(at('#share-state').textContent).toBe('Sharing now: 4 items came, 0 given');
    await click('#share-stop');
    expect(calls('stopSharing')).toHaveLength(1);
    expect(at('#share-state').textContent).toBe('Stopping…');
    program.tell({ sharing: null, stopped: true, unshared_items: 2 });
    await settle();
    expect(at('#share-state').textContent).toContain('Stopped by you');
  });
  it('shows anew what is on the screen when a round has brought something, and only then', async () => {
    program.member();
    await start();
    program.tell({ sharing: { took: 0, gave: 1, photo_bytes: 0 } });
    program.tell({ sharing: null });
    await settle();
    expect(renewed).toBe(0);
    program.tell({ arrivals: 1 });
    await settle();
    expect(renewed).toBe(1);
  });
  it('says since when the folder is away, why, and lets a person name where it is now', async () => {
    program.member({ failing_since: '2030-03-04T08:00:00.000Z', failure: '/invented/team is not there: connect the drive', passing: true });
    await start();
    expect(at('#share-state').dataset.shape).toBe('away');
    expect(at('#share-why').textContent).toContain('connect the drive');
    expect(at<HTMLInputElement>('#place-address').value).toBe('/invented/team');
    await type('#place-address', '/invented/elsewhere');
    await click('#change-place');
    expect(calls('changePlace')).toEqual([[place('/invented/elsewhere')]]);
    expect(at('.where').textContent).toContain('/invented/elsewhere');
  });
  it('changes how a drive is reached: what is not typed anew stays, what is secret among it', async () => {
    const drive = { user: 'anna', ca: '/invented/ca.pem', proxy: 'http://proxy.example:3128', bytes_per_second: 500_000, only_on: ['02:00:5e:00:00:fe'] };
    program.member();
    program.status.place = placed({ address: 'https://drive.example/team', ...drive, has_password: true, has_proxy_login: true, network: '02:00:5e:00:00:01' });
    await start();
    expect(at<HTMLInputElement>('#place-password').placeholder).toContain('kept');
    expect(at('#place-proxy-what').textContent).toContain('Its name and password are kept.');
    expect(at<HTMLInputElement>('#place-rate').value).toBe('500');
    // The place has moved to another path of the same server.
    await type('#place-address', 'https://drive.example/moved');
    await click('#change-place');
    expect(calls('changePlace')).toEqual([[place('https://drive.example/moved', drive)]]);
    expect(program.status.place?.has_password).toBe(true);
    // A new password, its blanks with it, which the page then holds no more.
    program.calls.length = 0;
    await type('#place-password', ' new one ');
    await click('#change-place');
    expect(calls('changePlace')).toEqual([[place('https://drive.example/moved', { ...drive, password: ' new one ' })]]);
    expect(at<HTMLInputElement>('#place-password').value).toBe('');
    // Everything else.
    program.calls.length = 0;
    await click('#place-ca-choose');
    await type('#place-proxy', '');
    await type('#place-rate', '1,5');
    await click('[data-network="02:00:5e:00:00:fe"]');
    await click('[data-network="02:00:5e:00:00:01"]');
    await click('#change-place');
    expect(calls('changePlace')).toEqual([[place('https://drive.example/moved', { user: 'anna', ca: '/invented/authority.pem', bytes_per_second: 1500, only_on: ['02:00:5e:00:00:01'] })]]);
  });
  it('keeps what is half typed of the place while rounds go on, and takes no limit that ends nowhere', async () => {
    program.member();
    await start();
    await type('#place-address', '/invented/else');
    for (const wrong of ['0', '0.5', 'fast', '-3', '1e9']) {
      await type('#place-rate', wrong);
      expect(button('#change-place').disabled, wrong).toBe(true);
      expect(at('#place-rate-what').textContent).toContain('give 1 or more');
    }
    program.tell({ unshared_items: 3 });
    await settle();
    expect(at<HTMLInputElement>('#place-address').value).toBe('/invented/else');
    expect(at<HTMLInputElement>('#place-rate').value).toBe('1e9');
    await type('#place-rate', '');
    expect(button('#change-place').disabled).toBe(false);
  });
  it('waits for a drive to which the team moves only until somebody stops that', async () => {
    program.member();
    program.silent = true;
    await start();
    await type('#place-address', 'https://drive.example/team');
    await click('#change-place');
    expect(at('.doing').textContent).toContain('Looking there…');
    await click('#stop-looking');
    expect(at<HTMLInputElement>('#place-address').value).toBe('https://drive.example/team');
    expect(at('.where').textContent).toContain('/invented/team');
  });
  it('lets a device in, but none without an invitation or with one that was used', async () => {
    program.member({ asking: 3 });
    program.status.asking = [
      { id: CEM, person: FRAGMENT, device: 'phone', invited_by: BEN, used_by: null },
      { id: 'd4'.repeat(32), person: null, device: null, invited_by: null, used_by: null },
      { id: 'e5'.repeat(32), person: 'Invented Dan', device: 'phone', invited_by: OWN, used_by: CEM },
    ];
    await start();
    expect(at(`[data-asks="${CEM}"] b`).textContent).toBe(`${FRAGMENT} on phone`);
    expect(at(`[data-asks="${CEM}"]`).textContent).toContain('asks to be let in, with an invitation of Invented Ben on laptop.');
    expect(at(`[data-asks="${'e5'.repeat(32)}"]`).textContent).toContain('asks to be let in, with an invitation of yours.');
    expect(page.querySelectorAll('[data-approve]')).toHaveLength(1);
    expect(page.textContent).toContain('Do not let it in');
    expect(page.textContent).toContain(`used by device ${digits(CEM)} before`);
    await click(`[data-approve="${CEM}"]`);
    expect(calls('approveDevice')).toEqual([[CEM]]);
    expect(page.querySelector(`[data-asks="${CEM}"]`)).toBeNull();
  });
  it('removes a device only after saying what that means, with the way back in the hand', async () => {
    program.member();
    await start();
    expect(page.querySelector(`#remove-${OWN}`)).toBeNull();
    await click(`#remove-${BEN}`);
    expect(document.activeElement?.id).toBe('keep-device');
    expect(page.textContent).toContain('This cannot be taken back.');
    await click('#keep-device');
    expect([calls('removeDevice').length, document.activeElement?.id]).toEqual([0, `remove-${BEN}`]);
    await click(`#remove-${BEN}`);
    await click(`[data-remove="${BEN}"]`);
    expect(calls('removeDevice')).toEqual([[BEN]]);
    expect(page.querySelector(`[data-member="${BEN}"]`)).toBeNull();
  });
  it('shows the code of an invitation once', async () => {
    program.member();
    await start();
    await click('#invite');
    expect(at<HTMLTextAreaElement>('#invite-code').value).toBe('newel-team-abcdef');
    expect(page.textContent).toContain('Tell it by a way that nobody else reads');
    await click('#invite-done');
    expect(page.querySelector('#invite-code')).toBeNull();
    expect(session.invitation).toBeNull();
  });
  it('names what waits and what was set aside, as typed', async () => {
    program.member();
    program.sites = [{ id: 'quay', label: FRAGMENT, photos: 2, kept: false }];
    program.status.waiting = [{ waits_for: 'unknown_device', device: CEM, person: 'Eve\u202Ecod', device_name: 'box\nline', changes: 2, sites: [{ id: 'quay', changes: 2 }] }];
    program.last = { schema_version: 1, state: 'member', stopped: false, took: 0, gave: 0, photo_files_took: 0, photo_files_gave: 0, photo_bytes: 0, set_aside: [{ path: 'data/<b>x</b>', why: 'it is cut short' }], strangers: [], asking: 0, waiting: [], mended: 1, lacking: 0, clock: null };
    await start();
    expect(at('#waiting').textContent).toContain(`2 changes (2 in ${FRAGMENT}) wait for Eve\ufffdcod on box\ufffdline`);
    expect(at('#aside').textContent).toContain('data/<b>x</b>: it is cut short');
    expect(page.querySelector('#aside b, #waiting b, img')).toBeNull();
    await click(`[data-accept="${CEM}"]`);
    expect(calls('acceptDevice')).toEqual([[CEM]]);
  });
  it('keeps originals for one site or for every one', async () => {
    program.member();
    program.sites = [{ id: 'quay', label: 'Quay steps', photos: 1, kept: false }];
    await start();
    await click('[data-keep="quay"]');
    await click('#keep-every');
    expect(calls('keepSite')).toEqual([['quay', true], [null, true]]);
    expect(at<HTMLInputElement>('[data-keep="quay"]').disabled).toBe(true);
  });
  it('ends sharing, and shows the way in again', async () => {
    program.member();
    await start();
    await click('#leave-team');
    expect(calls('leaveTeam')).toHaveLength(1);
    expect(page.querySelector('#start-team')).not.toBeNull();
  });
  it('changes nothing where the store is only read', async () => {
    program.member({ read_only: true });
    await start('Another Newel has these sites open.');
    expect(page.querySelector('#share-now')).toBeNull();
    expect([...page.querySelectorAll<HTMLButtonElement>('button')].filter((each) => !each.disabled)).toEqual([]);
  });
});

describe('a device whose page cannot be read', () => {
  it('says why, tries again, and ends sharing all the same', async () => {
    program.member();
    program.unread = 'what this device remembers of its team cannot be read; end sharing on this device, then join again';
    await start();
    expect(at('#unread-why').textContent).toContain('end sharing on this device');
    expect(page.querySelector('#shared-refusal')).toBeNull();
    await click('#read-again');
    expect(page.querySelector('#devices')).toBeNull();
    await click('#leave-team');
    expect(calls('leaveTeam')).toHaveLength(1);
    expect(page.querySelector('#unread-why')).toBeNull();
    expect(at('#begin-title').textContent).toBe('Begin a team');
  });
  it('shows the page once it can be read', async () => {
    program.member();
    program.unread = 'the database is busy';
    await start();
    program.unread = null;
    await click('#read-again');
    expect(at('#devices').textContent).toContain('Invented Ben');
  });
});

describe('a device that was removed', () => {
  it('says what stays and how to come back', async () => {
    program.sign = sign({ state: 'removed' });
    program.status.state = 'removed';
    await start();
    expect(at('#share-state').textContent).toBe('This device was removed from the team');
    expect(page.textContent).toContain('ask one of the team for a new invitation');
    expect(page.querySelector('#join-team')).not.toBeNull();
  });
});

describe('words', () => {
  it('puts bytes, digits and things as people read them', () => {
    expect([bytes(0), bytes(999), bytes(1000), bytes(8_430_000), bytes(1_500_000_000)]).toEqual(['0 B', '999 B', '1.0 kB', '8.4 MB', '1.5 GB']);
    expect(digits('0123456789abcdef0123')).toBe('0123 4567 89ab cdef');
    expect(unshared(0, 0)).toBe('');
    expect(unshared(1, 1)).toBe('1 change and 1 photo file');
    expect(plain('a\u0000b\u001bc\u2066d')).toBe('a\ufffdb\ufffdc\ufffdd');
  });
  it('has a sentence of its own for every reason for which a change waits', () => {
    // As the program can tell them: from the schema that is written by its own types.
    const reasons = schema.$defs.WaitsFor.oneOf.map((reason) => reason.const as WaitsFor);
    const line = (waits_for: WaitsFor) => ({ waits_for, device: null, person: null, device_name: null, changes: 1, sites: [{ id: 'team', changes: 1 }] });
    const told = reasons.map((reason) => waits(line(reason), (id) => id).replace('1 change (1 in the firm’s catalogues and settings) ', ''));
    expect(Object.fromEntries(reasons.map((reason, n) => [reason, told[n]]))).toEqual({
      unknown_device: 'waits for somebody whose name this device cannot read, a device that nobody let in.',
      removed_device: 'does not count: it comes from somebody whose name this device cannot read, written after that device was removed.',
      missing_change: 'waits for others on which it builds and which are not here yet.',
      damaged: 'is damaged and does not count.',
    } satisfies Record<WaitsFor, string>);
  });
});
