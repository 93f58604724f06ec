/**
 * What the scheme stage shows as soon as the program sends it. Each field is optional and stands beside the generated
 * types; once it is generated under the same name, its line here goes.
 */
import type { Figure, FeedMark, Opened, RailPage, Tried } from '../generated/types';

/** How evenly the points of a rail lie. */
export interface PatternFigures {
  /** The spacing asked for [mm]. */
  target_mm: number;
  /** Greatest departure of a gap from it [mm]. */
  worst_departure_mm: number;
  /** The hole before that gap [mm]. */
  worst_at_mm: number | null;
}

/** A link lead between two modules, along the rail. */
export interface LinkSpan {
  /** Its reference in the cable schedule. */
  reference: string;
  from_mm: number;
  to_mm: number;
  poles: number;
}

/** The cap that closes a chain of modules. */
export interface EndCap {
  part: string;
  circuit: string;
  chainage_mm: number;
  poles: number;
}

/** A control device on or at a rail. */
export interface ControlMark {
  /** Its reference, as in the settings sheet. */
  device: string;
  /** What it is, in words. */
  what: string;
  part: string;
  chainage_mm: number;
  /** The stretch of the rail that a sensor watches [mm]; absent for what watches nothing. */
  reach: { from_mm: number; to_mm: number } | null;
  /** Settings to record, in words. */
  settings: string[];
}

/** A luminaire of the catalogue that a brief may ask for. */
export interface PartChoice {
  part: string;
  description: string;
}

/** A cost with the least that is proved to be possible. */
export interface Bounded {
  cost: Figure;
  lower_bound: Figure;
}

export type SchemeRail = RailPage & {
  pattern?: PatternFigures | null;
  links?: LinkSpan[];
  end_caps?: EndCap[];
  controls?: ControlMark[];
  objective?: Bounded;
};

export type SchemeFeed = FeedMark & {
  /** The driver place where it stands, by its id; null where none was surveyed. */
  place?: string | null;
};

export type SchemeTried = Tried & { bound?: Figure; bound_now?: Figure };

export type SchemeOpened = Opened & { cost?: Figure; bound?: Figure; luminaire_parts?: PartChoice[] };
