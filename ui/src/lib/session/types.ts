/** What crosses between the open site and the survey pages. */
import type { Backend } from '../backend/backend';
import type { FeatureChange } from '../generated/edit';

export type { DriverPlaceChange, Edit, FeatureChange, MainsPointChange, RailChange, RouteChange, SiteChange, ThingName } from '../generated/edit';
export type { Opened } from '../generated/types';

/** What the survey pages ask of the program; every call answers with the whole site. */
export type SurveyBackend = Pick<Backend, 'edit' | 'undo' | 'redo'>;

/** What a feature is, with its details. */
export type FeatureKind = Extract<FeatureChange, { kind: 'what' }>['value'];
