import { areAllFetched, TRIFLE_G } from "./feed-loads.ts";
import { drawnFor } from "./loads.ts";
import type { Piles } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { freeRoom, overfilled, type Placing, placings, type Room, roomOf } from "./stow-room.ts";
import { type Choice, type Clearing, outgoingOf, take, type Walk } from "./stow-walk.ts";

/**
 * How choices are made. `fetched` leaves out those whose surplus no pick-up fetches as it stands; `wide` adds choices that are
 * seldom best (part of a fill left out, surplus moved rather than sold).
 */
export interface Choosing {
  fetched: boolean;
  wide: boolean;
}

/** The `most` best ways to take in a fill, best first. */
export function choices(
  problem: Problem,
  walk: Walk,
  fill: { lot: number; day: number; massG: number },
  { fetched, wide }: Choosing,
  most: number,
): Choice[] {
  const { stores } = problem;
  let turn = 0;
  for (const store of stores) if (store.turnaround > turn) turn = store.turnaround;
  walk.piles.advance(fill.day - turn - 1);
  const room = freeRoom(problem, walk, walk.piles.at(fill.day - 1), fill);
  // The same clearing stands in half of all combinations.
  const rooms = new Map<Clearing, readonly Room[]>();
  const roomFor = (clearing: Clearing) => {
    let free = rooms.get(clearing);
    if (!free) {
      const then = walk.piles.at(clearing.by);
      free = freeRoom(problem, walk, then, { lot: clearing.lot, day: clearing.by });
      rooms.set(clearing, free);
    }
    return free;
  };
  const leavingG = walk.piles.wantedOn(fill.lot, fill.day);
  const clearable = clearings(problem, walk, fill, wide).slice(0, wide ? 9 : 7);
  const found: Choice[] = [];
  const costs = clearable.map((one) => ({
    moved: one.moveG,
    sold: (problem.lots[one.lot]?.endCentsPerG ?? 0) > 0 ? one.feedG : 0,
  }));
  let sellable = 0;
  clearable.forEach((one, i) => sellable |= one.feedG > 0 ? 1 << i : 0);
  // Combinations that sell the same differ only in what they move.
  const known = new Map<number, boolean>();
  const isFetched = (selling: number) => {
    let is = known.get(selling);
    if (is === undefined) {
      is = areFetched(problem, walk, clearable.filter((_, i) => selling & (1 << i)));
      known.set(selling, is);
    }
    return is;
  };
  for (let mask = 0; mask < 1 << clearable.length; mask++) {
    let count = 0;
    let moved = 0;
    let sold = 0;
    for (let i = 0; i < clearable.length; i++) {
      if (!(mask & (1 << i))) continue;
      count++;
      moved += (costs[i] as typeof costs[number]).moved;
      sold += (costs[i] as typeof costs[number]).sold;
    }
    // What clearing alone costs may already be too much beside the best so far.
    const least = moved * MOVE_CENTS + count * CLEAR_CENTS + sold * SOLD_CENTS;
    if (mask > 0 && found.length >= most && (found[most - 1] as Choice).rank <= least) continue;
    const clear = clearable.filter((_, i) => mask & (1 << i));
    if (wide && twice(clear)) continue;
    const targets = resolveTargets(clear, roomFor);
    if (!targets) continue;
    const open = mask === 0 ? room : [
      ...room.filter((one) =>
        !targets.some((clearing) => clearing.target === one.store && clearing.moveG > 0)
      ),
      ...targets.map((clearing) => roomOf(problem, clearing, fill.lot)),
    ];
    const holds = (placed: Placing, over: Room) => {
      const then = take(problem, walk, fill, { clear: targets, ...placed, rank: 0 }, true).piles;
      then.advance(fill.day);
      return then.heldG(fill.lot, over.store) <= (stores[over.store]?.capacityG[fill.lot] ?? 0);
    };
    const selling = mask & sellable;
    const offer = (placed: Placing, isHeld: () => boolean) => {
      const { into, leftG } = placed;
      if (targets.some((clearing) => !into.some((one) => one.store === clearing.store))) return;
      const rank = leftG * LEFT_CENTS + (storesIn(into) - 1) * SPLIT_CENTS + moved * MOVE_CENTS +
        count * CLEAR_CENTS + sold * SOLD_CENTS + placed.spareG * SPARE_CENTS;
      // Whether it can be done takes longest to see, so the price is asked first.
      if (found.length >= most && (found[most - 1] as Choice).rank <= rank) return;
      if ((fetched && !isFetched(selling)) || !isHeld()) return;
      keep(found, { clear: targets, into, leftG, rank }, most);
    };
    for (const placed of placings(open, fill, wide)) offer(placed, () => true);
    if (leavingG <= 0) continue;
    for (const placed of overfilled(open, fill, leavingG, wide)) {
      offer(placed, () => holds(placed, placed.over));
    }
  }
  return found;
}

/** Puts a choice among the `most` best, behind those that are as good. */
function keep(found: Choice[], choice: Choice, most: number): void {
  let at = found.length;
  while (at > 0 && (found[at - 1] as Choice).rank > choice.rank) at--;
  found.splice(at, 0, choice);
  if (found.length > most) found.length = most;
}

/** Whether one pile is cleared in two ways at once. */
function twice(clear: readonly Clearing[]): boolean {
  return clear.some((one, i) =>
    clear.some((other, k) => k < i && other.store === one.store && other.lot === one.lot)
  );
}

function storesIn(into: Placing["into"]): number {
  return into.reduce(
    (count, one, i) => into.findIndex((other) => other.store === one.store) === i ? count + 1 : count,
    0,
  );
}

// What makes one choice at a fill look better than another; the whole stowage is judged by real money afterwards.
const LEFT_CENTS = 0.1;
const SPLIT_CENTS = 4000;
const MOVE_CENTS = 0.002;
const CLEAR_CENTS = 500;
const SPARE_CENTS = 0.0002;
const SOLD_CENTS = 0.02;
/** Bins that hold another lot on the last day on which they could be cleared for this fill; `moves` also moves what could be sold. */
function clearings(
  problem: Problem,
  walk: Walk,
  fill: { lot: number; day: number },
  moves: boolean,
): Clearing[] {
  const found: Clearing[] = [];
  const at = new Map<number, Piles>();
  for (const store of problem.stores) {
    const by = fill.day - store.turnaround;
    // What has yet to come into a bin is not cleared out again for this fill.
    if (store.bags === 0 && walk.promised.some((one) => one.store === store.index && one.day >= by)) continue;
    if (by < problem.freeDay) continue;
    let then = at.get(by);
    if (!then) {
      then = walk.piles.at(by);
      at.set(by, then);
    }
    for (const pile of then.piles) {
      if (pile.store !== store.index || pile.lot === fill.lot) continue;
      let elsewhere = 0;
      for (const one of then.piles) if (one.lot === pile.lot && one !== pile) elsewhere += one.massG;
      const wanted = Math.max(0, then.wantedAfter(pile.lot, by) - elsewhere);
      const loss = problem.season.costs.moveLoss;
      let moveG = wanted === 0 ? 0 : Math.min(pile.massG, drawnFor(wanted, loss));
      let going = 0;
      for (const one of walk.outgoing) {
        if (one.store === store.index && one.lot === pile.lot) going += one.massG;
      }
      let feedG = Math.max(0, pile.massG - moveG - going);
      // A few bags' worth goes along with the move: no lorry comes for it.
      if (moveG > 0 && feedG < TRIFLE_G) {
        moveG += feedG;
        feedG = 0;
      }
      if (moves && feedG > 0 && store.bags === 0) {
        found.push({ store: store.index, lot: pile.lot, by, feedG: 0, moveG: moveG + feedG, target: -1 });
      }
      if (
        feedG > 0 &&
        !problem.pickups.some((pickup) => pickup.takes[pile.lot] && (pickup.days[0] ?? Infinity) <= by)
      ) continue;
      // Only whole lots that nobody needs are cleared out of a bag row.
      if (store.bags > 0 && moveG > 0) continue;
      found.push({ store: store.index, lot: pile.lot, by, feedG, moveG, target: -1 });
    }
  }
  // Bins that need no move come first, then the ones with least to move.
  return found.sort((a, b) => a.moveG - b.moveG || a.feedG - b.feedG);
}

/** Whether pick-ups can fetch what these clearings sell beside all that must leave already. */
function areFetched(problem: Problem, walk: Walk, selling: readonly Clearing[]): boolean {
  if (selling.length === 0) return true;
  const outgoing = [...walk.outgoing, ...selling.map((one) => outgoingOf(problem, walk.moves, one))];
  return areAllFetched(problem, outgoing);
}

/** A place for everything that has to be moved, none of it in a store that is itself being cleared. */
function resolveTargets(
  clear: readonly Clearing[],
  roomFor: (clearing: Clearing) => readonly Room[],
): Clearing[] | null {
  const resolved: Clearing[] = [];
  for (const clearing of clear) {
    if (clearing.moveG === 0) {
      resolved.push(clearing);
      continue;
    }
    let target: Room | null = null;
    for (const one of roomFor(clearing)) {
      if (target && one.capacityG >= target.capacityG) continue;
      if (clear.some((other) => other.store === one.store)) continue;
      if (resolved.some((other) => other.target === one.store && other.moveG > 0)) continue;
      if (one.capacityG >= clearing.moveG) target = one;
    }
    if (!target) return null;
    resolved.push({ ...clearing, target: target.store });
  }
  return resolved;
}
