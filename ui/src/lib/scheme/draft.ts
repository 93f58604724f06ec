/** Edits of a brief that are not kept yet: put together, and seen on the brief that they would make. */
import type { Edit } from '../generated/edit';
import type { Brief, RailBrief } from '../generated/survey';

/** Names what an edit sets, so that a later edit takes the place of an earlier one. */
function keyOf(edit: Edit): string {
  switch (edit.kind) {
    case 'set_rail_brief':
      return `rail_brief ${edit.rail} ${edit.change.kind}`;
    case 'set_zone':
      return `zone ${edit.id} ${edit.change.kind}`;
    case 'set_brief':
      return `brief ${edit.change.kind}`;
    default:
      return JSON.stringify(edit);
  }
}

/** Edits with more of them: the last word on each field counts. */
export function together(edits: Edit[], more: Edit[]): Edit[] {
  const keys = new Set(more.map(keyOf));
  return [...edits.filter((edit) => !keys.has(keyOf(edit))), ...more];
}

/** The brief as it would be with edits; edits of anything else leave it as it is. */
export function briefWith(brief: Brief, edits: Edit[]): Brief {
  return edits.reduce(withEdit, brief);
}

function withEdit(brief: Brief, edit: Edit): Brief {
  switch (edit.kind) {
    case 'set_brief':
      return { ...brief, [edit.change.kind]: edit.change.value };
    case 'add_rail_brief':
      return { ...brief, rails: [...brief.rails, edit.new] };
    case 'set_rail_brief':
      return { ...brief, rails: brief.rails.map((rail) => (rail.rail === edit.rail ? { ...rail, [edit.change.kind]: edit.change.value } : rail)) };
    case 'add_zone':
      return { ...brief, zones: [...brief.zones, edit.new] };
    case 'set_zone':
      return { ...brief, zones: brief.zones.map((zone) => (zone.id === edit.id ? { ...zone, [edit.change.kind]: edit.change.value } : zone)) };
    case 'remove': {
      const { thing } = edit;
      if (thing.kind === 'rail_brief') return { ...brief, rails: brief.rails.filter((rail) => rail.rail !== thing.rail) };
      if (thing.kind === 'zone') return { ...brief, zones: brief.zones.filter((zone) => zone.id !== thing.id) };
      return brief;
    }
    default:
      return brief;
  }
}

/** A brief for a rail that had none: points of warm white, as the survey format has them where nothing is said. */
export function newRailBrief(rail: string, zone: string | null): RailBrief {
  return {
    rail,
    lamps: 'points',
    light: { kind: 'fixed_white', kelvin: 3000, cri: null },
    part: null,
    target: { kind: 'spacing', spacing_mm: 300 },
    end_margin_least_mm: 75,
    end_margin_greatest_mm: 300,
    posts_clear_of_holes: false,
    aim: { angle_deg: 0 },
    match_rail: null,
    concerns: '',
    zone,
    feed: 'cheapest',
    locks: { holes_mm: [], drivers: [] },
  };
}
