/** The one module through which the pages reach the program. */
export { backend, call } from './tauri';
export { asBackendError, BackendError, type Backend, type CatalogueCommand, type PhotoCommand, type SharedCommand } from './backend';
export { chooseTarget } from './target';
