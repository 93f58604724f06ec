/** What the open site's people wrote, so that sentences about it keep their words. */
import type { Survey } from '../generated/survey';
import { lengthsBeside, sentence } from './sentence';
import { units } from './setting.svelte';

let lengths = $state.raw(lengthsBeside([]));

/** Tells whose words are kept from now on. */
export function hear(survey: Survey): void {
  const things = [survey.site, ...survey.rails, ...survey.rails.flatMap((rail) => rail.features), ...survey.mains_points, ...survey.driver_places, ...survey.routes];
  lengths = lengthsBeside(things.map((thing) => thing.label));
}

/** A sentence of the program in the units that the person reads. */
export function spoken(text: string): string {
  return sentence(text, units.system, lengths);
}
