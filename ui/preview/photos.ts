/** The photos stage on the demo site in memory: `npm run dev`, then /preview/photos.html. `?many` makes 5,000, `?none`, `?dark`. */
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '../src/lib/theme/colours.css';
import '../src/lib/theme/base.css';
import { mount } from 'svelte';
import demo from '../../fixtures/demo/site.json';
import type { Photo, Survey } from '../src/lib/generated/survey';
import type { PictureSize } from '../src/lib/photos/backend';
import type { PhotoFile } from '../src/lib/generated/types';
import { normalise } from './normalise';
import { contentOf, line, photo } from './photosFake';
import PhotosPreview from './PhotosPreview.svelte';

const asked = new URLSearchParams(location.search);
document.documentElement.dataset.theme = asked.has('dark') ? 'dark' : 'day';
const files = import.meta.glob<string>('../../fixtures/demo/photos/*.jpg', { eager: true, query: '?url', import: 'default' });
const urls = Object.values(files);

const survey: Survey = normalise(demo);
survey.photos = survey.photos.map((each) => ({ ...each, content_sha256: contentOf(each.id) }));
const pictures = new Map(survey.photos.map((each) => [each.content_sha256, Object.entries(files).find(([path]) => path.endsWith(each.file.replace('photos/', '')))?.[1] ?? urls[0]!]));
const at = { latitude_deg: 54.7500011, longitude_deg: 3.2499, altitude_mm: null, accuracy_mm: 4000 };
const more: Photo[] = [
  photo('fresh-1', { position: at, note: 'second post from the foot' }),
  photo('fresh-2', { position: { ...at, accuracy_mm: null } }),
  photo('missing-1', { note: 'taken by the other crew' }),
  photo('named-1', { content_sha256: null }),
];
survey.photos.push(...more);
if (asked.has('many')) {
  const rails = survey.rails;
  for (let n = 0; n < 5000; n += 1) survey.photos.push(photo(`m${n}`, { note: `photo ${n + 1}`, shows: n % 7 === 0 ? { kind: 'general' } : { kind: 'rail', rail: rails[n % rails.length]!.id, chainage_mm: (n * 37) % 5000 } }));
}
if (asked.has('none')) survey.photos = [];

function lines(now: Survey): PhotoFile[] {
  return now.photos.map((each) => {
    const first = now.rails[0]!;
    const near = { rail: first.id, label: first.label, chainage_mm: 2140, least_chainage_mm: 600, greatest_chainage_mm: 4980, way: { distance_m: 1.2, bearing_deg: 80 }, uncertainty_m: 5, accuracy_assumed: each.id === 'fresh-2', certain: each.id === 'fresh-1', sentence: `1.2 m from ${first.label} at 2,140 mm; photo and site agree within 5 m` };
    if (each.id.startsWith('fresh')) return line(each, { nearest: near, heading: { degrees: 112.5, north: 'magnetic' }, offset_source: each.id === 'fresh-2' ? 'assumed' : 'satellites', from_site: { distance_m: 8.4, bearing_deg: 120 }, remarks: each.id === 'fresh-2' ? ['the camera wrote no offset; +02:00 is assumed'] : [] });
    if (each.id.startsWith('missing')) return line(each, { state: 'missing' });
    return line(each, { width_px: 1600, height_px: 1200, from_site: each.position ? { distance_m: 11, bearing_deg: 200 } : null });
  });
}
const away = survey.photos.some((each) => each.id === 'ph-office') || survey.photos.length > 0 ? [{ photos: survey.photos.filter((each) => each.file.includes('office') || each.id.startsWith('fresh')).map((each) => each.id), distance_m: 4100, bearing_deg: 40, sentence: '3 photos were taken 4.1 km away, to the north-east: do they belong to another job?' }] : [];
const clocks = survey.photos.length > 0 ? [{ camera: 'Invented Pocket One', photos: ['ph-stair', 'ph-landing'], ahead_s: 3720, against: 'satellites' as const, sentence: 'The clock of Invented Pocket One seems to be 1 h 2 min ahead on 2 photos: put them right?' }] : [];
/** A picture of 320 pixels, as the program keeps them for the grid. */
async function small(url: string): Promise<string> {
  const whole = await createImageBitmap(await (await fetch(url)).blob());
  const canvas = document.createElement('canvas');
  const part = 320 / Math.max(whole.width, whole.height);
  [canvas.width, canvas.height] = [Math.round(whole.width * part), Math.round(whole.height * part)];
  canvas.getContext('2d')!.drawImage(whole, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.9));
  return blob === null ? url : URL.createObjectURL(blob);
}
const smaller = new Map(await Promise.all(urls.map(async (url) => [url, await small(url)] as const)));
const urlOf = (content: string) => pictures.get(content) ?? urls[parseInt(content.slice(-6), 16) % urls.length]!;
const picture = (content: string, size: PictureSize) => (size === 320 ? smaller.get(urlOf(content))! : urlOf(content));
mount(PhotosPreview, { target: document.getElementById('app')!, props: { survey, lines, away, clocks, picture } });
