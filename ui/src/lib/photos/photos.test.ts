/** The photos page as a person meets it: what an import says, what is drawn, what is sent. */
import { flushSync, mount, tick, unmount } from 'svelte';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { rail, surveyOf } from '../../../preview/mounted';
import { line, photo, photosFake, type PhotosFake } from '../../../preview/photosFake';
import type { Photo } from '../generated/survey';
import type { PhotoImport } from '../generated/photos';
import type { AddProgress, PhotoFile } from '../generated/types';
import PhotosStage from './PhotosStage.svelte';
import { Running } from './running.svelte';
import { PhotosSession } from './session.svelte';

let page: HTMLElement;
let shown: Record<string, unknown> | null = null;

beforeEach(() => {
  // Nothing is laid out without a browser; the grid and the viewer then are as large as this says.
  Object.defineProperty(HTMLElement.prototype, 'clientWidth', { configurable: true, get: () => 800 });
  Object.defineProperty(HTMLElement.prototype, 'clientHeight', { configurable: true, get: () => 600 });
});
afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

async function settle(): Promise<void> {
  for (let round = 0; round < 4; round += 1) {
    await new Promise((done) => setTimeout(done, 0));
    await tick();
  }
  flushSync();
}

async function open(photos: Photo[], given: { lines?: (photos: Photo[]) => PhotoFile[] } & Omit<NonNullable<Parameters<typeof photosFake>[1]>, 'lines'> = {}): Promise<PhotosFake> {
  document.body.innerHTML = '<div id="app"></div>';
  page = document.getElementById('app')!;
  const survey = { ...surveyOf(rail('r1', 'Stair rail', []), rail('r2', 'Ramp rail', [])), photos };
  const { lines, ...rest } = given;
  const fake = photosFake(survey, { ...rest, ...(lines ? { lines: (now) => lines(now.photos) } : {}) });
  shown = mount(PhotosStage, { target: page, props: { opened: fake.site.opened(), session: new PhotosSession(fake.host, fake.backend) } });
  await settle();
  return fake;
}
function get<Kind extends HTMLElement = HTMLElement>(selector: string): Kind {
  const found = page.querySelector<Kind>(selector);
  if (!found) throw new Error(`nothing is ${selector}`);
  return found;
}
const choose = async (id: string) => {
  get(`#photo-${id}`).click();
  await settle();
};

const came: PhotoImport = {
  schema_version: 1, id: 'site', stopped: false, added: 2, linked: 0, restored: 0, duplicates: 1, refused: 1, not_reached: 0,
  files: [
    { path: '/card/a.jpg', outcome: 'added', photo: 'a', reason: null, remarks: [] },
    { path: '/card/b.jpg', outcome: 'added', photo: 'b', reason: null, remarks: [] },
    { path: '/card/c.jpg', outcome: 'duplicate', photo: 'a', reason: 'has the same bytes as a.jpg', remarks: [] },
    { path: '/card/list.txt', outcome: 'refused', photo: null, reason: 'is no picture; accepted: JPEG, PNG, TIFF, WebP, HEIC', remarks: [] },
  ],
};

describe('adding photos', () => {
  test('what is dropped is taken in with its progress, can be stopped, and every refusal is told with its reason', async () => {
    const fake = await open([photo('a')]);
    fake.drop({ kind: 'over' });
    flushSync();
    expect(get('.drop').textContent).toContain('Let go');
    fake.drop({ kind: 'dropped', paths: ['/card'] });
    await settle();
    expect(fake.asked).toContainEqual(['addPhotos', ['/card'], null]);
    fake.progress(3, 4, '/card/c.jpg');
    flushSync();
    expect(get('#adding').textContent).toMatch(/3 of 4\s+c\.jpg/);
    get('#stop-adding').click();
    await settle();
    expect(fake.asked).toContainEqual(['cancelPhotos']);
    fake.finish(came);
    await settle();
    const said = get('#added').textContent!;
    expect(said).toContain('2 taken in, 1 known already, 1 refused');
    expect(said).toContain('list.txt: is no picture; accepted: JPEG, PNG, TIFF, WebP, HEIC');
    expect(said).toContain('c.jpg: has the same bytes as a.jpg');
    expect(page.querySelector('#adding')).toBeNull();
  });

  test('what lies in the site is shown while the rest is on its way, once for each batch', async () => {
    const fake = await open([photo('a')]);
    const refreshed = () => fake.asked.filter(([name]) => name === 'refresh').length;
    fake.drop({ kind: 'dropped', paths: ['/card'] });
    await settle();
    fake.progress(7, 30, '/card/g.jpg');
    await settle();
    expect(refreshed()).toBe(0);
    fake.progress(8, 30, '', 8);
    fake.progress(9, 30, '/card/i.jpg', 8);
    await settle();
    expect(refreshed()).toBe(1);
    expect(get('#adding').textContent).toMatch(/9 of 30\s+i\.jpg/);
    fake.progress(24, 30, '', 24);
    await settle();
    expect(refreshed()).toBe(2);
    fake.finish(came);
    await settle();
    expect(refreshed()).toBe(3);
  });

  test('a stop before the program has begun is passed on as soon as it has', async () => {
    const fake = await open([photo('a')]);
    fake.drop({ kind: 'dropped', paths: ['/card'] });
    await settle();
    get('#stop-adding').click();
    await settle();
    expect(fake.asked).not.toContainEqual(['cancelPhotos']);
    fake.progress(0, 0, '');
    fake.progress(1, 4, '/card/a.jpg');
    await settle();
    expect(fake.asked.filter(([name]) => name === 'cancelPhotos')).toHaveLength(1);
    fake.finish({ ...came, stopped: true });
    await settle();
  });

  test('a fault is told, and what was added before it is asked for', async () => {
    const fake = await open([photo('a')]);
    fake.drop({ kind: 'dropped', paths: ['/card'] });
    await settle();
    const before = fake.asked.filter(([name]) => name === 'photos').length;
    fake.fail('the disk is full; 64 photos were added before');
    await settle();
    expect(get('#photo-refusal').textContent).toContain('the disk is full');
    expect(page.querySelector('#adding')).toBeNull();
    expect(fake.asked.filter(([name]) => name === 'photos').length).toBeGreaterThan(before);
  });
});

describe('the grid', () => {
  const many = Array.from({ length: 5000 }, (_, n) => photo(`p${n}`, { shows: n % 2 ? { kind: 'rail', rail: 'r1', chainage_mm: n } : { kind: 'general' } }));

  test('of 5,000 photos only those in view are in the page, wherever it is scrolled', async () => {
    await open(many);
    const drawn = () => [...page.querySelectorAll('[role=gridcell]')].map((cell) => cell.id);
    const top = drawn();
    expect(top.length).toBeGreaterThan(10);
    expect(top.length).toBeLessThan(80);
    const grid = get('#photo-grid');
    grid.scrollTop = 60_000;
    grid.dispatchEvent(new Event('scroll'));
    flushSync();
    const below = drawn();
    expect(below.length).toBeLessThan(80);
    expect(below.filter((id) => top.includes(id))).toEqual([]);
  });

  test('photos are counted by rail, and those that are missing here say so', async () => {
    await open([photo('a', { shows: { kind: 'rail', rail: 'r1', chainage_mm: 900 } }), photo('b'), photo('c', { content_sha256: null })], {
      lines: (photos) => photos.map((each) => line(each, each.id === 'b' ? { state: 'missing', has_picture: false } : {})),
    });
    expect(get('nav').textContent).toMatch(/Stair rail\s*1.*Not placed\s*2.*Not on this device\s*2/s);
    expect(get('#photo-b').textContent).toContain('not on this device');
    expect(get('#photo-b').querySelector('img')).toBeNull();
    expect(get('#photo-c').textContent).toContain('only named');
    expect(get<HTMLImageElement>('#photo-a img').src).toBe(`photo://localhost/${photo('a').content_sha256}/320`);
  });

  test('keys go from photo to photo, choose a stretch, and open one', async () => {
    await open(many.slice(0, 20));
    const press = (key: string, more = {}) => get('#photo-grid').dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true, ...more }));
    press('Home');
    press('ArrowRight', { shiftKey: true });
    press('ArrowRight', { shiftKey: true });
    await settle();
    expect(page.querySelectorAll('[role=gridcell][aria-selected=true]')).toHaveLength(3);
    expect(get('aside').textContent).toContain('3 photos chosen');
    press('Enter');
    await settle();
    expect(get('.viewer').textContent).toContain('3 of 20');
  });
});

describe('placing', () => {
  const nearest = { rail: 'r2', label: 'Ramp rail', chainage_mm: 3080, least_chainage_mm: 1200, greatest_chainage_mm: 4960, way: { distance_m: 2, bearing_deg: 10 }, uncertainty_m: 5, accuracy_assumed: true, certain: true, sentence: '2 m from Ramp rail' };

  test('the proposal is told with its uncertainty, and accepting it sends the rail and the chainage', async () => {
    const fake = await open([photo('a'), photo('b')], { lines: (photos) => photos.map((each) => line(each, each.id === 'a' ? { nearest } : {})) });
    await choose('a');
    expect(get('.proposal').textContent).toMatch(/Ramp rail at 3.?080.mm, somewhere from 1.?200.mm to 4.?960.mm.*it is assumed/s);
    get('#accept').click();
    await settle();
    expect(fake.site.sent).toEqual([[{ kind: 'set_photo', id: 'a', change: { kind: 'shows', value: { kind: 'rail', rail: 'r2', chainage_mm: 3080 } } }]]);
  });

  test('what stands by a rail for certain is placed in one step; what is placed already is left', async () => {
    const placed = photo('c', { shows: { kind: 'rail', rail: 'r1', chainage_mm: 1 } });
    const fake = await open([photo('a'), photo('b'), placed], { lines: (photos) => photos.map((each) => line(each, { nearest: { ...nearest, certain: each.id !== 'b' } })) });
    get('#accept-certain').click();
    await settle();
    expect(fake.site.sent.map((edits) => edits.map((edit) => 'id' in edit && edit.id))).toEqual([['a']]);
  });

  test('photos taken far away are asked about, and chosen at a press', async () => {
    await open([photo('a'), photo('b')], { away: [{ photos: ['b'], distance_m: 4100, bearing_deg: 0, sentence: '1 photo is 4.1 km away: another job?' }] });
    expect(get('.away').textContent).toContain('1 photo is 4.1 km away: another job?');
    get('.away').click();
    await settle();
    expect(get('#photo-b').getAttribute('aria-selected')).toBe('true');
  });
});

describe('the clock', () => {
  test('what was ahead is taken away from all chosen photos that have a time', async () => {
    const fake = await open([photo('a'), photo('b'), photo('c', { taken: null })]);
    get('#photo-grid').dispatchEvent(new KeyboardEvent('keydown', { key: 'a', ctrlKey: true, bubbles: true }));
    await settle();
    const input = get<HTMLInputElement>('aside form input');
    input.value = '1 h 2 min';
    input.dispatchEvent(new Event('input', { bubbles: true }));
    get('#shift-clock').click();
    await settle();
    const [, photos, seconds] = fake.asked.find(([name]) => name === 'shiftClock')!;
    expect([...(photos as string[])].sort()).toEqual(['a', 'b']);
    expect(seconds).toBe(3720);
  });
});

describe('copies for the client', () => {
  test('what is left out is said, and nothing is told unless asked for', async () => {
    const fake = await open([photo('a')]);
    await choose('a');
    expect(get('aside').textContent).toContain('Left out: position and heading; camera and serial number; owner and photographer.');
    get('#client-copies').click();
    await settle();
    expect(fake.asked).toContainEqual(['exportClient', ['a'], { position: false, camera: false, owner: false }, false, '/chosen']);
    expect(get('#photo-said').textContent).toContain('1 of 1 copy written into /chosen.');
  });
});

describe('copies that take their time', () => {
  test('tell how far they are, can be stopped, and say what was written', async () => {
    const fake = await open([photo('a'), photo('b')]);
    fake.holdsCopies = true;
    await choose('a');
    get('#photo-b .tick').click();
    await settle();
    get('#client-copies').click();
    await settle();
    fake.copied(1, 2);
    flushSync();
    expect(get('#copying').textContent).toMatch(/1 of 2/);
    expect(get<HTMLButtonElement>('#client-copies').disabled).toBe(true);
    get('#stop-copying').click();
    await settle();
    expect(fake.asked).toContainEqual(['cancelCopies']);
    fake.writeCopies();
    await settle();
    expect(get('#photo-said').textContent).toContain('Stopped: 1 of 2 copies written');
    expect(get('#photo-said').textContent).toContain('stopped before it');
    expect(page.querySelector('#copying')).toBeNull();
  });

  test('are stopped as soon as the program has begun, though the stop came before', async () => {
    const fake = await open([photo('a'), photo('b')]);
    fake.holdsCopies = true;
    await choose('a');
    get('#client-copies').click();
    await settle();
    get('#stop-copying').click();
    await settle();
    expect(fake.asked).not.toContainEqual(['cancelCopies']);
    fake.copied(0, 1);
    fake.copied(1, 1);
    await settle();
    expect(fake.asked.filter(([name]) => name === 'cancelCopies')).toHaveLength(1);
    fake.writeCopies();
    await settle();
    expect(page.querySelector('#copying')).toBeNull();
  });
});

describe('something on its way', () => {
  test('can be stopped again where the program could not be asked', async () => {
    let asks = 0;
    const running = new Running(() => Promise.resolve(++asks > 1));
    let hear: (progress: AddProgress) => void = () => undefined;
    let finish: () => void = () => undefined;
    const done = running.run(0, (tell) => ((hear = tell), Promise.resolve(() => undefined)), () => new Promise<void>((go) => (finish = go)));
    await settle();
    hear({ done: 1, all: 2, name: 'a.jpg', kept: 0 });
    await running.stop();
    expect([asks, running.stopping]).toEqual([1, false]);
    await running.stop();
    expect([asks, running.stopping]).toEqual([2, true]);
    finish();
    await done;
    expect(running.isOn).toBe(false);
  });
});

describe('marks', () => {
  test('an arrow drawn on a picture that is zoomed in lies on the thousandths under the pointer', async () => {
    const fake = await open([photo('a')]);
    await choose('a');
    get('#open-photo').click();
    await settle();
    const stage = get('#viewer-stage');
    const press = (key: string) => stage.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
    // 4000 x 3000 in 800 x 600 is a fifth; 1.5 times closer about the middle the corner lies at -200, -150.
    press('+');
    press('a');
    flushSync();
    const point = (type: string, clientX: number, clientY: number) => stage.dispatchEvent(new PointerEvent(type, { clientX, clientY, pointerId: 1, button: 0, bubbles: true }));
    point('pointerdown', 400, 300);
    point('pointermove', 640, 480);
    point('pointermove', 700, 525);
    point('pointerup', 700, 525);
    await settle();
    const mark = { kind: 'arrow', from: { x_permille: 500, y_permille: 500 }, to: { x_permille: 750, y_permille: 750 } };
    expect(fake.site.sent).toEqual([[{ kind: 'set_photo', id: 'a', change: { kind: 'marks', value: [mark] } }]]);
  });
});

describe('marks by keys', () => {
  test('arrow keys aim, Enter begins and ends a dimension, and its length is typed', async () => {
    const fake = await open([photo('a')]);
    await choose('a');
    get('#open-photo').click();
    await settle();
    const press = (key: string) => (get('#viewer-stage').dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })), flushSync());
    ['d', 'Enter', 'Enter', 'ArrowRight', 'ArrowRight', 'ArrowDown', 'Enter'].forEach(press);
    const input = get<HTMLInputElement>('#mark-text');
    expect(fake.site.sent).toEqual([]);
    input.value = '2.45 m';
    input.dispatchEvent(new Event('input', { bubbles: true }));
    get('.ask .main').click();
    await settle();
    const mark = { kind: 'dimension', from: { x_permille: 500, y_permille: 500 }, to: { x_permille: 540, y_permille: 520 }, length_mm: 2450 };
    expect(fake.site.sent).toEqual([[{ kind: 'set_photo', id: 'a', change: { kind: 'marks', value: [mark] } }]]);
  });
});

describe('words from elsewhere', () => {
  test('a fragment of HTML or script in a note, a file name, a reason or a mark is text', async () => {
    const bad = '<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>';
    const fake = await open([photo('a', { note: bad, file: `photos/${bad}.jpg`, camera: bad, marks: [{ kind: 'words', at: { x_permille: 1, y_permille: 1 }, text: bad }] })], {
      lines: (photos) => photos.map((each) => line(each, { remarks: [bad] })),
      away: [{ photos: ['a'], distance_m: 1, bearing_deg: 0, sentence: bad }],
    });
    await choose('a');
    get('#open-photo').click();
    await settle();
    fake.drop({ kind: 'dropped', paths: [bad] });
    await settle();
    fake.finish({ ...came, files: [{ path: bad, outcome: 'refused', photo: null, reason: bad, remarks: [bad] }] });
    await settle();
    expect(page.querySelector('script')).toBeNull();
    expect(page.querySelector('img[src="x"]')).toBeNull();
    expect(page.textContent!.split('<script>window.hurt=1</script>').length).toBeGreaterThan(6);
  });
});
