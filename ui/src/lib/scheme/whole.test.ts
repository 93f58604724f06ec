import { expect, it } from 'vitest';
import { survey, tried, opened } from './scheme.fixture';
import { whole } from './whole';

it('puts a page together from what was sent and what was there', () => {
  const known = opened(survey()).page;
  const sent = tried(survey(), []);
  const [first] = known.findings;
  const far = { ...first!, index: 7, message: 'far' };
  const page = { ...sent.page, rails: [1, sent.page.rails[0]!], findings: [sent.page.findings[0]!, 1, 0] };
  const put = whole({ ...sent, page }, { ...known, findings: [first!, far] }).page;
  expect(put.rails[0]).toBe(known.rails[1]);
  expect(put.rails[1]).toBe(sent.page.rails[0]);
  expect(put.findings.map((line) => [line.index, line.message])).toEqual([[0, 'drop'], [1, 'far'], [2, 'drop']]);
  expect(far.index).toBe(7);
});

it('leaves a page that was sent whole as it is', () => {
  const sent = tried(survey(), []);
  expect(whole(sent, opened(survey()).page)).toEqual(sent);
});
