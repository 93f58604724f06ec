/** Makes edits on a survey in memory. For previews and tests only; the program has its own. */
import type { Survey } from '../src/lib/generated/survey';
import type { Edit, ThingName } from '../src/lib/session/types';

type Loose = Record<string, unknown> & { id: string };

/** The survey after an edit, and what it did in words; throws a refusal. */
export function apply(survey: Survey, edit: Edit): { survey: Survey; said: string } {
  const next = structuredClone(survey);
  return { survey: next, said: make(next, edit) };
}

function refuse(message: string): never {
  throw { message, faults: [] };
}

function find<Thing extends { id: string }>(things: Thing[], id: string, word: string): Thing {
  return things.find((each) => each.id === id) ?? refuse(`There is no ${word} ${id}.`);
}

function make(survey: Survey, edit: Edit): string {
  switch (edit.kind) {
    case 'set_site':
      (survey.site as unknown as Loose)[edit.change.kind] = edit.change.value;
      return `${edit.change.kind} of the site changed`;
    case 'add_rail':
      if (edit.new.pieces.length === 0) refuse('$.new.pieces: [] has 0 items; accepted: a list of 1 to 1000 items');
      survey.rails.push(edit.new);
      return `rail ${edit.new.label} added`;
    case 'set_rail': {
      const rail = find(survey.rails, edit.rail, 'rail') as unknown as Loose;
      const { kind, value } = edit.change;
      if (kind.startsWith('tube_')) (rail.tube as Loose)[kind.slice(5)] = value;
      else if (kind.startsWith('datum_')) (rail.datum as Loose)[kind.slice(6)] = value;
      else if (kind === 'bonded' || kind === 'lightning' || kind === 'near_traction') (rail.bonding as Loose)[kind] = value;
      else rail[kind] = value;
      return `${kind.replaceAll('_', ' ')} of rail ${String(rail.label)} changed`;
    }
    case 'set_ownership':
      find(survey.rails, edit.rail, 'rail').ownership = edit.ownership;
      return 'ownership changed';
    case 'add_piece':
      find(survey.rails, edit.rail, 'rail').pieces.push(edit.new);
      return `${edit.new.kind} added`;
    case 'set_piece': {
      const { pieces } = find(survey.rails, edit.rail, 'rail');
      pieces[pieces.findIndex((piece) => piece.id === edit.piece.id)] = edit.piece;
      return `${edit.piece.kind} changed`;
    }
    case 'add_feature': {
      const rail = find(survey.rails, edit.rail, 'rail');
      if (rail.features.some((feature) => feature.id === edit.new.id)) refuse(`There is a feature ${edit.new.id} already.`);
      rail.features.push(edit.new);
      return `${edit.new.kind.replaceAll('_', ' ')} added at ${edit.new.chainage_mm.value_mm} mm`;
    }
    case 'move_feature': {
      const feature = find(find(survey.rails, edit.rail, 'rail').features, edit.feature, 'feature');
      feature.chainage_mm = edit.to_mm;
      return `${feature.kind.replaceAll('_', ' ')} moved to ${edit.to_mm.value_mm} mm`;
    }
    case 'set_feature': {
      const rail = find(survey.rails, edit.rail, 'rail');
      const feature = find(rail.features, edit.feature, 'feature');
      if (edit.change.kind === 'what') {
        const { id, label, chainage_mm, keep_clear_mm, bore, note } = feature;
        rail.features[rail.features.indexOf(feature)] = { id, label, chainage_mm, keep_clear_mm, bore, note, ...edit.change.value };
      } else (feature as unknown as Loose)[edit.change.kind] = edit.change.value;
      return `${edit.change.kind.replaceAll('_', ' ')} of ${feature.kind.replaceAll('_', ' ')} changed`;
    }
    case 'add_mains_point':
      survey.mains_points.push(edit.new);
      return `mains point ${edit.new.label} added`;
    case 'add_driver_place':
      survey.driver_places.push(edit.new);
      return `driver place ${edit.new.label} added`;
    case 'add_route':
      survey.routes.push(edit.new);
      return `route ${edit.new.label} added`;
    case 'set_photo': {
      const photo = find(survey.photos, edit.id, 'photo');
      (photo as unknown as Loose)[edit.change.kind] = edit.change.value;
      return `${edit.change.kind.replaceAll('_', ' ')} of photo ${photo.file} changed`;
    }
    case 'set_mains_point':
      return set(find(survey.mains_points, edit.id, 'mains point'), edit.change);
    case 'set_driver_place':
      return set(find(survey.driver_places, edit.id, 'driver place'), edit.change);
    case 'set_route':
      return set(find(survey.routes, edit.id, 'route'), edit.change);
    case 'remove':
      return remove(survey, edit.thing);
    case 'reorder':
      return reorder(survey, edit.thing, edit.after);
    default:
      return refuse(`The preview does not make ${edit.kind}.`);
  }
}

function set(thing: { id: string; label: string }, change: { kind: string; value: unknown }): string {
  (thing as unknown as Loose)[change.kind === 'what' ? 'kind' : change.kind] = change.value;
  return `${change.kind.replaceAll('_', ' ')} of ${thing.label} changed`;
}

function listOf(survey: Survey, thing: ThingName): { id: string }[] {
  switch (thing.kind) {
    case 'rail':
      return survey.rails;
    case 'piece':
      return find(survey.rails, thing.rail, 'rail').pieces;
    case 'feature':
      return find(survey.rails, thing.rail, 'rail').features;
    case 'mains_point':
      return survey.mains_points;
    case 'driver_place':
      return survey.driver_places;
    case 'route':
      return survey.routes;
    default:
      return refuse(`The preview does not reach a ${thing.kind}.`);
  }
}

const idOf = (thing: ThingName) => ('id' in thing ? thing.id : thing.rail);

function remove(survey: Survey, thing: ThingName): string {
  if (thing.kind === 'feature') {
    const user = find(survey.rails, thing.rail, 'rail').features.find((feature) => feature.kind === 'way_in' && feature.post === thing.id);
    if (user) refuse(`feature ${thing.id} is in use by way in ${user.id}; remove or change that first`);
  }
  const list = listOf(survey, thing);
  const at = list.findIndex((each) => each.id === idOf(thing));
  if (at < 0) refuse(`There is no ${thing.kind} ${idOf(thing)}.`);
  list.splice(at, 1);
  return `${thing.kind.replaceAll('_', ' ')} removed`;
}

function reorder(survey: Survey, thing: ThingName, after: ThingName | null): string {
  const list = listOf(survey, thing);
  const [moved] = list.splice(list.findIndex((each) => each.id === idOf(thing)), 1);
  list.splice(after === null ? 0 : list.findIndex((each) => each.id === idOf(after)) + 1, 0, moved!);
  return `${thing.kind} put elsewhere`;
}
