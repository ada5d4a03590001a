import { type Change, Piles, type Taken, type Want } from "./piles.ts";
import type { Problem } from "./problem.ts";

/** A feed load as decided: whole, on one day. */
export interface StowedLoad {
  pickup: number;
  day: number;
  items: { lot: number; store: number; massG: number }[];
}

/** Where all grain lies: what goes in where, what is moved, what is fetched as feed, what found no place. */
export interface Stowage {
  fills: { lot: number; store: number; day: number; massG: number }[];
  leftOut: { lot: number; day: number; massG: number }[];
  moves: { lot: number; from: number; to: number; day: number; massG: number; lossG: number }[];
  loads: StowedLoad[];
  taken: Taken[];
  /** Grams wanted that were not there, by lot. */
  short: Map<number, number>;
  movesCents: number;
  feedCents: number;
  /** Grams still there at the plan's end, by lot. */
  end: Map<number, number>;
}

/** Feed that must leave a store by a day, or may leave whenever. */
interface Outgoing {
  lot: number;
  store: number;
  massG: number;
  by: number;
  must: boolean;
}

interface Choice {
  clear: readonly Clearing[];
  into: readonly { store: number; massG: number }[];
  leftG: number;
  rank: number;
}

interface Clearing {
  store: number;
  lot: number;
  by: number;
  feedG: number;
  moveG: number;
  target: number;
}

interface Walk {
  piles: Piles;
  outgoing: Outgoing[];
  fills: Stowage["fills"];
  leftOut: Stowage["leftOut"];
  moves: Stowage["moves"];
  /** Stores promised to a fill that has not come yet: store -> lot. */
  promised: Map<number, { lot: number; day: number; massG: number }>;
  /** Ranks of the choices so far, added up. */
  rank: number;
}

/**
 * Stows the grain for these wants. At each fill the stores that must come clear are chosen (surplus to feed, the rest
 * moved), in every combination of at most eight stores; `breadth` > 1 also tries other choices at each fill and keeps
 * the best end.
 */
export function stow(
  problem: Problem,
  wants: readonly Want[],
  booked: readonly Change[],
  breadth = 1,
): Stowage {
  const start: Walk = {
    piles: Piles.atAsOf(problem, wants),
    outgoing: [],
    fills: [],
    leftOut: [],
    moves: [],
    promised: new Map(),
    rank: 0,
  };
  for (const change of booked) start.piles.schedule(change);
  let walks = [start];
  for (const fill of problem.fills) {
    if (fill.massG <= 0) continue;
    const next: Walk[] = [];
    for (const walk of walks) {
      for (const choice of choices(problem, walk, fill).slice(0, breadth)) {
        next.push(take(problem, walk, fill, choice, walks.length > 1 || breadth > 1));
      }
    }
    walks = next.sort((a, b) => a.rank - b.rank).slice(0, breadth * 4);
  }
  let best: Stowage | null = null;
  let bestCost = Infinity;
  for (const walk of walks) {
    const stowage = finish(problem, walk);
    let cost = stowage.movesCents + stowage.feedCents;
    for (const one of stowage.leftOut) cost += one.massG * LEFT_CENTS;
    // Grain that can still be malted is kept rather than sold for the same price.
    for (const [lot, massG] of stowage.end) {
      cost -= (problem.lots[lot]?.endCentsPerG ?? 0) * massG * KEEP_FACTOR;
    }
    for (const massG of stowage.short.values()) cost += massG * 0.5;
    if (cost < bestCost - 1e-9) {
      best = stowage;
      bestCost = cost;
    }
  }
  return best as Stowage;
}

/** Ways to take in a fill, best first. */
function choices(problem: Problem, walk: Walk, fill: { lot: number; day: number; massG: number }): Choice[] {
  const { stores } = problem;
  const turn = stores.reduce((most, store) => Math.max(most, store.turnaround), 0);
  walk.piles.advance(fill.day - turn - 1);
  const before = walk.piles.clone();
  before.advance(fill.day - 1);
  const room = freeRoom(problem, walk, before, fill);
  const clearable = clearings(problem, walk, fill).slice(0, 7);
  const found: Choice[] = [];
  for (let mask = 0; mask < 1 << clearable.length; mask++) {
    const clear = clearable.filter((_, i) => mask & (1 << i));
    const targets = resolveTargets(problem, room, clear);
    if (!targets) continue;
    const rooms = [
      ...room.filter((one) =>
        !targets.some((clearing) => clearing.target === one.store && clearing.moveG > 0)
      ),
      ...targets.map((clearing) => roomOf(problem, clearing, fill.lot)),
    ];
    for (const placed of placings(rooms, fill)) {
      const used = new Set(placed.into.map((one) => one.store));
      if (targets.some((clearing) => !used.has(clearing.store))) continue;
      const moved = targets.reduce((sum, clearing) => sum + clearing.moveG, 0);
      const sold = targets.reduce(
        (sum, clearing) => sum + ((problem.lots[clearing.lot]?.endCentsPerG ?? 0) > 0 ? clearing.feedG : 0),
        0,
      );
      found.push({
        clear: targets,
        ...placed,
        rank: placed.leftG * LEFT_CENTS + (used.size - 1) * SPLIT_CENTS + moved * MOVE_CENTS +
          clear.length * CLEAR_CENTS + sold * SOLD_CENTS +
          placed.spareG * SPARE_CENTS,
      });
    }
  }
  return found.sort((a, b) => a.rank - b.rank);
}

/** Grain too little to send for, grams: common practice, no source. */
const TRIFLE_G = 50_000;

// What makes one choice at a fill look better than another; the whole stowage is judged by real money afterwards.
const LEFT_CENTS = 0.1;
const SPLIT_CENTS = 4000;
const MOVE_CENTS = 0.002;
const CLEAR_CENTS = 500;
const SPARE_CENTS = 0.0002;
const SOLD_CENTS = 0.02;
/** What grain fit for malting counts against its feed price when two stowages are compared. */
const KEEP_FACTOR = 1.5;

interface Room {
  store: number;
  capacityG: number;
  /** Free bag places; 0 for a bin. */
  bags: number;
}

/** Stores that can take the fill as they will stand on its day. */
function freeRoom(problem: Problem, walk: Walk, then: Piles, fill: { lot: number; day: number }): Room[] {
  const room: Room[] = [];
  for (const store of problem.stores) {
    const capacity = store.capacityG[fill.lot] as number;
    const lying = then.piles.filter((pile) => pile.store === store.index);
    const promised = walk.promised.get(store.index);
    if (store.bags > 0) {
      const waiting = promised && promised.day > then.day
        ? Math.ceil(promised.massG / (store.capacityG[promised.lot] as number))
        : 0;
      const used = lying.reduce(
        (sum, pile) => sum + Math.ceil(pile.massG / (store.capacityG[pile.lot] as number)),
        waiting,
      );
      if (store.bags > used) {
        room.push({ store: store.index, capacityG: (store.bags - used) * capacity, bags: store.bags - used });
      }
      continue;
    }
    if (promised && promised.lot !== fill.lot && promised.day >= then.day) continue;
    const other = lying.find((pile) => pile.lot !== fill.lot);
    if (other) continue;
    const same = lying[0]?.massG ?? 0;
    if (same === 0 && (then.freeDay[store.index] as number) > fill.day) continue;
    if (capacity > same) room.push({ store: store.index, capacityG: capacity - same, bags: 0 });
  }
  return room;
}

interface Placing {
  into: { store: number; massG: number }[];
  leftG: number;
  /** Room to spare in the stores used. */
  spareG: number;
}

/** Every single store that holds the fill; failing that, the largest stores and then the one that fits the rest best. */
function placings(room: readonly Room[], fill: { massG: number }): Placing[] {
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
function roomOf(problem: Problem, clearing: Clearing, lot: number): Room {
  const store = problem.stores[clearing.store];
  const capacity = store?.capacityG[lot] ?? 0;
  if (!store || store.bags === 0) return { store: clearing.store, capacityG: capacity, bags: 0 };
  const places = Math.ceil(clearing.feedG / (store.capacityG[clearing.lot] as number));
  return { store: clearing.store, capacityG: places * capacity, bags: places };
}

/** Bins that hold another lot on the last day on which they could be cleared for this fill. */
function clearings(problem: Problem, walk: Walk, fill: { lot: number; day: number }): Clearing[] {
  const found: Clearing[] = [];
  const at = new Map<number, Piles>();
  for (const store of problem.stores) {
    if (store.bags === 0 && walk.promised.has(store.index)) continue;
    const by = fill.day - store.turnaround;
    if (by < problem.freeDay) continue;
    let then = at.get(by);
    if (!then) {
      then = walk.piles.clone();
      then.advance(by);
      at.set(by, then);
    }
    for (const pile of then.piles.filter((one) => one.store === store.index && one.lot !== fill.lot)) {
      const elsewhere = then.piles.filter((one) => one.lot === pile.lot && one !== pile).reduce(
        (sum, one) => sum + one.massG,
        0,
      );
      const wanted = Math.max(0, then.wantedAfter(pile.lot, by) - elsewhere);
      const loss = problem.season.costs.moveLoss;
      let moveG = wanted === 0 ? 0 : Math.min(pile.massG, grossOf(wanted, loss));
      const going = walk.outgoing.filter((one) => one.store === store.index && one.lot === pile.lot).reduce(
        (sum, one) => sum + one.massG,
        0,
      );
      let feedG = Math.max(0, pile.massG - moveG - going);
      // A few bags' worth goes along with the move: no lorry comes for it.
      if (moveG > 0 && feedG < TRIFLE_G) {
        moveG += feedG;
        feedG = 0;
      }
      if (
        feedG > 0 &&
        !problem.pickups.some((pickup) => pickup.takes[pile.lot] && pickup.days.some((day) => day <= by))
      ) continue;
      // Only whole lots that nobody needs are cleared out of a bag row.
      if (store.bags > 0 && moveG > 0) continue;
      found.push({ store: store.index, lot: pile.lot, by, feedG, moveG, target: -1 });
    }
  }
  // Bins that need no move come first, then the ones with least to move.
  return found.sort((a, b) => a.moveG - b.moveG || a.feedG - b.feedG);
}

/** The weight that must leave so that exactly `netG` arrives. */
function grossOf(netG: number, loss: number): number {
  let massG = Math.floor(netG / (1 - loss));
  while (massG - Math.round(loss * massG) < netG) massG++;
  return massG;
}

/** A place for everything that has to be moved, none of it in a store that is itself being cleared. */
function resolveTargets(
  problem: Problem,
  room: readonly Room[],
  clear: readonly Clearing[],
): Clearing[] | null {
  const taken = new Set<number>();
  const resolved: Clearing[] = [];
  for (const clearing of clear) {
    if (clearing.moveG === 0) {
      resolved.push(clearing);
      continue;
    }
    const target = room
      .filter((one) => {
        const store = problem.stores[one.store];
        if (!store || taken.has(one.store)) return false;
        const capacity = store.capacityG[clearing.lot] as number;
        return (one.bags > 0 ? one.bags * capacity : capacity) >= clearing.moveG;
      })
      .sort((a, b) => a.capacityG - b.capacityG)[0];
    if (!target) return null;
    taken.add(target.store);
    resolved.push({ ...clearing, target: target.store });
  }
  return resolved;
}

function take(
  problem: Problem,
  walk: Walk,
  fill: { lot: number; day: number; massG: number },
  choice: Choice,
  copy: boolean,
): Walk {
  const next: Walk = copy
    ? {
      piles: walk.piles.clone(),
      outgoing: [...walk.outgoing],
      fills: [...walk.fills],
      leftOut: [...walk.leftOut],
      moves: [...walk.moves],
      promised: new Map(walk.promised),
      rank: walk.rank,
    }
    : walk;
  next.rank += choice.rank;
  for (const clearing of choice.clear) {
    if (clearing.feedG > 0) {
      next.outgoing.push({
        lot: clearing.lot,
        store: clearing.store,
        massG: clearing.feedG,
        by: clearing.by,
        must: true,
      });
    }
    if (clearing.moveG > 0) {
      const lossG = Math.round(problem.season.costs.moveLoss * clearing.moveG);
      const move = {
        lot: clearing.lot,
        from: clearing.store,
        to: clearing.target,
        day: clearing.by,
        massG: clearing.moveG,
        lossG,
      };
      next.moves.push(move);
      next.piles.schedule({
        kind: "move",
        day: move.day,
        lot: move.lot,
        store: move.from,
        toStore: move.to,
        massG: move.massG,
        lossG,
      });
    }
    if (clearing.feedG > 0) {
      // Until the loads are made up, the surplus is thought to leave on the last day it may.
      next.piles.schedule({
        kind: "load",
        day: clearing.by,
        lot: clearing.lot,
        store: clearing.store,
        toStore: -1,
        massG: clearing.feedG,
        lossG: 0,
      });
    }
  }
  for (const one of choice.into) {
    next.fills.push({ lot: fill.lot, store: one.store, day: fill.day, massG: one.massG });
    next.piles.schedule({
      kind: "fill",
      day: fill.day,
      lot: fill.lot,
      store: one.store,
      toStore: -1,
      massG: one.massG,
      lossG: 0,
    });
    next.promised.set(one.store, { lot: fill.lot, day: fill.day, massG: one.massG });
  }
  if (choice.leftG > 0) next.leftOut.push({ lot: fill.lot, day: fill.day, massG: choice.leftG });
  return next;
}

/** Walks to the end, makes up whole feed loads, and counts. */
function finish(problem: Problem, walk: Walk): Stowage {
  const { piles } = walk;
  piles.advance(problem.endDay);
  const outgoing = [...walk.outgoing, ...spare(problem, piles)];
  const { loads, refused } = makeLoads(problem, outgoing);
  for (const one of refused) if (one.must) addTo(piles.short, one.lot, one.massG);
  const end = new Map<number, number>();
  for (const pile of piles.piles) addTo(end, pile.lot, pile.massG);
  for (const load of loads) {
    for (const item of load.items) {
      const must = walk.outgoing.some((one) => one.lot === item.lot && one.store === item.store);
      if (!must) addTo(end, item.lot, -item.massG);
    }
  }
  let movesCents = 0;
  for (const move of walk.moves) {
    movesCents += problem.season.costs.moveCents +
      Math.round(problem.season.costs.movePerTonneCents * move.massG / 1e6);
  }
  let feedCents = 0;
  for (const load of loads) feedCents -= loadCents(problem, load);
  return {
    fills: walk.fills,
    leftOut: walk.leftOut,
    moves: walk.moves,
    loads,
    taken: piles.taken,
    short: piles.short,
    movesCents,
    feedCents,
    end,
  };
}

function addTo(map: Map<number, number>, key: number, massG: number): void {
  map.set(key, (map.get(key) ?? 0) + massG);
}

/** What a load brings: price less haulage. */
export function loadCents(problem: Problem, load: StowedLoad): number {
  const pickup = problem.pickups[load.pickup];
  const massG = load.items.reduce((sum, item) => sum + item.massG, 0);
  return pickup ? Math.round(pickup.perTonneCents * massG / 1e6) - pickup.haulageCents : 0;
}

/** Grain nobody needs that will be worth nothing at the end: it may go as feed. */
function spare(problem: Problem, piles: Piles): Outgoing[] {
  return piles.piles
    .filter((pile) => (problem.lots[pile.lot]?.endCentsPerG ?? 0) === 0 && pile.massG >= TRIFLE_G)
    .map((pile) => ({
      lot: pile.lot,
      store: pile.store,
      massG: Math.floor(pile.massG),
      by: problem.endDay,
      must: false,
    }));
}

/** The lot's grain is in the store from this day on. */
function presentFrom(problem: Problem, one: Outgoing): number {
  const lot = problem.lots[one.lot];
  return lot && lot.stock.some((pile) => pile.store === one.store)
    ? problem.freeDay
    : (lot?.fromDay ?? problem.freeDay) + 1;
}

/** Makes whole loads: what must go first, by deadline; then spare grain fills them up or makes loads of its own. */
function makeLoads(
  problem: Problem,
  outgoing: readonly Outgoing[],
): { loads: StowedLoad[]; refused: Outgoing[] } {
  const loads: (StowedLoad & { massG: number })[] = [];
  const counts = problem.pickups.map(() => 0);
  let waiting = [...outgoing].sort((a, b) =>
    Number(b.must) - Number(a.must) || a.by - b.by || b.massG - a.massG || a.lot - b.lot
  );
  const refused: Outgoing[] = [];
  while (waiting.length > 0) {
    const lead = waiting[0] as Outgoing;
    const made = bestLoad(problem, lead, waiting, counts);
    if (!made) {
      refused.push(lead);
      waiting = waiting.slice(1);
      continue;
    }
    counts[made.load.pickup] = (counts[made.load.pickup] as number) + 1;
    loads.push(made.load);
    waiting = made.rest;
  }
  return { loads, refused };
}

/** The load that brings most with `lead` in it: on the latest day all its must-go grain allows. */
function bestLoad(
  problem: Problem,
  lead: Outgoing,
  waiting: readonly Outgoing[],
  counts: readonly number[],
): { load: StowedLoad & { massG: number }; rest: Outgoing[] } | null {
  let best: { load: StowedLoad & { massG: number }; rest: Outgoing[] } | null = null;
  let bestCents = -Infinity;
  for (const pickup of problem.pickups) {
    if (!pickup.takes[lead.lot] || (counts[pickup.index] as number) >= pickup.loads) continue;
    const from = presentFrom(problem, lead);
    const day = [...pickup.days].reverse().find((one) => one <= lead.by && one >= from);
    if (day === undefined) continue;
    const items: StowedLoad["items"] = [];
    let massG = 0;
    const rest: Outgoing[] = [];
    for (const one of waiting) {
      const fits = pickup.takes[one.lot] && one.by >= day && presentFrom(problem, one) <= day &&
        massG < pickup.greatestG;
      const take = fits ? Math.min(one.massG, pickup.greatestG - massG) : 0;
      // Grain that must go is taken only whole or down to a rest that can still go later.
      if (take <= 0) {
        rest.push(one);
        continue;
      }
      items.push({ lot: one.lot, store: one.store, massG: take });
      massG += take;
      if (take < one.massG) rest.push({ ...one, massG: one.massG - take });
    }
    if (massG < pickup.leastG) continue;
    const load = { pickup: pickup.index, day, items, massG };
    const cents = loadCents(problem, load);
    if (!lead.must && cents <= 0) continue;
    if (cents > bestCents) {
      best = { load, rest };
      bestCents = cents;
    }
  }
  return best;
}
