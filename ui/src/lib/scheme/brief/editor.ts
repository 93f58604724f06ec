/** Who takes the edits of a brief: the site itself, or a brief that is only tried beside it. */
import type { Edit } from '../../generated/edit';

export interface BriefEditor {
  /** Something is being typed; it is drawn and not kept. */
  type: (edits: Edit[], pressedAt: number) => void;
  /** What was being typed is taken back. */
  drop: () => void;
  /** Something is meant. */
  keep: (edits: Edit[]) => void;
}
