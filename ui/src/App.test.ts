import { flushSync, mount, unmount } from 'svelte';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { surveyOf } from '../preview/mounted';
import { photosFake } from '../preview/photosFake';
import App from './App.svelte';
import { FakeCatalogues } from './lib/catalogue/fake';
import { FakeProgram, line, opened } from './lib/session/fake';
import { FakeShared } from './lib/shared/fake';
import { screensOf } from './lib/shell/screens';

const FRAGMENT = '<img src=x onerror="alert(1)"><b>Stair</b>';
let program: FakeProgram;
let catalogues: FakeCatalogues;
let shared: FakeShared;
let shown: Record<string, unknown> | null = null;
let page: HTMLElement;

beforeEach(() => {
  program = new FakeProgram();
  catalogues = new FakeCatalogues();
  shared = new FakeShared();
});
afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

async function settle(ms = 0): Promise<void> {
  for (let turn = 0; turn < 4; turn += 1) await new Promise((done) => setTimeout(done, ms / 4));
  flushSync();
}
async function start(): Promise<void> {
  document.body.innerHTML = '<div id="app"></div>';
  page = document.getElementById('app')!;
  shown = mount(App, { target: page, props: { backend: program.backend(), photos: photosFake(surveyOf()).backend, catalogue: catalogues.backend(), shared: shared.backend() } });
  await settle();
}
async function click(selector: string): Promise<void> {
  const found = page.querySelector<HTMLElement>(selector);
  if (!found) throw new Error(`${selector} is not there`);
  found.click();
  await settle();
}
async function type(selector: string, text: string): Promise<void> {
  const field = page.querySelector<HTMLInputElement>(selector)!;
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  await settle();
}
async function press(key: string, with_: Partial<KeyboardEventInit> = {}): Promise<void> {
  (document.activeElement ?? document.body).dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, ...with_ }));
  await settle();
}
const asked = (name: string) => program.calls.filter((call) => call[0] === name);
const kept = () => page.querySelector<HTMLElement>('#kept')?.dataset.kept;

describe('the first run', () => {
  it('offers the demo site and opens it once it is stored', async () => {
    await start();
    expect(page.querySelector('#first-run')).not.toBeNull();
    await click('#add-demo');
    expect(asked('openSite')).toEqual([['openSite', 'demo']]);
    expect(page.querySelector('#screen-scheme')?.getAttribute('aria-current')).toBe('page');
  });
  it('makes a site of two fields', async () => {
    await start();
    expect(page.querySelector<HTMLButtonElement>('#new-make')!.disabled).toBe(true);
    await type('#new-label', 'Quay steps');
    await type('#new-address', 'Invented Quay 3');
    await click('#new-make');
    expect(asked('newSite')).toEqual([['newSite', 'Quay steps', 'Invented Quay 3']]);
    expect(asked('openSite')).toEqual([['openSite', 'new']]);
    // It has no rails, so the first is asked for, and the keyboard is there already.
    expect(page.querySelector('#screen-survey')?.getAttribute('aria-current')).toBe('page');
    expect(page.querySelector('form[aria-label="New rail"]')?.contains(document.activeElement)).toBe(true);
    await press('Escape');
    expect(page.querySelector('form[aria-label="New rail"]')).toBeNull();
    expect(page.textContent).toContain('No rail is recorded yet');
  });
});

describe('the list of sites', () => {
  it('shows every text as typed', async () => {
    program.lines = [line('a', { label: FRAGMENT, address: FRAGMENT })];
    await start();
    expect(page.querySelector('[data-site] b')?.textContent).toBe(FRAGMENT);
    expect(page.querySelector('img')).toBeNull();
  });
  it('filters by stage, by words and by shelf', async () => {
    program.lines = [line('a', { stage: 'price', label: 'Quay' }), line('b', { label: 'Mill' }), line('c', { archived: true })];
    await start();
    const ids = () => [...page.querySelectorAll<HTMLElement>('[data-site]')].map((row) => row.dataset.site);
    expect(ids()).toEqual(['a', 'b']);
    await click('[data-stage="price"]');
    expect(ids()).toEqual(['a']);
    await click('[data-stage="price"]');
    await type('#find', 'Mill');
    await settle(200);
    expect(ids()).toEqual(['b']);
    await type('#find', 'nowhere');
    await settle(200);
    expect(page.querySelector('#none-found')?.textContent).toContain('nowhere');
    await type('#find', '');
    await click('#shelf');
    expect(ids()).toEqual(['c']);
  });
  it('goes from site to site by keys', async () => {
    program.lines = [line('a'), line('b')];
    await start();
    await press('ArrowDown');
    await press('ArrowDown');
    expect((document.activeElement as HTMLElement).dataset.site).toBe('b');
    await press('/');
    expect(document.activeElement?.id).toBe('find');
  });
  it('lets a person say who works here', async () => {
    program.lines = [line('a')];
    await start();
    await click('#person');
    await type('#person-field', 'Invented Cleo');
    await press('Enter');
    expect(asked('nameDevice')).toEqual([['nameDevice', 'Invented Cleo', 'tablet']]);
  });
  it('archives a site, and says so', async () => {
    program.lines = [line('a'), line('b')];
    await start();
    await click('[data-more="a"]');
    await click('[data-archive]');
    expect([...page.querySelectorAll<HTMLElement>('[data-site]')].map((row) => row.dataset.site)).toEqual(['b']);
    expect(page.querySelector('#said')?.textContent).toContain('put into the archive');
  });
  it('asks about a device that is not known before it counts what came from there', async () => {
    program.lines = [line('a')];
    const unknown = { id: 'f00d', device: 'phone', person: 'Invented Ben', known: false, this: false };
    program.page = ((real) => (changes) => real.call(program, { ...changes, unknown_devices: [unknown] }))(program.page);
    await start();
    expect(page.textContent).toContain('Ask Invented Ben whether the device is theirs');
    await click('[data-know="f00d"]');
    expect(asked('knowDevice')).toEqual([['knowDevice', 'f00d']]);
  });
});

describe('whether it is saved', () => {
  it('is said only after the store has answered', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    expect(kept()).toBe('kept');
    let answer: () => void = () => undefined;
    program.held = new Promise((done) => (answer = done));
    await click('#site-name');
    await type('#site-name-field', 'Mill');
    await press('Enter');
    expect(kept()).toBe('keeping');
    answer();
    await settle();
    expect(kept()).toBe('kept');
    expect(asked('edit')).toEqual([['edit', [{ kind: 'set_site', change: { kind: 'label', value: 'Mill' } }]]]);
  });
  it('is denied where the store refused, with the reason', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    program.refuses = 'the disk is full; make room and do it again';
    await click('#site-name');
    await type('#site-name-field', 'Mill');
    await press('Enter');
    expect(kept()).toBe('failed');
    expect(page.querySelector('#refusal')?.textContent).toContain('make room and do it again');
  });
  it('is not claimed where nothing can be changed, and the way on is offered', async () => {
    program.lines = [line('a')];
    program.readOnly = 'Another Newel has these sites open.';
    await start();
    expect(kept()).toBe('read_only');
    expect(page.querySelector<HTMLButtonElement>('#new-make')!.disabled).toBe(true);
    await click('#read-only-act');
    expect(page.querySelector('#read-only')).toBeNull();
    expect(kept()).toBe('kept');
  });
});

describe('where nothing can be changed', () => {
  it('the catalogue says so from the start, and can be changed after another try', async () => {
    const READ = 'Another Newel has these sites open.';
    program.readOnly = catalogues.readOnly = READ;
    program.starts = { show: 'site', opened: opened('a', { read_only: READ }) };
    await start();
    await click('#screen-catalogue');
    expect(page.querySelector('#read-only')?.textContent).toContain(READ);
    expect(page.querySelector<HTMLButtonElement>('#new-part')!.disabled).toBe(true);
    catalogues.readOnly = null;
    await click('#read-only-act');
    expect(page.querySelector('#read-only')).toBeNull();
    expect(page.querySelector<HTMLButtonElement>('#new-part')!.disabled).toBe(false);
  });
});

describe('what was done', () => {
  const undo = () => page.querySelector<HTMLButtonElement>('#said button');
  async function rename(): Promise<void> {
    await click('#site-name');
    await type('#site-name-field', 'Mill');
    await press('Enter');
  }

  it('is taken back by its own message, whatever screen is shown', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    await rename();
    await click('#screen-catalogue');
    expect(page.querySelector('#said')?.textContent).toContain('edit done');
    undo()!.click();
    await settle();
    expect(asked('undo').length).toBe(1);
    expect(catalogues.calls.map(([name]) => name)).not.toContain('undoCatalogue');
    // What took something back is not taken back by its message.
    expect(page.querySelector('#said')?.textContent).toContain('undo done');
    expect(undo()).toBeNull();
  });
  it('to one site is not offered to be taken back from another', async () => {
    program.lines = [line('a'), line('b')];
    await start();
    await click('[data-site="a"]');
    await rename();
    expect(undo()).not.toBeNull();
    await click('#to-sites');
    await click('[data-site="b"]');
    expect(page.querySelector('#said')).toBeNull();
  });
  it('is not offered to be taken back where a file was written', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    await rename();
    catalogues.undo = 'something else';
    await click('#screen-catalogue');
    await click('#export');
    expect(page.querySelector('#said')?.textContent).toContain('written to');
    expect(undo()).toBeNull();
    // It is told where it was done, not over what is looked at next.
    await click('#screen-scheme');
    expect(page.querySelector('#said')).toBeNull();
  });
});

describe('keys', () => {
  it('take back and make again, but not while a text is typed', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    await click('#site-name');
    await type('#site-name-field', 'Mill');
    await press('z', { ctrlKey: true });
    expect(asked('undo')).toEqual([]);
    await press('Enter');
    await press('z', { ctrlKey: true });
    expect(asked('undo').length).toBe(1);
    await press('Z', { ctrlKey: true, shiftKey: true });
    expect(asked('redo').length).toBe(1);
  });
  it('show the sheet of keys', async () => {
    await start();
    await press('?');
    expect(page.querySelector('#key-sheet')?.textContent).toContain('take back the last change');
    expect(page.querySelector('#key-sheet')?.textContent).toContain('try another brief beside this one');
  });
});

describe('the history', () => {
  it('tells every change in words, looks at a moment, and asks where two differ', async () => {
    program.lines = [line('a')];
    program.history = {
      changes: [{ change: 'c1', when: '2030-03-04T10:20:30.000Z', person: 'Invented Ben', device: 'phone', here: false, sentence: FRAGMENT }],
      set_aside: [],
      disagreements: [
        {
          name: 'rails/r1/label',
          about: 'label of rail Ramp',
          stops: true,
          positions: [
            { number: 1, value: '“A”', person: 'Invented Anna', when: '2030-03-04T10:20:30.000Z' },
            { number: 2, value: '“B”', person: 'Invented Ben', when: '2030-03-04T10:21:30.000Z' },
          ],
        },
      ],
    };
    await start();
    await click('[data-site="a"]');
    await click('#screen-history');
    expect(page.querySelector('td.what')?.textContent).toBe(FRAGMENT);
    expect(page.querySelector('td.who')?.textContent).toContain('phone');
    const card = page.querySelector('[data-disagreement]')!;
    expect(card.textContent).toContain('Which is right: label of rail Ramp?');
    expect(card.textContent).toContain('counts as stop');
    await click('[data-settle="2"]');
    expect(asked('settle')).toEqual([['settle', 'rails/r1/label', 2]]);
    await click('[data-at="c1"]');
    expect(page.querySelector('#read-only')?.textContent).toContain('as it was');
    expect(page.querySelector('#site-name')?.tagName).toBe('SPAN');
    await click('#read-only-act');
    expect(page.querySelector('#read-only')).toBeNull();
  });
});

describe('a site that cannot be changed', () => {
  it('is not surveyed: neither by the head nor by the keys', async () => {
    program.lines = [line('a')];
    await start();
    await click('[data-site="a"]');
    expect(page.querySelector('#screen-survey')).not.toBeNull();
    program.readOnly = 'Another Newel has these sites open.';
    await click('#to-sites');
    await click('[data-site="a"]');
    expect(page.querySelector('#screen-survey')).toBeNull();
    expect(page.querySelector('[aria-current="page"]')?.id).toBe('screen-scheme');
    await press('3', { altKey: true });
    expect(page.querySelector('[aria-current="page"]')?.id).toBe('screen-history');
  });
});

describe('photos', () => {
  it('have a screen of their own, also by key, unless the site is a file that is looked at', async () => {
    await start();
    await click('#add-demo');
    await press('2', { altKey: true });
    expect(page.querySelector('#screen-photos')?.getAttribute('aria-current')).toBe('page');
    expect(page.querySelector('#photos-stage')?.textContent).toContain('No photos yet.');
    expect(screensOf({ read_only: 'opened to look at', way_on: 'take_in' }).map((screen) => screen.name)).toEqual(['scheme', 'history', 'catalogue', 'shared']);
    expect(screensOf({ read_only: 'as it was', way_on: 'to_now' }).map((screen) => screen.name)).toContain('photos');
  });
});

describe('how things are shown', () => {
  it('is asked of the store and shown at once', async () => {
    await start();
    expect(document.documentElement.dataset.theme).toBe('day');
    await click('#theme');
    expect(document.documentElement.dataset.theme).toBe('dark');
    await click('#units');
    expect(asked('setSettings').at(-1)).toEqual(['setSettings', { theme: 'dark', units: 'imperial' }]);
  });
});

describe('the shared folder', () => {
  it('has a screen by key, with a site or without, and says in the head how it stands', async () => {
    shared.member();
    program.lines = [line('a')];
    await start();
    expect(page.querySelector('#share-sign')?.textContent).toBe('up to date');
    await press('6', { altKey: true });
    expect(page.querySelector('h1')?.textContent).toBe('Shared folder');
    expect(page.querySelector('#devices')).not.toBeNull();
    await click('#to-sites');
    await click('[data-site]');
    await press('6', { altKey: true });
    expect(page.querySelector('#screen-shared')?.getAttribute('aria-current')).toBe('page');
    shared.tell({ asking: 1 });
    await settle();
    expect(page.querySelector('#share-sign')?.textContent).toBe('1 device asks');
  });
  it('shows what came without touching what was refused or is being typed', async () => {
    shared.member();
    program.lines = [line('a')];
    await start();
    await click('[data-site]');
    await click('#site-name');
    await type('#site-name-field', 'Half typed');
    const before = asked('openSite').length;
    shared.tell({ arrivals: 1 });
    await settle();
    expect(asked('openSite')).toHaveLength(before + 1);
    expect(page.querySelector<HTMLInputElement>('#site-name-field')?.value).toBe('Half typed');
  });
  it('says nothing in the head while this device shares with nobody', async () => {
    await start();
    expect(page.querySelector('#to-shared')).not.toBeNull();
    expect(page.querySelector('#share-sign')).toBeNull();
  });
});
