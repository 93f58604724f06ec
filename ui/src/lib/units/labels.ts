/** How fields and columns name the unit of what is typed in them. */
import type { System } from './show';

/** What a bare number stands for, as a label says it. */
export function unitName(system: System): string {
  return system === 'metric' ? 'mm' : 'inches';
}

/** What is typed for chainages besides lengths, as an example. */
export function examples(system: System): string {
  return system === 'metric' ? '+1100 or x12' : '+43 or x12';
}

/** The head of a column of lengths: feet and inches carry their own signs. */
export function columnHead(word: string, system: System): string {
  return system === 'metric' ? `${word} mm` : word;
}
