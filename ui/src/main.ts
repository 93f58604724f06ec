import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './lib/theme/colours.css';
import './lib/theme/base.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { backend } from './lib/backend';
import { catalogueBackend } from './lib/catalogue/tauri';
import { photosBackend } from './lib/photos/tauri';
import { sharedBackend } from './lib/shared/tauri';
import { warm } from './lib/scheme/warm';
import { showTheme } from './lib/theme/theme';

// Until the program has said what the person chose, the desktop's theme is shown.
showTheme('desktop');
const target = document.getElementById('app');
if (target === null) throw new Error('the page has no place for the program');
mount(App, { target, props: { backend, photos: photosBackend, catalogue: catalogueBackend, shared: sharedBackend, listed: () => setTimeout(warm) } });
