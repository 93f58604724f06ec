// Generated from core/desk/src/view by `make bless`; changes here are overwritten.
import type { Edit } from './edit';
import type { ExchangeInvitation, PlaceForm } from './exchange';
import type { PhotoCopies, PhotoImport } from './photos';
import type { SiteHits } from './sites';
import type { Asked, CatalogueForm, CataloguePage, CopiesTell, Explanation, ExportForm, FieldFault, HistoryPage, Opened, PhotosPage, Preview, Settings, SharedPage, SharedSign, Sheet, SheetForm, SitesPage, Start, Tried } from './types';

/** Carries a command's name and arguments to the program and brings back its answer. */
export type Call = (name: string, args: Record<string, unknown>) => Promise<unknown>;

/** One function for each command. */
export interface Commands {
  /** What to show first. */
  start: () => Promise<Start>;
  /** How this person likes to see things. */
  settings: () => Promise<Settings>;
  /** Changes how this person likes to see things. */
  setSettings: (settings: Settings) => Promise<Settings>;
  /** The sites of this computer. */
  listSites: () => Promise<SitesPage>;
  /** Opens the store again, to write if whoever had it has let go of it. */
  reopenStore: () => Promise<SitesPage>;
  /** Places whose text holds every word. */
  search: (words: string) => Promise<SiteHits>;
  /** Adds an empty site. */
  newSite: (label: string, address: string) => Promise<SitesPage>;
  /** Adds the invented demo site as a site to work on. */
  addDemoSite: () => Promise<SitesPage>;
  /** Copies a site as it stands, without its history. */
  duplicateSite: (id: string, label: string) => Promise<SitesPage>;
  /** Puts a site into the archive. */
  archiveSite: (id: string) => Promise<SitesPage>;
  /** Takes a site out of the archive. */
  restoreSite: (id: string) => Promise<SitesPage>;
  /** Says how far the job has come: survey, scheme, price or fit. */
  putStage: (id: string, stage: string) => Promise<SitesPage>;
  /** Takes in a survey file or a site file. */
  importSite: (path: string) => Promise<SitesPage>;
  /** Writes a site into a file. */
  exportSite: (id: string, path: string, form: ExportForm) => Promise<SitesPage>;
  /** Says that a device's changes count from now on. */
  knowDevice: (device: string) => Promise<SitesPage>;
  /** Says who works here and what this device is called. */
  nameDevice: (person: string, device: string) => Promise<SitesPage>;
  /** Opens a survey file to look at; refused with a `Refusal`. */
  openFile: (path: string) => Promise<Opened>;
  /** Opens a site, as it is now. */
  openSite: (id: string) => Promise<Opened>;
  /** Makes edits as one change: one step to take back. */
  edit: (edits: Edit[]) => Promise<Opened>;
  /** Takes back this device's last change. */
  undo: () => Promise<Opened>;
  /** Makes again what was taken back last. */
  redo: () => Promise<Opened>;
  /** Plans the open site as it would be with edits; nothing is kept. `beside` is the number of the page that the asker has. */
  tryEdits: (edits: Edit[], beside: number) => Promise<Tried>;
  /** What was changed, last first, and over what people disagree. */
  history: () => Promise<HistoryPage>;
  /** The open site as it was with a change, to look at. */
  viewAt: (change: string) => Promise<Opened>;
  /** Settles a disagreement by one of its values. */
  settle: (name: string, number: number) => Promise<Opened>;
  /** Every photo of the open site with where it belongs, those taken elsewhere, clocks that seem wrong. */
  photos: () => Promise<PhotosPage>;
  /** Takes in files and all that is in folders; the event `photo-progress` tells how far it is. */
  addPhotos: (paths: string[], offset: string | null) => Promise<PhotoImport>;
  /** Stops adding photos after the files in hand; what was added stays. */
  cancelPhotos: () => Promise<void>;
  /** Stops writing copies after the photo in hand; what was written stays. */
  cancelCopies: () => Promise<void>;
  /** Takes the seconds by which a clock was ahead away from the times of photos. */
  shiftClock: (photos: string[], seconds: number) => Promise<Opened>;
  /** Writes a JPEG of a photo with its marks drawn on it, and says so. */
  renderMarked: (photo: string, path: string) => Promise<string>;
  /** Writes copies for a client into a folder; with marks drawn on them they tell nothing else; the event `copies-progress` tells how far it is. */
  exportClient: (photos: string[], tell: CopiesTell, marks: boolean, folder: string) => Promise<PhotoCopies>;
  /** Writes the photo log as CSV, and says so. */
  exportPhotoLog: (path: string) => Promise<string>;
  /** Writes rails, mains points and photo positions as GeoJSON, and says so. */
  exportGeojson: (path: string) => Promise<string>;
  /** The fields of every sheet of a catalogue. */
  partForms: () => Promise<SheetForm[]>;
  /** The catalogues, with the parts of one. */
  catalogues: (id: string | null) => Promise<CataloguePage>;
  /** What is wrong with a form, field by field. */
  checkPart: (id: string, sheet: Sheet, was: string | null, cells: { [field: string]: string }) => Promise<FieldFault[]>;
  /** Keeps a form as one step to take back. */
  savePart: (id: string, sheet: Sheet, was: string | null, cells: { [field: string]: string }) => Promise<CataloguePage>;
  /** Takes a part out of a catalogue. */
  deletePart: (id: string, part: string) => Promise<CataloguePage>;
  /** Copies a catalogue under another name. */
  copyCatalogue: (id: string, name: string) => Promise<CataloguePage>;
  /** Puts a catalogue in force: sites are planned with it. */
  putInForce: (id: string) => Promise<CataloguePage>;
  /** Settles a catalogue that people changed at once by one of their versions. */
  settleCatalogue: (id: string, number: number) => Promise<CataloguePage>;
  /** What a file would change in a catalogue, or what it would be as one of its own. */
  previewImport: (id: string | null, path: string) => Promise<Preview>;
  /** Takes in a file that was looked at. */
  takeImport: (id: string | null, path: string, fileSha256: string, contentSha256: string) => Promise<CataloguePage>;
  /** Writes a catalogue, a list of its parts or a template into a file, and says so. */
  exportCatalogue: (id: string, path: string, form: CatalogueForm) => Promise<string>;
  /** Takes back this device's last change of catalogues. */
  undoCatalogue: (id: string | null) => Promise<CataloguePage>;
  /** Makes again what was taken back last. */
  redoCatalogue: (id: string | null) => Promise<CataloguePage>;
  /** How things stand with the shared folder; the event `shared` tells when that changes. */
  shared: () => Promise<SharedPage>;
  /** How it stands with sharing, in little. */
  sharedSign: () => Promise<SharedSign>;
  /** Begins a team in an empty place. */
  startTeam: (place: PlaceForm, sealed: boolean) => Promise<SharedPage>;
  /** Asks to be let into a team. */
  joinTeam: (place: PlaceForm, code: string) => Promise<SharedPage>;
  /** Changes where the team's files lie and how that is reached. */
  changePlace: (place: PlaceForm) => Promise<SharedPage>;
  /** Stops the look at a place, for one of the three above. */
  stopLooking: () => Promise<void>;
  /** Invites somebody, with a code for one device. */
  invite: () => Promise<ExchangeInvitation>;
  /** Lets a device in that asks with an invitation. */
  approveDevice: (device: string) => Promise<SharedPage>;
  /** Shuts a device out of what comes after. */
  removeDevice: (device: string) => Promise<SharedPage>;
  /** Says that what is here of a device outside the team counts for the whole team. */
  acceptDevice: (device: string) => Promise<SharedPage>;
  /** Keeps a site, or every one, with the originals of its photos on this device, or no longer. */
  keepSite: (id: string | null, kept: boolean) => Promise<SharedPage>;
  /** Ends sharing on this device. */
  leaveTeam: () => Promise<SharedPage>;
  /** Begins a round now. */
  shareNow: () => Promise<void>;
  /** Stops the round on its way; what was shared stays. */
  stopSharing: () => Promise<void>;
  /** Why a number on the screen is what it is. */
  explain: (asked: Asked) => Promise<Explanation>;
}

export function commands(call: Call): Commands {
  return {
    start: () => call('start', {}) as Promise<Start>,
    settings: () => call('settings', {}) as Promise<Settings>,
    setSettings: (settings) => call('set_settings', { settings }) as Promise<Settings>,
    listSites: () => call('list_sites', {}) as Promise<SitesPage>,
    reopenStore: () => call('reopen_store', {}) as Promise<SitesPage>,
    search: (words) => call('search', { words }) as Promise<SiteHits>,
    newSite: (label, address) => call('new_site', { label, address }) as Promise<SitesPage>,
    addDemoSite: () => call('add_demo_site', {}) as Promise<SitesPage>,
    duplicateSite: (id, label) => call('duplicate_site', { id, label }) as Promise<SitesPage>,
    archiveSite: (id) => call('archive_site', { id }) as Promise<SitesPage>,
    restoreSite: (id) => call('restore_site', { id }) as Promise<SitesPage>,
    putStage: (id, stage) => call('put_stage', { id, stage }) as Promise<SitesPage>,
    importSite: (path) => call('import_site', { path }) as Promise<SitesPage>,
    exportSite: (id, path, form) => call('export_site', { id, path, form }) as Promise<SitesPage>,
    knowDevice: (device) => call('know_device', { device }) as Promise<SitesPage>,
    nameDevice: (person, device) => call('name_device', { person, device }) as Promise<SitesPage>,
    openFile: (path) => call('open_file', { path }) as Promise<Opened>,
    openSite: (id) => call('open_site', { id }) as Promise<Opened>,
    edit: (edits) => call('edit', { edits }) as Promise<Opened>,
    undo: () => call('undo', {}) as Promise<Opened>,
    redo: () => call('redo', {}) as Promise<Opened>,
    tryEdits: (edits, beside) => call('try_edits', { edits, beside }) as Promise<Tried>,
    history: () => call('history', {}) as Promise<HistoryPage>,
    viewAt: (change) => call('view_at', { change }) as Promise<Opened>,
    settle: (name, number) => call('settle', { name, number }) as Promise<Opened>,
    photos: () => call('photos', {}) as Promise<PhotosPage>,
    addPhotos: (paths, offset) => call('add_photos', { paths, offset }) as Promise<PhotoImport>,
    cancelPhotos: () => call('cancel_photos', {}) as Promise<void>,
    cancelCopies: () => call('cancel_copies', {}) as Promise<void>,
    shiftClock: (photos, seconds) => call('shift_clock', { photos, seconds }) as Promise<Opened>,
    renderMarked: (photo, path) => call('render_marked', { photo, path }) as Promise<string>,
    exportClient: (photos, tell, marks, folder) => call('export_client', { photos, tell, marks, folder }) as Promise<PhotoCopies>,
    exportPhotoLog: (path) => call('export_photo_log', { path }) as Promise<string>,
    exportGeojson: (path) => call('export_geojson', { path }) as Promise<string>,
    partForms: () => call('part_forms', {}) as Promise<SheetForm[]>,
    catalogues: (id) => call('catalogues', { id }) as Promise<CataloguePage>,
    checkPart: (id, sheet, was, cells) => call('check_part', { id, sheet, was, cells }) as Promise<FieldFault[]>,
    savePart: (id, sheet, was, cells) => call('save_part', { id, sheet, was, cells }) as Promise<CataloguePage>,
    deletePart: (id, part) => call('delete_part', { id, part }) as Promise<CataloguePage>,
    copyCatalogue: (id, name) => call('copy_catalogue', { id, name }) as Promise<CataloguePage>,
    putInForce: (id) => call('put_in_force', { id }) as Promise<CataloguePage>,
    settleCatalogue: (id, number) => call('settle_catalogue', { id, number }) as Promise<CataloguePage>,
    previewImport: (id, path) => call('preview_import', { id, path }) as Promise<Preview>,
    takeImport: (id, path, fileSha256, contentSha256) => call('take_import', { id, path, fileSha256, contentSha256 }) as Promise<CataloguePage>,
    exportCatalogue: (id, path, form) => call('export_catalogue', { id, path, form }) as Promise<string>,
    undoCatalogue: (id) => call('undo_catalogue', { id }) as Promise<CataloguePage>,
    redoCatalogue: (id) => call('redo_catalogue', { id }) as Promise<CataloguePage>,
    shared: () => call('shared', {}) as Promise<SharedPage>,
    sharedSign: () => call('shared_sign', {}) as Promise<SharedSign>,
    startTeam: (place, sealed) => call('start_team', { place, sealed }) as Promise<SharedPage>,
    joinTeam: (place, code) => call('join_team', { place, code }) as Promise<SharedPage>,
    changePlace: (place) => call('change_place', { place }) as Promise<SharedPage>,
    stopLooking: () => call('stop_looking', {}) as Promise<void>,
    invite: () => call('invite', {}) as Promise<ExchangeInvitation>,
    approveDevice: (device) => call('approve_device', { device }) as Promise<SharedPage>,
    removeDevice: (device) => call('remove_device', { device }) as Promise<SharedPage>,
    acceptDevice: (device) => call('accept_device', { device }) as Promise<SharedPage>,
    keepSite: (id, kept) => call('keep_site', { id, kept }) as Promise<SharedPage>,
    leaveTeam: () => call('leave_team', {}) as Promise<SharedPage>,
    shareNow: () => call('share_now', {}) as Promise<void>,
    stopSharing: () => call('stop_sharing', {}) as Promise<void>,
    explain: (asked) => call('explain', { asked }) as Promise<Explanation>,
  };
}
