/** The survey stage on the demo site in memory: `npm run survey`. `?long` adds a rail of 200 m; `?dark` and `?imperial` do what they say. */
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '../src/lib/theme/colours.css';
import '../src/lib/theme/base.css';
import { mount } from 'svelte';
import demo from '../../fixtures/demo/site.json';
import { units } from '../src/lib/units/setting.svelte';
import { fakeBackend } from './fake';
import { longRail } from './long';
import { normalise } from './normalise';
import Preview from './Preview.svelte';

const asked = new URLSearchParams(location.search);
document.documentElement.dataset.theme = asked.has('dark') ? 'dark' : 'day';
units.system = asked.has('imperial') ? 'imperial' : 'metric';
const survey = normalise(demo);
if (asked.has('long')) survey.rails.unshift(longRail(survey.rails[0]!));
const backend = fakeBackend(survey);
mount(Preview, { target: document.getElementById('app')!, props: { backend } });
