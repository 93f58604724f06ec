/** The page of a trial, put together from what was sent and from the page that it was asked beside. */
import type { Beside, BesidePage, FindingLine, RailPage, SitePage, Tried } from '../generated/types';

/** The site as it would be. */
export interface Rehearsed extends Omit<Tried, 'page'> {
  page: SitePage;
}

/** A trial as a whole. What is as it was is the same object, so that it is not drawn again. */
export function whole(tried: Tried, known: SitePage): Rehearsed {
  const { page } = tried;
  return { ...tried, page: { ...page, rails: railsOf(page, known), findings: findingsOf(page, known) } };
}

function railsOf(page: BesidePage, known: SitePage): RailPage[] {
  return page.rails.flatMap((rail) => own(rail, known.rails) ?? []);
}

/** A finding is asked about by its place in the list, which may have changed. */
function findingsOf(page: BesidePage, known: SitePage): FindingLine[] {
  const findings = page.findings.flatMap((line) => own(line, known.findings) ?? []);
  return findings.map((line, index) => (line.index === index ? line : { ...line, index }));
}

function own<Entry extends object>(entry: Beside<Entry>, known: Entry[]): Entry | undefined {
  return typeof entry === 'number' ? known[entry] : entry;
}
