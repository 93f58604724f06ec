/** A program to test pages with: it keeps sites as the real one does, in memory, and can be told to refuse. */
import { BackendError, type Backend } from '../backend/backend';
import type { Edit } from '../generated/edit';
import type { SiteLine } from '../generated/sites';
import type { First, HistoryPage, Opened, Settings, SitesPage } from '../generated/types';
import { surveyOf } from '../../../preview/mounted';
import { opened as schemed, survey as withRails } from '../scheme/scheme.fixture';

export function line(id: string, changes: Partial<SiteLine> = {}): SiteLine {
  return {
    id,
    label: `Site ${id}`,
    address: '',
    stage: 'survey',
    rails: 0,
    features: 0,
    photos: 0,
    findings: { stop: 0, open: 0 },
    disagreements: 0,
    unreadable: 0,
    set_aside: 0,
    archived: false,
    last_change: '2030-03-04T10:20:30.000Z',
    ...changes,
  };
}

/** A site with rails, but for one that was just made. */
export function opened(id: string, changes: Partial<Opened> = {}): Opened {
  const site = schemed(id === 'new' ? surveyOf() : { ...surveyOf(), ...withRails() });
  return { ...site, id, page: { ...site.page, title: `Site ${id}`, file: id }, ...changes };
}

/** What was asked of it, in order. */
export type Calls = [string, ...unknown[]][];

export class FakeProgram {
  readonly calls: Calls = [];
  lines: SiteLine[] = [];
  readOnly: string | null = null;
  starts: First = { show: 'sites' };
  history: HistoryPage = { changes: [], set_aside: [], disagreements: [] };
  refuses: string | null = null;
  settings: Settings = { theme: 'day', units: 'metric' };
  /** What the next change waits for. */
  held: Promise<void> = Promise.resolve();

  page(changes: Partial<SitesPage> = {}): SitesPage {
    return { said: null, site: null, sites: this.lines, unknown_devices: [], read_only: this.readOnly, home: '/invented/home', person: 'Invented Anna', device: 'tablet', ...changes };
  }

  backend(): Backend {
    const list = (name: string, ...given: unknown[]): Promise<SitesPage> => this.answer(name, given, () => this.page());
    const change = (name: string, ...given: unknown[]): Promise<Opened> =>
      this.answer(name, given, () => opened('a', { said: `${name} done`, undo: `${name} done`, redo: name === 'undo' ? 'it' : null }));
    return {
      start: () => this.answer('start', [], () => ({ settings: this.settings, first: this.starts })),
      settings: () => this.answer('settings', [], () => this.settings),
      setSettings: (settings) => this.answer('setSettings', [settings], () => settings),
      listSites: () => list('listSites'),
      reopenStore: () => {
        this.readOnly = null;
        return list('reopenStore');
      },
      search: (words) =>
        this.answer('search', [words], () => ({
          schema_version: 1,
          words,
          hits: this.lines.filter((each) => each.label.includes(words)).map((each) => ({ id: each.id, label: each.label, thing: 'the site', field: 'label', text: each.label })),
        })),
      newSite: (label, address) =>
        this.answer('newSite', [label, address], () => {
          this.lines = [line('new', { label, address }), ...this.lines];
          return this.page({ said: `site ${label} added`, site: 'new' });
        }),
      addDemoSite: () =>
        this.answer('addDemoSite', [], () => {
          this.lines = [line('demo', { label: 'Demo' }), ...this.lines];
          return this.page({ said: 'site Demo added', site: 'demo' });
        }),
      duplicateSite: (id, label) => list('duplicateSite', id, label),
      archiveSite: (id) =>
        this.answer('archiveSite', [id], () => {
          this.lines = this.lines.map((each) => (each.id === id ? { ...each, archived: true } : each));
          return this.page({ said: 'put into the archive' });
        }),
      restoreSite: (id) => list('restoreSite', id),
      putStage: (id, stage) => list('putStage', id, stage),
      importSite: (path) => list('importSite', path),
      exportSite: (id, path, form) => list('exportSite', id, path, form),
      knowDevice: (device) => list('knowDevice', device),
      nameDevice: (person, device) => list('nameDevice', person, device),
      openFile: (path) => this.answer('openFile', [path], () => opened('file', { read_only: 'opened to look at', way_on: 'take_in' })),
      openSite: (id) => this.answer('openSite', [id], () => opened(id, { read_only: this.readOnly })),
      edit: (edits: Edit[]) => change('edit', edits),
      undo: () => change('undo'),
      redo: () => change('redo'),
      tryEdits: () => Promise.reject(new Error('not asked')),
      history: () => this.answer('history', [], () => this.history),
      viewAt: (at) => this.answer('viewAt', [at], () => opened('a', { read_only: 'as it was', way_on: 'to_now' })),
      settle: (name, number) => change('settle', name, number),
      explain: () => Promise.reject(new Error('not asked')),
      chooseFile: () => Promise.resolve(null),
      choosePlace: () => Promise.resolve('/invented/site.newel'),
    };
  }

  private async answer<T>(name: string, given: unknown[], make: () => T): Promise<T> {
    this.calls.push([name, ...given]);
    await this.held;
    if (this.refuses !== null && name !== 'listSites') throw new BackendError({ message: this.refuses, faults: [] });
    return make();
  }
}
