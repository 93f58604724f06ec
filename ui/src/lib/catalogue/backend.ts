/** What the catalogue page asks of the program. A failed command is refused with a `Refusal`. */
import type { CatalogueCommand } from '../backend';
import type { Commands } from '../generated/commands';

export interface CatalogueBackend extends Pick<Commands, CatalogueCommand> {
  /** Lets the person choose a catalogue file or a list of parts; null when nothing was chosen. */
  chooseParts: () => Promise<string | null>;
  /** Lets the person choose where a file is written; null when nothing was chosen. */
  chooseTarget: (title: string, name: string, ending: string) => Promise<string | null>;
}
