/** A few of the program's own findings, worded as it words them. For previews and tests only. */
import { mm as bare } from '../src/lib/figures';
import type { Subject } from '../src/lib/generated/plan';
import type { Rail, Survey } from '../src/lib/generated/survey';
import type { FindingLine, Mark } from '../src/lib/generated/types';
import { toolOf } from '../src/lib/survey/kinds';
import { spans } from './page';

type Told = Omit<FindingLine, 'index'>;

const mm = (value: number) => `${bare(value)}\u202fmm`;

function told(rail: Rail, rule: string, mark: Mark, about: Subject, subject: string, message: string, advice: string): Told {
  return { rule, about, subject, rails: [rail.id], mark, message, figures: '', advice, source: 'preview' };
}

function ofRail(rail: Rail): Told[] {
  const found: Told[] = [];
  const length = spans(rail).at(-1)?.end_mm ?? 0;
  const add = (rule: string, mark: Mark, message: string, advice: string) => found.push(told(rail, rule, mark, { kind: 'rail', rail: rail.id }, rail.label, message, advice));
  if (rail.pieces.length === 0) add('closure', 'stop', `Rail ${rail.label} has no pieces.`, 'Measure its straights and bends in order from the datum.');
  else if (!rail.overall_mm) add('closure', 'not_evaluated', `Rail ${rail.label} has no overall measurement to check its pieces against.`, 'Tape the whole rail once along the same line, from the datum to the far end.');
  else {
    const off = Math.abs(length - rail.overall_mm.value_mm);
    const mark: Mark = off <= 12 ? 'pass' : off <= 25 ? 'caution' : 'stop';
    add('closure', mark, `The pieces of rail ${rail.label} add up to ${mm(length)}, measured overall ${mm(rail.overall_mm.value_mm)}: ${mm(off)} apart, 12 mm expected at most.`, mark === 'pass' ? '' : 'Measure again while you are there: a piece is missing, misread, or taped along another line.');
  }
  if (!rail.tube.wall_mm) add('tube-wall', 'not_evaluated', `The wall of rail ${rail.label} is not measured.`, 'Measure it at an open end, an existing hole, or with a thickness gauge.');
  const sorted = [...rail.features].sort((a, b) => a.chainage_mm.value_mm - b.chainage_mm.value_mm);
  sorted.forEach((feature, index) => {
    const at = feature.chainage_mm.value_mm;
    const word = toolOf(feature.kind).word;
    const about: Subject = { kind: 'feature', rail: rail.id, feature: feature.id };
    const addHere = (rule: string, mark: Mark, message: string, advice: string) => found.push(told(rail, rule, mark, about, `${rail.label}, ${word} at ${mm(at)}`, message, advice));
    if (at > length + 5) addHere('feature-on-rail', 'stop', `The ${word} at ${mm(at)} is not on rail ${rail.label}, which runs from 0 mm to ${mm(length)}.`, 'Correct its chainage, or add the missing piece of rail.');
    const before = sorted[index - 1];
    if (before && before.kind === 'post' && feature.kind === 'post' && at - before.chainage_mm.value_mm < (before.width_mm + feature.width_mm) / 2)
      addHere('features-overlap', 'caution', `Two posts of rail ${rail.label} overlap at ${mm(before.chainage_mm.value_mm)} and ${mm(at)}.`, 'Remove one if it was entered twice, or measure both again.');
    if (feature.bore.kind === 'unknown' || feature.bore.kind === 'assumed')
      addHere('passage', 'not_evaluated', `Nobody has proved that a cable passes the ${word} at ${mm(at)} along the bore.`, 'Pull a draw-wire past it, or look with a camera; until then the drilling papers wait.');
  });
  return found;
}

/** The findings of a survey, stops first. */
export function findingsOf(survey: Survey): Told[] {
  const order: Mark[] = ['stop', 'caution', 'not_evaluated', 'pass'];
  const places = survey.driver_places
    .filter((place) => place.reachable === 'unknown')
    .map((place): Told => ({ rule: 'driver-place', about: { kind: 'driver_place', id: place.id }, subject: `Driver place ${place.label}`, rails: [], mark: 'not_evaluated', message: `Whether ${place.label} can be reached without dismantling was not asked.`, figures: '', advice: 'Look, and say yes or no.', source: 'preview' }));
  return [...survey.rails.flatMap(ofRail), ...places].sort((a, b) => order.indexOf(a.mark) - order.indexOf(b.mark));
}
