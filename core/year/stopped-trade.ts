import { dayNumber } from "../calendar.ts";
import type { Contract, FeedPickup } from "../season/brewing.ts";
import { maltDeliveries } from "../season/malt-deliveries.ts";
import type { Bookings } from "../season/records.ts";
import type { Stopped } from "./stopped.ts";

/** Contracts that still need looking after, each with the weight that is left of it. */
export function contractsLeft(stopped: Stopped): Contract[] {
  return stopped.season.contracts.flatMap((one): Contract[] => {
    if (one.kind === "buy-grain") return hasCome(stopped, one) ? [] : [one];
    const massG = one.massG - deliveredG(stopped, one.id);
    return one.to < stopped.date || massG <= 0 ? [] : [massG === one.massG ? one : { ...one, massG }];
  });
}

/** Grain bought for a day that is past, or that came on the day itself. */
function hasCome({ journal, date, toCome }: Stopped, contract: Contract & { kind: "buy-grain" }): boolean {
  if (contract.on < date) return true;
  return journal.fills.some((fill) =>
    fill.lotId === contract.lotId && fill.day < toCome && fill.day === dayNumber(contract.on)
  );
}

/** Grams delivered under a contract by then, grain or malt. */
export function deliveredG({ season, journal, toCome }: Stopped, contractId: string): number {
  const isOf = (one: { readonly contractId: string }) => one.contractId === contractId;
  return [
    ...journal.grainSales.filter((one) => one.refId === contractId && one.day < toCome),
    // Records count whatever their day, and stand in the journal only from the opening position on.
    ...maltDeliveries(season).filter(isOf),
    ...journal.maltSales.filter((one) => isOf(one) && one.standing !== "done" && one.day < toCome)
      .flatMap((one) => one.from),
  ].reduce((sum, one) => sum + one.massG, 0);
}

/** Pick-ups with the loads that are left of them. */
export function pickupsLeft({ season, journal, toCome }: Stopped): FeedPickup[] {
  return season.feedPickups.flatMap((one) => {
    const gone = journal.feedLoads.filter((load) => load.pickupId === one.id && load.day < toCome).length;
    return gone >= one.mostLoads ? [] : [gone === 0 ? one : { ...one, mostLoads: one.mostLoads - gone }];
  });
}

/** Bookings that are still to come. */
export function bookingsLeft({ season, at, date }: Stopped): Bookings {
  const { records, bookings } = season;
  const brewed = new Set(records.brews.map((one) => one.brewId));
  return {
    runs: bookings.runs.filter((one) => one.steepInAt >= at),
    // A brew has one id, recorded and booked; everything else that is recorded is booked no more, or its id would come twice.
    brews: bookings.brews.filter((one) => one.on >= date && !brewed.has(one.brewId)),
    orders: bookings.orders.filter((one) => one.orderedOn >= date),
    feedLoads: bookings.feedLoads.filter((one) => one.on >= date),
    moves: bookings.moves.filter((one) => one.on >= date),
  };
}
