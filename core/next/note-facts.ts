import type { Season } from "../season/season.ts";
import type { Stopped } from "../year/stopped.ts";
import type { NextBrews } from "./brews.ts";
import type { NextOffers, NextPickups } from "./offers.ts";

/** Everything the sentences about a new season are made of. */
export interface Facts {
  readonly stopped: Stopped;
  readonly next: Season;
  readonly brews: NextBrews;
  readonly offers: NextOffers;
  readonly pickups: NextPickups;
  readonly goneLots: Season["lots"];
}
