/** What the pages may ask of the program. */
import type { Commands } from '../generated/commands';
import type { ExportForm, Refusal } from '../generated/types';

/** What the photos page asks, through a backend of its own. */
export type PhotoCommand = 'photos' | 'addPhotos' | 'cancelPhotos' | 'cancelCopies' | 'shiftClock' | 'renderMarked' | 'exportClient' | 'exportPhotoLog' | 'exportGeojson';

/** What the catalogue page asks, through a backend of its own. */
export type CatalogueCommand =
  'partForms' | 'catalogues' | 'checkPart' | 'savePart' | 'deletePart' | 'copyCatalogue' | 'putInForce' | 'settleCatalogue' | 'previewImport' | 'takeImport' | 'exportCatalogue' | 'undoCatalogue' | 'redoCatalogue';

/** What the page of the shared folder asks, through a backend of its own. */
export type SharedCommand =
  'shared' | 'sharedSign' | 'startTeam' | 'joinTeam' | 'changePlace' | 'stopLooking' | 'invite' | 'approveDevice' | 'removeDevice' | 'acceptDevice' | 'keepSite' | 'leaveTeam' | 'shareNow' | 'stopSharing';

export interface Backend extends Omit<Commands, PhotoCommand | CatalogueCommand | SharedCommand> {
  /** Lets the person choose a survey file or a site file; null when nothing was chosen. */
  chooseFile: () => Promise<string | null>;
  /** Lets the person choose where a site is written to; null when nothing was chosen. */
  choosePlace: (label: string, form: ExportForm) => Promise<string | null>;
}

/** The one kind of error that leaves this folder. */
export class BackendError extends Error {
  /** One line for each fault in the file, if a file was at fault. */
  readonly faults: string[];

  constructor(refusal: Refusal) {
    super(refusal.message);
    this.name = 'BackendError';
    this.faults = refusal.faults;
  }
}

/** Turns whatever a failed call threw into the one kind of error. */
export function asBackendError(thrown: unknown): BackendError {
  if (thrown instanceof BackendError) return thrown;
  if (typeof thrown === 'object' && thrown !== null && 'message' in thrown) {
    const faults = 'faults' in thrown && Array.isArray(thrown.faults) ? thrown.faults.map(String) : [];
    return new BackendError({ message: String(thrown.message), faults });
  }
  return new BackendError({ message: String(thrown), faults: [] });
}
