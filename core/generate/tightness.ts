import { dateOf, dayNumber } from "../calendar.ts";
import type { Season } from "../season/season.ts";
import { type Limit, LIMITS } from "./sizes.ts";
import { storeTightness, tanksTightness } from "./tight-cellar.ts";
import { binsTightness, grainTightness } from "./tight-grain.ts";
import { homeNeeds, leastLeadDays } from "./tight-need.ts";
import { vesselTightness } from "./tight-vessels.ts";

/**
 * Need by capacity of every limit, each as if nothing else were short: above 1 not every brew can be made from home-grown
 * malt, whatever the plan. `together` is what simple packing of vessels and staffed hours leaves, so it counts what the
 * four of them cost one another; below 1 that packing would do.
 */
export type Tightness = Readonly<Record<Limit | "together", number>>;

/** How tight a season is as of its `asOf`, inside its horizon. 0 where nothing is asked. */
export function tightnessOf(season: Season): Tightness {
  const needs = homeNeeds(season).flatMap((need) => {
    // What is wanted before any run could be ready is a lack of opening malt, and no fault of vessels or grain.
    const firstReady = dayNumber(dateOf(season.asOf)) + season.roster.heldDays + leastLeadDays(need);
    const net = need.net.filter((one) => one.day >= firstReady);
    return net.length === 0 ? [] : [{ ...need, net }];
  });
  const vessels = needs.length === 0
    ? { steep: 0, bed: 0, kiln: 0, hands: 0, together: 0 }
    : vesselTightness(season, needs);
  return {
    ...vessels,
    tanks: tanksTightness(season),
    grain: grainTightness(season, needs),
    bins: binsTightness(season, needs),
    store: storeTightness(season, needs),
  };
}

/** The limits that bind, the tightest first. */
export function bindingLimits(tightness: Tightness): Limit[] {
  return LIMITS.filter((limit) => tightness[limit] > 1).sort((a, b) => tightness[b] - tightness[a]);
}
