import type { Piles } from "./piles.ts";
import type { Problem } from "./problem.ts";
import type { Clearing, Walk } from "./stow-walk.ts";

/** A store that can take a fill. */
export interface Room {
  store: number;
  capacityG: number;
  /** Free bag places; 0 for a bin. */
  bags: number;
}

/** Stores that can take the fill as they will stand on its day. */
export function freeRoom(
  problem: Problem,
  walk: Walk,
  then: Piles,
  fill: { lot: number; day: number },
): Room[] {
  const room: Room[] = [];
  for (const store of problem.stores) {
    const capacity = store.capacityG[fill.lot] as number;
    if (store.bags > 0) {
      let used = 0;
      for (const one of walk.promised) {
        if (one.store !== store.index || one.day <= then.day) continue;
        used += Math.ceil(one.massG / (store.capacityG[one.lot] as number));
      }
      for (const pile of then.piles) {
        if (pile.store === store.index) used += Math.ceil(pile.massG / (store.capacityG[pile.lot] as number));
      }
      if (store.bags > used) {
        room.push({ store: store.index, capacityG: (store.bags - used) * capacity, bags: store.bags - used });
      }
      continue;
    }
    if (awaitsOther(walk, store.index, fill.lot, then.day)) continue;
    let same = 0;
    let other = false;
    for (const pile of then.piles) {
      if (pile.store !== store.index) continue;
      if (pile.lot !== fill.lot) other = true;
      else same += pile.massG;
    }
    if (other) continue;
    // What else comes into it on the day counts as there.
    for (const one of walk.promised) {
      if (one.store === store.index && one.lot === fill.lot && one.day > then.day) same += one.massG;
    }
    if (same === 0 && (then.freeDay[store.index] as number) > fill.day) continue;
    // A full one still has room for what is drawn from it on the day.
    if (capacity >= same) room.push({ store: store.index, capacityG: capacity - same, bags: 0 });
  }
  return room;
}

/** Whether a bin is promised to another lot on or after a day. */
function awaitsOther(walk: Walk, store: number, lot: number, day: number): boolean {
  for (const one of walk.promised) if (one.store === store && one.lot !== lot && one.day >= day) return true;
  return false;
}

/** A fill put into stores. */
export interface Placing {
  into: { store: number; massG: number }[];
  leftG: number;
  /** Room to spare in the stores used. */
  spareG: number;
}

/**
 * Every single store that holds the fill; failing that, the largest stores and then the one that fits the rest best. `wide`
 * also fills each smaller store and leaves the rest out.
 */
export function placings(room: readonly Room[], fill: { massG: number }, wide: boolean): Placing[] {
  const open = room.filter((one) => one.capacityG > 0);
  const best = fewestStores(open, fill);
  if (!wide) return best;
  const partly = open.filter((one) => one.capacityG < fill.massG).map((one) => ({
    into: [{ store: one.store, massG: one.capacityG }],
    leftG: fill.massG - one.capacityG,
    spareG: 0,
  }));
  return [...best, ...partly];
}

/**
 * Placings with more in one bin than it holds, as grain of the fill's lot is drawn on that day: capacity is judged at the end of the
 * day. `leavingG` is drawn from the lot then; whether from that bin has yet to be seen.
 */
export function overfilled(
  room: readonly Room[],
  fill: { massG: number },
  leavingG: number,
  wide: boolean,
): (Placing & { over: Room })[] {
  return room.filter((one) => one.bags === 0 && one.capacityG < fill.massG).flatMap((over) => {
    const larger = room.map((one) => one === over ? { ...one, capacityG: one.capacityG + leavingG } : one);
    return placings(larger, fill, wide)
      .filter(({ into }) => into.some(({ store, massG }) => store === over.store && massG > over.capacityG))
      .map((placed) => ({ ...placed, over }));
  });
}

function fewestStores(room: readonly Room[], fill: { massG: number }): Placing[] {
  const spare = (one: Room, massG: number) => one.bags > 0 ? 0 : one.capacityG - massG;
  const whole = room.filter((one) => one.capacityG >= fill.massG);
  if (whole.length > 0) {
    return whole.map((one) => ({
      into: [{ store: one.store, massG: fill.massG }],
      leftG: 0,
      spareG: spare(one, fill.massG),
    }));
  }
  const into: { store: number; massG: number }[] = [];
  let left = fill.massG;
  let spareG = 0;
  let open = [...room].sort((a, b) => b.capacityG - a.capacityG || a.store - b.store);
  while (left > 0 && open.length > 0) {
    const holding = open.filter((one) => one.capacityG >= left);
    const one = holding.length > 0
      ? holding.reduce((best, next) => spare(next, left) < spare(best, left) ? next : best)
      : open[0] as Room;
    const massG = Math.min(left, one.capacityG);
    const same = into.find((other) => other.store === one.store);
    if (same) same.massG += massG;
    else into.push({ store: one.store, massG });
    spareG += spare(one, massG);
    left -= massG;
    open = open.filter((other) => other !== one);
  }
  return [{ into, leftG: left, spareG }];
}

/** What a cleared store gives to the fill: a whole bin, or the bag places that come free. */
export function roomOf(problem: Problem, clearing: Clearing, lot: number): Room {
  const store = problem.stores[clearing.store];
  const capacity = store?.capacityG[lot] ?? 0;
  if (!store || store.bags === 0) return { store: clearing.store, capacityG: capacity, bags: 0 };
  const places = Math.ceil(clearing.feedG / (store.capacityG[clearing.lot] as number));
  return { store: clearing.store, capacityG: places * capacity, bags: places };
}
