import { loadCents, makeLoads, spareGrain } from "./feed-loads.ts";
import { type Change, Piles, type Want } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { choices, type Choosing } from "./stow-choices.ts";
import { type Stowage, take, type Walk } from "./stow-walk.ts";

/**
 * Stows the grain for these wants. At each fill the stores that must come clear are chosen (surplus to feed, the rest
 * moved), in every combination of the likeliest few; `breadth` > 1 also tries other choices at each fill and keeps
 * the best end. `thorough` tries more: the largest pile emptied first, part of a fill left out though there is room, surplus moved
 * rather than sold; and judges the end by its money alone.
 */
export function stow(
  problem: Problem,
  wants: readonly Want[],
  booked: readonly Change[],
  breadth = 1,
  thorough = false,
): Stowage {
  let best: Stowage | null = null;
  let bestCost = Infinity;
  let isFetched = false;
  const judge = (first: typeof DRAW_FIRST[number], width: number, how: Choosing) => {
    for (const walk of walksOf(problem, Piles.atAsOf(problem, wants, first), booked, width, how)) {
      const { unfetched, ...stowage } = finish(problem, walk);
      if (isFetched && unfetched) continue;
      const cost = costOf(problem, stowage, thorough);
      if (cost < bestCost - 1e-9 || (!isFetched && !unfetched)) {
        best = { ...stowage, taken: walk.piles.taken };
        bestCost = cost;
        isFetched = !unfetched;
      }
    }
  };
  // Surplus sold at one fill may make up a load with that of a later one, so first only the end shows whether all is fetched.
  judge("smallest", thorough ? USUAL : breadth, { fetched: false, wide: false });
  if (!isFetched) judge("smallest", breadth, { fetched: true, wide: false });
  // Among so many more choices the usual ones can be lost from sight, so both are judged.
  if (thorough) { for (const first of DRAW_FIRST) judge(first, breadth, { fetched: true, wide: true }); }
  return best as unknown as Stowage;
}

/** Usual choices tried at each fill beside all the others. */
const USUAL = 3;
const DRAW_FIRST = ["smallest", "largest"] as const;

/** Walks through all fills, the most promising kept. */
function walksOf(
  problem: Problem,
  piles: Piles,
  booked: readonly Change[],
  breadth: number,
  how: Choosing,
): Walk[] {
  for (const change of booked) piles.schedule(change);
  let walks: Walk[] = [
    { piles, outgoing: [], fills: [], leftOut: [], moves: [], promised: [], rank: 0 },
  ];
  for (const fill of problem.fills) {
    if (fill.massG <= 0) continue;
    const next: Walk[] = [];
    for (const walk of walks) {
      for (const choice of choices(problem, walk, fill, how, breadth)) {
        next.push(take(problem, walk, fill, choice, walks.length > 1 || breadth > 1));
      }
    }
    walks = next.sort((a, b) => a.rank - b.rank).slice(0, breadth * 4);
  }
  return walks;
}

/** What a gram left out, or wanted and not there, counts against a stowage, cents; nothing in money, so it only breaks ties when thorough. */
const LEFT_CENTS = 0.1;
const LEFT_TIE_CENTS = 1e-7;
const SHORT_CENTS = 0.5;
/** Grain that can still be malted is kept rather than sold for the same price: what it counts against its feed price. */
const KEEP_FACTOR = 1.5;
const KEEP_TIE_FACTOR = 1 + 1e-6;

function costOf(problem: Problem, stowage: Omit<Stowage, "taken">, thorough: boolean): number {
  let cost = stowage.movesCents + stowage.feedCents;
  for (const one of stowage.leftOut) cost += one.massG * (thorough ? LEFT_TIE_CENTS : LEFT_CENTS);
  for (const [lot, massG] of stowage.end) {
    cost -= (problem.lots[lot]?.endCentsPerG ?? 0) * massG * (thorough ? KEEP_TIE_FACTOR : KEEP_FACTOR);
  }
  for (const massG of stowage.short.values()) cost += massG * SHORT_CENTS;
  return cost;
}

/** Walks to the end, makes up whole feed loads, and counts. */
function finish(problem: Problem, walk: Walk): Omit<Stowage, "taken"> & { unfetched: boolean } {
  const { piles } = walk;
  piles.advance(problem.endDay);
  const outgoing = [...walk.outgoing, ...spareGrain(problem, piles, walk.moves)];
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
    unfetched: refused.some((one) => one.must),
    fills: walk.fills,
    leftOut: walk.leftOut,
    moves: walk.moves,
    loads,
    short: piles.short,
    movesCents,
    feedCents,
    end,
  };
}

function addTo(map: Map<number, number>, key: number, massG: number): void {
  map.set(key, (map.get(key) ?? 0) + massG);
}
