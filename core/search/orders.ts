import type { Offer, Problem } from "./problem.ts";
import { fewestFree, hasRoom, type StoreRoom } from "./store-room.ts";

/** Extract needed of one material on one day. */
export interface Need {
  day: number;
  extractG: number;
}

/** An order in whole packs. */
export interface PlannedOrder {
  offer: Offer;
  arrives: number;
  packs: number;
  costCents: number;
}

/** Extract ordered on top of each need, so that whole grams never run short. */
export const SPARE_EXTRACT_G = 12;

interface Label {
  costCents: number;
  /** Extract left over from the last order, and the last day on which it is good. */
  spareG: number;
  goodUntil: number;
  /** Extract in a gram of it. */
  perG: number;
  orders: readonly PlannedOrder[];
}

const LABELS = 8;

/** What keeps orders small: days of need in one order at most, and places that are free for them. */
export interface OrderLimits {
  readonly spanDays?: number;
  readonly room?: StoreRoom;
}

/**
 * Whole-pack orders that cover the needs at least cost: a forward dynamic programme over "one order covers needs i to j",
 * as Wagner and Whitin's, with packs, least orders, freight and what rounding up leaves over. Needs no order can reach in
 * time come back in `uncovered`; all of them do where no orders fit the room. What has gone bad is looked for a place of its own,
 * but not kept in sight of the orders behind it.
 */
export function orderPacks(
  problem: Problem,
  material: number,
  needs: readonly Need[],
  { spanDays = Infinity, room }: OrderLimits = {},
): { orders: PlannedOrder[]; uncovered: Need[] } {
  const offers = problem.materials[material]?.offers ?? [];
  const sorted = [...needs].filter((need) => need.extractG > 0).sort((a, b) => a.day - b.day);
  const reachable = sorted.filter((need) => offers.some((offer) => lastArrival(offer, need.day) !== null));
  const uncovered = sorted.filter((need) => !reachable.includes(need));
  const labels: Label[][] = Array.from({ length: reachable.length + 1 }, () => []);
  labels[0] = [{ costCents: 0, spareG: 0, goodUntil: -Infinity, perG: 1, orders: [] }];
  const dayOf = (i: number) => reachable[i]?.day ?? Infinity;
  /** Whether what is left behind need `i` finds its place until the next need, or to the end where it is bad by then. */
  const rests = (i: number, massG: number, goodUntil: number) =>
    !room || hasRoom(room, dayOf(i), dayOf(i + 1) > goodUntil ? Infinity : dayOf(i + 1), massG);
  /** Fewest places free from each need to the next. */
  const fewest = room ? reachable.map((need, k) => fewestFree(room, need.day, dayOf(k + 1))) : [];
  /** Whether an order for needs `i` to `j` finds its places until the last of them, about: what another left lies with it as one heap. */
  const lies = (i: number, j: number, arrives: number, massG: number, spareMassG: number, perG: number) => {
    if (!room || !hasRoom(room, arrives, dayOf(i), massG, spareMassG)) return !room;
    let left = massG + spareMassG;
    for (let k = i; k < j; k++) {
      left -= (reachable[k] as Need).extractG / perG;
      const places = Math.ceil(Math.max(0, left) / room.placeG);
      if (places > 0 && places > (fewest[k] as number)) return false;
    }
    return true;
  };
  for (let i = 0; i < reachable.length; i++) {
    for (const label of labels[i] as Label[]) {
      const need = reachable[i] as Need;
      if (label.goodUntil >= need.day && label.spareG >= need.extractG) {
        const spareG = label.spareG - need.extractG;
        if (rests(i, spareG / label.perG, label.goodUntil)) {
          keep(labels[i + 1] as Label[], { ...label, spareG });
        }
      }
      for (const offer of offers) {
        const arrives = lastArrival(offer, need.day);
        if (arrives === null) continue;
        const goodUntil = arrives + offer.shelfDays;
        const spare = label.goodUntil >= need.day ? label.spareG : 0;
        const perG = offer.extract;
        const spareMassG = spare / perG;
        let wanted = -spare;
        for (
          let j = i;
          j < reachable.length && (reachable[j] as Need).day <= goodUntil &&
          (reachable[j] as Need).day <= need.day + spanDays;
          j++
        ) {
          wanted += (reachable[j] as Need).extractG;
          const packs = Math.max(
            offer.leastPacks,
            Math.ceil(Math.max(0, wanted) / (offer.packG * perG)),
          );
          const massG = packs * offer.packG;
          if (room && !lies(i, j, arrives, massG, spareMassG, perG)) break;
          const spareG = massG * perG - wanted;
          if (!rests(j, spareG / perG, goodUntil)) continue;
          const costCents = packs * offer.packCents + offer.freightCents;
          keep(labels[j + 1] as Label[], {
            costCents: label.costCents + costCents,
            spareG,
            perG,
            goodUntil,
            orders: [...label.orders, { offer, arrives, packs, costCents }],
          });
        }
      }
    }
  }
  const ends = labels[reachable.length] as Label[];
  if (ends.length === 0) return { orders: [], uncovered: sorted };
  const best = ends.reduce((a, b) => b.costCents < a.costCents ? b : a);
  return { orders: [...best.orders], uncovered };
}

/** The latest arrival on or before `day` that is still fresh then. */
export function lastArrival(offer: Offer, day: number): number | null {
  let low = 0;
  let high = offer.arrivals.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((offer.arrivals[middle] as number) <= day) low = middle + 1;
    else high = middle;
  }
  const arrives = offer.arrivals[low - 1];
  return arrives !== undefined && arrives + offer.shelfDays >= day ? arrives : null;
}

/** Keeps a label unless another is as cheap with as much to spare; at most a few of the cheapest. */
function keep(list: Label[], label: Label): void {
  if (
    list.some((one) =>
      one.costCents <= label.costCents && one.spareG >= label.spareG && one.goodUntil >= label.goodUntil
    )
  ) return;
  const others = list.filter((one) =>
    !(label.costCents <= one.costCents && label.spareG >= one.spareG && label.goodUntil >= one.goodUntil)
  );
  others.push(label);
  others.sort((a, b) => a.costCents - b.costCents);
  list.length = 0;
  list.push(...others.slice(0, LABELS));
}
