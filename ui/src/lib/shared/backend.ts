/** What the page of the shared folder asks of the program. A failed command is refused with a `Refusal`. */
import type { SharedCommand } from '../backend';
import type { Commands } from '../generated/commands';
import type { SharedSign } from '../generated/types';

export interface SharedBackend extends Pick<Commands, SharedCommand> {
  /** Hears how it stands with sharing, whenever that changes; answers with what ends the hearing. */
  onSign: (tell: (sign: SharedSign) => void) => Promise<() => void>;
  /** Lets the person choose a folder; null when nothing was chosen. */
  chooseFolder: (title: string) => Promise<string | null>;
  /** The same for a file. */
  chooseFile: (title: string) => Promise<string | null>;
}
