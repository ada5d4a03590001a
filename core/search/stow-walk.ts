import { type Outgoing, presentFrom, type StowedLoad } from "./feed-loads.ts";
import type { Piles, Taken } from "./piles.ts";
import type { Problem } from "./problem.ts";

/** Where all grain lies: what goes in where, what is moved, what is fetched as feed, what found no place. */
export interface Stowage {
  fills: { lot: number; store: number; day: number; massG: number }[];
  leftOut: { lot: number; day: number; massG: number }[];
  moves: { lot: number; from: number; to: number; day: number; massG: number; lossG: number }[];
  loads: StowedLoad[];
  readonly taken: readonly Taken[];
  /** Grams wanted that were not there, by lot. */
  short: Map<number, number>;
  movesCents: number;
  feedCents: number;
  /** Grams still there at the plan's end, by lot. */
  end: Map<number, number>;
}

/** A way to take in a fill. */
export interface Choice {
  clear: readonly Clearing[];
  into: readonly { store: number; massG: number }[];
  leftG: number;
  rank: number;
}

/** A store that comes clear for a fill: some of its grain goes as feed, some is moved. */
export interface Clearing {
  store: number;
  lot: number;
  by: number;
  feedG: number;
  moveG: number;
  target: number;
}

/** The stowing of all grain, as far as it has gone. */
export interface Walk {
  piles: Piles;
  outgoing: Outgoing[];
  fills: Stowage["fills"];
  leftOut: Stowage["leftOut"];
  moves: Stowage["moves"];
  /** Grain that a fill or a move puts into a store on a day. */
  promised: { store: number; lot: number; day: number; massG: number }[];
  /** Ranks of the choices so far, added up. */
  rank: number;
}

/** What a clearing sells, as grain that must leave. */
export function outgoingOf(problem: Problem, moves: Stowage["moves"], clearing: Clearing): Outgoing {
  return {
    lot: clearing.lot,
    store: clearing.store,
    massG: clearing.feedG,
    from: presentFrom(problem, moves, clearing),
    by: clearing.by,
    must: true,
  };
}

/** Takes a fill in as chosen. */
export function take(
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
      promised: [...walk.promised],
      rank: walk.rank,
    }
    : walk;
  next.rank += choice.rank;
  for (const clearing of choice.clear) {
    if (clearing.feedG > 0) {
      next.outgoing.push(outgoingOf(problem, next.moves, clearing));
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
      // Another fill of the same day must not take the place the moved grain goes to.
      next.promised.push({ store: move.to, lot: move.lot, day: move.day, massG: move.massG });
      next.piles.schedule({
        kind: "clear",
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
    next.promised.push({ store: one.store, lot: fill.lot, day: fill.day, massG: one.massG });
  }
  if (choice.leftG > 0) next.leftOut.push({ lot: fill.lot, day: fill.day, massG: choice.leftG });
  return next;
}
