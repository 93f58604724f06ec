/** A program behind the survey pages that keeps everything in memory. For previews and tests only. */
import type { Survey } from '../src/lib/generated/survey';
import type { Edit, Opened, SurveyBackend } from '../src/lib/session/types';
import { apply } from './apply';
import { pageOf, NOTHING } from './page';

interface Step {
  before: Survey;
  after: Survey;
  said: string;
}

/** The fake, with what was asked of it. */
export interface FakeBackend extends SurveyBackend {
  opened: () => Opened;
  /** Every list of edits that was sent. */
  sent: Edit[][];
  /** Undo and redo calls in order. */
  steps: string[];
}

export function fakeBackend(survey: Survey): FakeBackend {
  const done: Step[] = [];
  const undone: Step[] = [];
  let now = survey;
  let said: string | null = null;
  const sent: Edit[][] = [];
  const steps: string[] = [];
  const opened = (): Opened => ({ id: now.site.id, read_only: null, as_of: null, way_on: 'none', page: pageOf(now), page_number: done.length + 1, survey: now, catalogue: { label: 'Demo', priced_on: '2030-01-01', invented: true, stands_in: null }, cost: NOTHING, bound: NOTHING, luminaire_parts: [], said, undo: done.at(-1)?.said ?? null, redo: undone.at(-1)?.said ?? null });
  return {
    sent,
    steps,
    opened,
    edit: (edits) => {
      sent.push(edits);
      try {
        let next = now;
        const sentences = edits.map((edit) => {
          const made = apply(next, edit);
          next = made.survey;
          return made.said;
        });
        said = sentences.length > 1 ? `${sentences.length} changes, the first: ${sentences[0]}` : (sentences[0] ?? '');
        done.push({ before: now, after: next, said });
        undone.length = 0;
        now = next;
        return Promise.resolve(opened());
      } catch (thrown) {
        return Promise.reject(thrown);
      }
    },
    undo: () => {
      steps.push('undo');
      const step = done.pop();
      if (!step) return Promise.reject({ message: 'There is nothing to take back.', faults: [] });
      undone.push(step);
      now = step.before;
      said = `taken back: ${step.said}`;
      return Promise.resolve(opened());
    },
    redo: () => {
      steps.push('redo');
      const step = undone.pop();
      if (!step) return Promise.reject({ message: 'There is nothing to make again.', faults: [] });
      done.push(step);
      now = step.after;
      said = `made again: ${step.said}`;
      return Promise.resolve(opened());
    },
  };
}
