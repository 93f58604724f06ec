/**
 * What the scheme stage shows as soon as the program sends it. Each field is optional and stands beside the generated
 * types; once it is generated under the same name, its line here goes.
 */
import type { FeedMark, Opened, RailPage, Tried } from '../generated/types';

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

export type SchemeRail = RailPage & {
  links?: LinkSpan[];
  end_caps?: EndCap[];
  controls?: ControlMark[];
};

export type SchemeFeed = FeedMark;
export type SchemeTried = Tried;
export type SchemeOpened = Opened;
