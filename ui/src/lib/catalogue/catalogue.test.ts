import { flushSync, mount, unmount } from 'svelte';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import CatalogueStage from './CatalogueStage.svelte';
import { FakeCatalogues, FORMS, lamp } from './fake';
import { copyReference, found, gist, groupsOf, withoutStale } from './fields';
import { CatalogueSession } from './session.svelte';
import { faultWords } from './words';

const FRAGMENT = '<img src=x onerror="alert(1)"><b>Lamp</b>';
let program: FakeCatalogues;
let session: CatalogueSession;
let shown: Record<string, unknown> | null = null;
let page: HTMLElement;
let said: string[] = [];

beforeEach(() => {
  program = new FakeCatalogues();
  said = [];
});
afterEach(async () => {
  if (shown) await unmount(shown);
  shown = null;
});

async function settle(): Promise<void> {
  for (let turn = 0; turn < 6; turn += 1) await new Promise((done) => setTimeout(done, 0));
  flushSync();
}
async function start(): Promise<void> {
  // One change after another, as the window makes them.
  let queue: Promise<unknown> = Promise.resolve();
  const inTurn = (work: () => Promise<void>): Promise<boolean> => {
    const done = queue.then(work).then(
      () => true,
      () => false,
    );
    queue = done;
    return done;
  };
  session = new CatalogueSession({ inTurn, say: (words) => said.push(words), store: null, toNow: () => Promise.resolve(true) }, program.backend());
  document.body.innerHTML = '<div id="app"></div>';
  page = document.getElementById('app')!;
  shown = mount(CatalogueStage, { target: page, props: { session } });
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
  if (field.tagName !== 'SELECT') field.dispatchEvent(new Event('input', { bubbles: true }));
  await settle();
  field.dispatchEvent(new Event('change', { bubbles: true }));
  await settle();
}
async function press(key: string): Promise<void> {
  (document.activeElement ?? document.body).dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
  await settle();
}
const asked = (name: string) => program.calls.filter((call) => call[0] === name);
const parts = () => [...page.querySelectorAll('button[data-part]')].map((each) => each.getAttribute('data-part'));

describe('the list of catalogues', () => {
  it.each([
    [[], 'No site yet: every new one is planned with Own.'],
    [['Quay steps'], 'The one site here is planned with Own.'],
    [['Quay steps', 'Mill', 'Ramp'], 'All 3 sites here are planned with Own.'],
  ])('says in a sentence what sites are planned with', async (sites, sentence) => {
    program.sites = sites;
    await start();
    expect(at('#plans').textContent).toBe(sentence);
  });
});

describe('the list of parts', () => {
  it('shows one kind at a time and finds by any field', async () => {
    await start();
    expect(parts()).toEqual(['PT-1', 'PT-2']);
    await type('#find-part', 'lamp pt-2');
    expect(parts()).toEqual(['PT-2']);
    await click('[data-sheet="drivers"]');
    expect(parts()).toEqual([]);
    await type('#find-part', '');
    expect(parts()).toEqual(['DR-1']);
  });
  it('is walked by arrows, and shows texts as they are typed', async () => {
    program.parts = [lamp('PT-1', { description: FRAGMENT }), lamp('PT-2')];
    await start();
    await press('ArrowDown');
    expect(session.chosen).toBe('PT-1');
    expect(at<HTMLInputElement>('#field-description').value).toBe(FRAGMENT);
    expect(page.querySelector('img')).toBeNull();
    await press('End');
    expect(session.chosen).toBe('PT-2');
    await press('2');
    expect(session.sheet).toBe('drivers');
  });
});

describe('the form of a part', () => {
  it('is kept as one change when a field is left', async () => {
    await start();
    await click('[data-part="PT-1"]');
    await type('#field-price', '18.20');
    const [, id, sheet, was, cells] = asked('savePart')[0]!;
    expect([id, sheet, was]).toEqual(['own', 'luminaires', 'PT-1']);
    expect((cells as Record<string, string>).price).toBe('18.20');
    expect(said).toEqual(['part PT-1 changed']);
    expect(session.draft).toBeNull();
  });
  it('is not kept while a value cannot stand, and says what is accepted beside it', async () => {
    await start();
    await click('[data-part="PT-1"]');
    await type('#field-nominal_v', 'twelve');
    expect(asked('savePart')).toEqual([]);
    expect(at('#field-nominal_v-why').textContent).toBe('⬣ “twelve” cannot stand here. Accepted: a number above 0, up to 1000 V.');
    expect(at('#field-nominal_v').getAttribute('aria-invalid')).toBe('true');
    expect(at('#not-kept').textContent).toContain('1 field to mend');
    // It stays while another part is looked at, and the list says so.
    await click('[data-part="PT-2"]');
    expect(at('[data-part="PT-1"]').textContent).toContain('not kept');
    await click('[data-part="PT-1"]');
    expect(at<HTMLInputElement>('#field-nominal_v').value).toBe('twelve');
    await click('#put-back');
    expect(at<HTMLInputElement>('#field-nominal_v').value).toBe('12');
  });
  it('asks for the fields of a kind with that kind alone', async () => {
    await start();
    await click('[data-part="PT-1"]');
    expect(page.querySelector('#field-load-watts')).toBeNull();
    await type('#field-load-kind', 'power');
    expect(page.querySelector('#field-load-watts')).not.toBeNull();
    expect(page.querySelector('#field-load-amps')).toBeNull();
  });
  it('keeps the keyboard where it is while the part gets another reference', async () => {
    await start();
    await click('[data-part="PT-1"]');
    const field = at('#field-description');
    field.focus();
    await type('#field-part', 'PT-7');
    expect(session.chosen).toBe('PT-7');
    expect(document.activeElement).toBe(field);
    expect(field.isConnected).toBe(true);
  });
  it('says what is wrong with boxes beside them, and of what it has no field for in its head', async () => {
    await start();
    await click('[data-sheet="leads"]');
    await press('n');
    await click('#add-part');
    const box = at<HTMLInputElement>('[data-field="uses"] input');
    expect(box.getAttribute('aria-invalid')).toBe('true');
    expect(page.querySelector(`#${box.getAttribute('aria-describedby')}`)?.textContent).toContain('Nothing is given');
    expect(document.activeElement).toBe(box);
    expect(at('#part-form header').textContent).toContain('supply.kind: Nothing is given. Accepted: by the metre.');
    box.click();
    await settle();
    expect(box.getAttribute('aria-invalid')).toBe('false');
    expect(at('#part-form header').textContent).not.toContain('supply.kind');
  });
  it('is not changed where the store is open to read only, nor is a file taken in', async () => {
    program.readOnly = 'Another Newel has these sites open.';
    program.preview = { ...program.preview, added: [{ sheet: 'drivers', part: 'DR-9', description: '', fields: [] }] };
    await start();
    await click('[data-part="PT-1"]');
    expect(at<HTMLInputElement>('#field-price').disabled).toBe(true);
    await session.lookAtAFile();
    await settle();
    expect(at<HTMLButtonElement>('#take-import').disabled).toBe(true);
  });
  it('is not changed where the catalogue is built in; a copy is offered', async () => {
    program.builtIn = true;
    await start();
    await click('[data-part="PT-1"]');
    expect(at<HTMLInputElement>('#field-price').disabled).toBe(true);
    expect(at<HTMLButtonElement>('#new-part').disabled).toBe(true);
    await press('Delete');
    expect(asked('deletePart')).toEqual([]);
    await click('#copy-demo');
    expect(asked('copyCatalogue')).toEqual([['copyCatalogue', 'demo', 'My catalogue']]);
  });
});

describe('a form that is left while the program is busy', () => {
  const saved = () => asked('savePart').map(([, id, sheet, was, cells]) => [id, sheet, was, cells as Record<string, string>] as const);

  it('is kept for its own part, and another that was chosen meanwhile stays chosen', async () => {
    await start();
    await click('[data-part="PT-1"]');
    const check = program.hold('checkPart');
    await type('#field-price', '18.20');
    await click('[data-part="PT-2"]');
    const save = program.hold('savePart');
    check();
    await settle();
    await click('[data-sheet="drivers"]');
    await click('[data-part="DR-1"]');
    save();
    await settle();
    expect(saved().map(([id, sheet, was, cells]) => [id, sheet, was, cells.part, cells.price, cells.description])).toEqual([['own', 'luminaires', 'PT-1', 'PT-1', '18.20', 'Lamp PT-1']]);
    expect([session.sheet, session.chosen]).toEqual(['drivers', 'DR-1']);
    await click('[data-sheet="luminaires"]');
    expect(at('tbody').textContent).not.toContain('not kept');
  });
  it('is kept though another form was asked about before the answer came', async () => {
    await start();
    await click('[data-part="PT-1"]');
    const check = program.hold('checkPart');
    await type('#field-price', '18.20');
    await click('[data-part="PT-2"]');
    await type('#field-nominal_v', 'twelve');
    check();
    await settle();
    expect(saved().map(([, , was, cells]) => [was, cells.price])).toEqual([['PT-1', '18.20']]);
    // Each form has its own answer.
    expect(at('#field-nominal_v-why').textContent).toContain('twelve');
    await click('[data-part="PT-1"]');
    expect(page.querySelector('.why')).toBeNull();
  });
  it('leaves another catalogue open that was opened meanwhile', async () => {
    await start();
    await click('[data-part="PT-1"]');
    const save = program.hold('savePart');
    await type('#field-price', '18.20');
    program.builtIn = true;
    await click('[data-catalogue="demo"]');
    expect(session.page?.open.id).toBe('demo');
    save();
    await settle();
    expect(saved().map(([id, , was]) => [id, was])).toEqual([['own', 'PT-1']]);
    expect(session.page?.open.id).toBe('demo');
    expect(asked('catalogues').at(-1)).toEqual(['catalogues', 'demo']);
  });
  it('goes to the part under its new reference, and what is typed meanwhile stays', async () => {
    await start();
    await click('[data-part="PT-1"]');
    const save = program.hold('savePart');
    await type('#field-part', 'PT-7');
    await type('#field-price', '18.20');
    at<HTMLInputElement>('#field-description').value = 'Half a wo';
    at('#field-description').dispatchEvent(new Event('input', { bubbles: true }));
    save();
    await settle();
    expect(saved().map(([, , was, cells]) => [was, cells.part, cells.price, cells.description])).toEqual([
      ['PT-1', 'PT-7', '17.40', 'Lamp PT-1'],
      ['PT-7', 'PT-7', '18.20', 'Lamp PT-1'],
    ]);
    expect(session.chosen).toBe('PT-7');
    expect(at<HTMLInputElement>('#field-description').value).toBe('Half a wo');
  });
  it('is added once, however often it was asked for', async () => {
    await start();
    await press('n');
    await type('#field-part', 'PT-9');
    await type('#field-nominal_v', '24');
    const save = program.hold('savePart');
    at('#add-part').click();
    at('#add-part').click();
    await settle();
    save();
    await settle();
    expect(saved().length).toBe(1);
    expect(session.chosen).toBe('PT-9');
  });
});

describe('what is typed', () => {
  it('is sent over what is kept by then, and does not bring back what was taken back', async () => {
    await start();
    await click('[data-part="PT-1"]');
    await type('#field-nominal_v', 'twelve');
    // Undo, or a colleague, changes another field meanwhile.
    program.parts = program.parts.map((part) => (part.part === 'PT-1' ? lamp('PT-1', { price: '11.00' }) : part));
    program.undo = 'something';
    await session.load();
    await settle();
    expect(at<HTMLInputElement>('#field-price').value).toBe('11.00');
    expect(at<HTMLInputElement>('#field-nominal_v').value).toBe('twelve');
    await session.steps.takeBack();
    await settle();
    expect(at<HTMLInputElement>('#field-nominal_v').value).toBe('twelve');
    await type('#field-nominal_v', '24');
    const cells = asked('savePart')[0]![4] as Record<string, string>;
    expect([cells.nominal_v, cells.price]).toEqual(['24', '11.00']);
  });
});

describe('parts that come and go', () => {
  it('goes back to a new part that is half filled in', async () => {
    await start();
    await press('n');
    await type('#field-description', 'Half filled');
    await click('[data-part="PT-1"]');
    const row = at('[data-new]').closest('tr')!;
    expect(row.textContent).toMatch(/new\s*▲ not kept.*Half filled/s);
    at('[data-part="PT-1"]').focus();
    await press('d');
    expect(at<HTMLInputElement>('#field-description').value).toBe('Half filled');
    await press('Escape');
    await click('[data-part="PT-2"]');
    await click('[data-new]');
    expect(at<HTMLInputElement>('#field-description').value).toBe('Half filled');
    await click('#drop-part');
    expect(page.querySelector('[data-new]')).toBeNull();
    // One in which nothing was typed gives way.
    await click('[data-part="PT-1"]');
    await click('#duplicate-part');
    await click('[data-part="PT-2"]');
    await click('#duplicate-part');
    expect(at<HTMLInputElement>('#field-part').value).toBe('PT-2-2');
  });
  it('adds a part once everything is in order', async () => {
    await start();
    await press('n');
    await click('#add-part');
    expect(asked('savePart')).toEqual([]);
    expect(at('#field-part-why').textContent).toContain('Nothing is given');
    await type('#field-part', 'PT-9');
    await type('#field-nominal_v', '24');
    await click('#add-part');
    expect(asked('savePart')[0]![3]).toBeNull();
    expect(session.chosen).toBe('PT-9');
    expect(parts()).toContain('PT-9');
    await new Promise((done) => requestAnimationFrame(done));
    expect(document.activeElement).toBe(at('[data-part="PT-9"]'));
  });
  it('duplicates a part under a reference of its own', async () => {
    await start();
    await click('[data-part="PT-1"]');
    await click('#duplicate-part');
    expect(at<HTMLInputElement>('#field-part').value).toBe('PT-1-2');
    expect(at<HTMLInputElement>('#field-price').value).toBe('17.40');
  });
  it('takes a part out without asking, since it can be taken back', async () => {
    await start();
    await click('[data-part="PT-1"]');
    await press('Delete');
    expect(asked('deletePart')).toEqual([['deletePart', 'own', 'PT-1']]);
    expect(session.chosen).toBe('PT-2');
    expect(await session.steps.takeBack()).toBe(true);
    expect(asked('undoCatalogue')).toEqual([['undoCatalogue', 'own']]);
  });
});

describe('a file', () => {
  it('is looked at first: added, changed field by field, refused with the place', async () => {
    program.preview = {
      ...program.preview,
      added: [{ sheet: 'drivers', part: 'DR-9', description: FRAGMENT, fields: [] }],
      changed: [{ sheet: 'luminaires', part: 'PT-1', description: 'Lamp', fields: [{ field: 'price', before: '17.40', after: '18.20' }] }],
      unchanged: 7,
      not_named: 3,
      refused: [{ line: 4, column: 2, sheet: 'luminaires', part: 'PT-2', field: 'price', value: 'cheap', matter: 'is no amount of money', accepted: 'an amount' }],
    };
    await start();
    await click('#import');
    expect(at('#import-tally').textContent).toMatch(/1 added.*1 changed.*7 the same already.*3 not in the file.*1 refused/s);
    expect([...at('#changed').querySelectorAll('tbody td')].map((cell) => cell.textContent?.trim())).toEqual(['PT-1', 'Price of one piece, EUR', '17.40', '18.20']);
    expect(at('#refused').textContent).toContain('“cheap” is no amount of money. Accepted: an amount.');
    expect(at('#added').textContent).toContain(FRAGMENT);
    expect(page.querySelector('img')).toBeNull();
    expect(asked('takeImport')).toEqual([]);
    await click('#take-import');
    expect(asked('takeImport')).toEqual([['takeImport', 'own', '/invented/prices.csv', 'f', 'c']]);
    expect(page.querySelector('#import-view')).toBeNull();
  });
  it('is taken in once, however often it was pressed', async () => {
    program.preview = { ...program.preview, added: [{ sheet: 'drivers', part: 'DR-9', description: '', fields: [] }] };
    await start();
    await click('#import');
    const take = program.hold('takeImport');
    at('#take-import').click();
    at('#take-import').click();
    await settle();
    take();
    await settle();
    expect(asked('takeImport').length).toBe(1);
  });
  it('leaves everything as it was when it is put away', async () => {
    await start();
    await click('#import');
    await press('Escape');
    expect(page.querySelector('#import-view')).toBeNull();
    expect(asked('takeImport')).toEqual([]);
    expect(parts()).toEqual(['PT-1', 'PT-2']);
  });
  it('that cannot be used is refused with every fault', async () => {
    await start();
    program.refuses = 'nothing of it can be taken in';
    await click('#import');
    expect(at('#catalogue-refusal').textContent).toContain('line 3, column 2');
  });
  it('is written as a list of the parts that are shown', async () => {
    await start();
    await type('#export-what', 'csv');
    await type('#export-style', 'commas');
    await click('#export');
    expect(asked('exportCatalogue')).toEqual([['exportCatalogue', 'own', '/invented/Own-luminaires.csv', { kind: 'csv', sheet: 'luminaires', style: 'commas' }]]);
  });
});

describe('a catalogue that two changed at once', () => {
  it('shows both versions and is settled by one of them', async () => {
    const position = (number: number, person: string) => ({ number, value: `${number} parts`, person, when: '2030-03-04T10:20:30.000Z' });
    program.disagreement = { name: 'own', about: 'catalogue Own', stops: false, positions: [position(1, 'Ann'), position(2, 'Ben')] };
    await start();
    expect(at('[data-disagreement]').textContent).toMatch(/Ann.*Ben/s);
    await click('[data-settle="2"]');
    expect(asked('settleCatalogue')).toEqual([['settleCatalogue', 'own', 2]]);
  });
});

describe('what the page works with', () => {
  const forms = FORMS.find(({ sheet }) => sheet === 'luminaires')!.fields;
  it('groups fields by their table and leaves out what is not asked for', () => {
    const groups = groupsOf(forms, { 'load.kind': 'power' });
    expect(groups.map(({ title, fields }) => [title, fields.map(({ name }) => name)])).toEqual([
      ['', ['part', 'description', 'price', 'nominal_v', 'outdoor']],
      ['Load', ['load.kind', 'load.watts']],
    ]);
    expect(withoutStale(forms, { part: 'a', 'load.kind': 'power', 'load.amps': '1' })).toEqual({ part: 'a', 'load.kind': 'power' });
  });
  it('tells parts apart and finds them', () => {
    expect(gist('luminaires', { nominal_v: '12', 'load.amps': '0.03', 'shape.kind': 'point', flux_lm: '22' })).toBe('point · 12 V · 0.03 A · 22 lm');
    expect(found([lamp('PT-1'), lamp('PT-2')], 'luminaires', '  pt-1 LAMP ').map(({ part }) => part)).toEqual(['PT-1']);
    expect(copyReference('A', ['A', 'A-2'])).toBe('A-3');
  });
  it('says what is wrong in a sentence', () => {
    expect(faultWords({ value: '', matter: 'nothing is given', accepted: 'a text' })).toBe('Nothing is given. Accepted: a text.');
    expect(faultWords({ value: '"x"', matter: 'is no length', accepted: '' })).toBe('"x" is no length.');
  });
});
