import { expect, it } from 'vitest';
import type { Edit } from '../generated/edit';
import { opened, program, survey } from './scheme.fixture';
import { SchemeSession } from './session.svelte';

it('still weighs a lock that was asked about as soon as the shell had shown the change', async () => {
  const fake = program(survey());
  const drop: Edit[] = [{ kind: 'set_brief', change: { kind: 'drop_percent', value: 4 } }];
  let weighed: Promise<unknown> = Promise.resolve('never asked');
  const session: SchemeSession = new SchemeSession(opened(survey()), {
    ...fake,
    // As the window's shell does: it shows the answer itself before it hands it on.
    edit: async (edits) => {
      const answer = await fake.edit(edits);
      session.show(answer);
      // One question is under way, the other waits behind it.
      void session.rehearse('lock a', []);
      weighed = session.rehearse('lock b', []);
      return answer;
    },
  });
  fake.holds = true;
  expect(await session.keep(drop)).toBe(true);
  fake.holds = false;
  fake.letGo();
  expect(await weighed).toMatchObject({ tried: {} });
  expect(session.opened.survey.brief.drop_percent).toBe(4);
});
