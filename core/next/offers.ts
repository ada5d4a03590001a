import { addDays, dayNumber } from "../calendar.ts";
import type { FeedPickup, SupplyOffer } from "../season/brewing.ts";
import type { Season } from "../season/season.ts";
import type { Stopped } from "../year/stopped.ts";
import { pickupsLeft } from "../year/stopped-trade.ts";
import type { CopyIds } from "./copy-ids.ts";
import { isOfLastYear, movedWindow, repeatsOf, type Span } from "./repeats.ts";

/** Supply offers of the new season. Those that ran on at the old season's end run on to the new one's. */
export interface NextOffers {
  readonly supplyOffers: readonly SupplyOffer[];
  readonly lengthened: number;
  readonly repeated: number;
}

/**
 * Offers that ran on at the old end are lengthened by as much as the season; those that begin and end within the last 52 weeks stand
 * again 364 days later. What is over goes, unless an order names it.
 */
export function nextOffers(
  { season, date }: Stopped,
  orders: readonly { readonly offerId: string }[],
  span: Span,
  ids: CopyIds,
): NextOffers {
  const longer = dayNumber(span.newEnd) - dayNumber(span.oldEnd);
  const runsOn = (one: SupplyOffer) => one.from <= span.oldEnd && one.to >= span.oldEnd;
  const named = new Set(orders.map((one) => one.offerId));
  const kept = season.supplyOffers.map((one) => runsOn(one) ? { ...one, to: addDays(one.to, longer) } : one)
    .filter((one) => one.to >= date || named.has(one.id));
  const repeated = season.supplyOffers.filter((one) => !runsOn(one) && isOfLastYear(one.from, span))
    .flatMap((one) =>
      repeatsOf(one.from, span).map((days) => ({ ...movedWindow(one, days), id: ids.copyOf(one.id) }))
    );
  return {
    supplyOffers: [...kept, ...repeated],
    lengthened: season.supplyOffers.filter(runsOn).length,
    repeated: repeated.length,
  };
}

/** Feed pick-ups of the new season. */
export interface NextPickups {
  readonly feedPickups: readonly FeedPickup[];
  readonly repeated: number;
}

/**
 * Pick-ups that are not over stay with the loads that are left of them; those of the last 52 weeks, and what ran on at the old end,
 * stand again 364 days later with all their loads.
 */
export function nextPickups(
  stopped: Stopped,
  booked: Season["bookings"]["feedLoads"],
  span: Span,
  ids: CopyIds,
): NextPickups {
  const { season, date } = stopped;
  const left = new Map(pickupsLeft(stopped).map((one) => [one.id, one]));
  const named = new Set(booked.map((one) => one.pickupId));
  const kept = season.feedPickups.flatMap((one) => {
    const open = one.to >= date ? left.get(one.id) : undefined;
    return open ?? (named.has(one.id) ? { ...one, mostLoads: left.get(one.id)?.mostLoads ?? 1 } : []);
  });
  const repeated = season.feedPickups
    .filter((one) => isOfLastYear(one.from, span) || (one.from <= span.oldEnd && one.to >= span.oldEnd))
    .flatMap((one) =>
      repeatsOf(one.from, span).map((days) => ({ ...movedWindow(one, days), id: ids.copyOf(one.id) }))
    )
    .filter((one) => one.to >= date);
  return { feedPickups: [...kept, ...repeated], repeated: repeated.length };
}
