/** The one module through which the pages reach the program. */
export { backend } from './tauri';
export { asBackendError, BackendError, type Backend } from './backend';
