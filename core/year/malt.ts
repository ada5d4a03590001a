import { reserveFloorG } from "../season/need.ts";
import type { Season } from "../season/season.ts";
import { ingredientKey } from "./batches.ts";
import { nodeId } from "./graph.ts";
import type { Journal } from "./journal.ts";
import { lacksOf } from "./lacks.ts";
import type { MaltBand, MaltRow, OrderMark } from "./malt-band.ts";
import type { BatchLevels } from "./malt-levels.ts";

/** The malt band: malts made from grain first, in the order of the season, then the rest that brews ask for or that lies in store. */
export function maltBand(journal: Journal, levels: BatchLevels): MaltBand {
  const { season, firstDay, lastDay, planEnd } = journal;
  const used = placesUsed(season, levels, planEnd - firstDay + 1);
  const shown = used.slice(0, Math.max(1, lastDay - firstDay + 1));
  const mostPlaces = Math.max(0, ...shown);
  return {
    rows: keysOf(journal).map((key) => maltRow(journal, levels, key)),
    places: season.maltStore.places,
    placesUsed: used,
    mostPlaces,
    fullestDay: firstDay + Math.max(0, shown.indexOf(mostPlaces)),
  };
}

function keysOf(journal: Journal): string[] {
  const { season } = journal;
  const asked = new Set(
    journal.brews.flatMap((fact) => fact.beer.grist.map((line) => ingredientKey(line.ingredient))),
  );
  for (const batch of journal.batches.values()) asked.add(batch.key);
  const rank = { grain: 0, malt: 1, bought: 2 } as const;
  const malts = [...season.maltTypes]
    .sort((a, b) => rank[a.made.from] - rank[b.made.from])
    .filter((malt) => malt.made.from === "grain" || asked.has(`malt:${malt.id}`))
    .map((malt) => `malt:${malt.id}`);
  // Raw grain is a row only where it was bought in bags: the farm's own lies in the bins above.
  const grains = [...new Set([...journal.batches.values()].map((one) => one.key))]
    .filter((key) => key.startsWith("grain:")).sort();
  return [...malts, ...grains];
}

function maltRow(journal: Journal, levels: BatchLevels, key: string): MaltRow {
  const { season, firstDay, planEnd } = journal;
  const malt = season.maltTypes.find((one) => `malt:${one.id}` === key);
  const days = planEnd - firstDay + 1;
  const home = new Array<number>(days).fill(0);
  const bought = new Array<number>(days).fill(0);
  const resting = new Array<number>(days).fill(0);
  for (const batch of journal.batches.values()) {
    if (batch.key !== key) continue;
    const ready = batch.home ? home : bought;
    levels.get(batch.id)?.forEach((massG, at) => {
      const day = firstDay + at;
      if (massG <= 0) return;
      if (day < batch.readyDay) resting[at]! += massG;
      else if (day <= batch.lastDay) ready[at]! += massG;
    });
  }
  const makes = malt?.made.from ?? "bought";
  return {
    key,
    maltId: malt?.id ?? null,
    name: malt?.name ?? key.slice("grain:".length),
    made: makes === "grain" ? "from grain" : makes === "malt" ? "from malt" : "bought",
    readyHomeG: home,
    readyBoughtG: bought,
    restingG: resting,
    mostG: Math.max(...home.map((massG, at) => massG + bought[at]! + resting[at]!)),
    floorG: malt === undefined ? 0 : reserveFloorG(season, malt),
    orders: ordersOf(journal, key),
    lacks: makes === "grain" ? lacksOf(journal, malt!.id, malt!.name, { homeG: home, boughtG: bought }) : [],
  };
}

function ordersOf(journal: Journal, key: string): OrderMark[] {
  const offers = new Map(journal.season.supplyOffers.map((one) => [one.id, one]));
  return journal.orders.flatMap((order) => {
    const offer = offers.get(order.offerId);
    if (offer === undefined || ingredientKey(offer.ingredient) !== key) return [];
    return [{
      id: order.id,
      node: nodeId("order", order.id),
      supplier: offer.supplier,
      orderDay: order.orderDay,
      arriveDay: order.arriveDay,
      packs: order.packs,
      massG: order.massG,
      costCents: order.costCents,
      standing: order.standing,
    }];
  }).sort((a, b) => a.orderDay - b.orderDay);
}

/** Every batch stands in places of its own. */
function placesUsed(season: Season, levels: BatchLevels, days: number): number[] {
  const used = new Array<number>(days).fill(0);
  for (const series of levels.values()) {
    series.forEach((massG, at) => {
      if (massG > 0) used[at]! += Math.ceil(massG / season.maltStore.placeG);
    });
  }
  return used;
}
