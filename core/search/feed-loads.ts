import type { Piles } from "./piles.ts";
import type { Pickup, Problem } from "./problem.ts";

/** Grain too little to send for, grams: common practice, no source. */
export const TRIFLE_G = 50_000;

/** A feed load as decided: whole, on one day. */
export interface StowedLoad {
  pickup: number;
  day: number;
  items: { lot: number; store: number; massG: number }[];
}

/** Feed that must leave a store by a day, or may leave whenever. */
export interface Outgoing {
  lot: number;
  store: number;
  massG: number;
  /** First day on which all of it lies there. */
  from: number;
  by: number;
  must: boolean;
}

/** What a load brings: price less haulage. */
export function loadCents(problem: Problem, load: StowedLoad): number {
  const pickup = problem.pickups[load.pickup];
  const massG = load.items.reduce((sum, item) => sum + item.massG, 0);
  return pickup ? centsOf(pickup, massG) : 0;
}

/** Grain nobody needs that will be worth nothing at the end: it may go as feed. */
export function spareGrain(problem: Problem, piles: Piles, moves: readonly MoveIn[]): Outgoing[] {
  return piles.piles
    .filter((pile) => (problem.lots[pile.lot]?.endCentsPerG ?? 0) === 0 && pile.massG >= TRIFLE_G)
    .map((pile) => ({
      lot: pile.lot,
      store: pile.store,
      massG: Math.floor(pile.massG),
      from: presentFrom(problem, moves, pile),
      by: problem.endDay,
      must: false,
    }));
}

/** The lot's grain is in the store from this day on. */
export function presentFrom(
  problem: Problem,
  moves: readonly MoveIn[],
  one: { lot: number; store: number },
): number {
  const lot = problem.lots[one.lot];
  const lying = lot?.stock.some((pile) => pile.store === one.store);
  const first = lying ? problem.freeDay : (lot?.fromDay ?? problem.freeDay) + 1;
  return moves.reduce(
    (day, move) => move.lot === one.lot && move.to === one.store ? Math.max(day, move.day + 1) : day,
    first,
  );
}

/** Grain moved into a store. */
export interface MoveIn {
  lot: number;
  to: number;
  day: number;
}

/** Makes whole loads: what must go first, by deadline; then spare grain fills them up or makes loads of its own. */
export function makeLoads(
  problem: Problem,
  outgoing: readonly Outgoing[],
): { loads: StowedLoad[]; refused: Outgoing[] } {
  const loads: StowedLoad[] = [];
  const refused: Outgoing[] = [];
  for (const { lead, load } of loadsOf(problem, outgoing)) {
    if (load) loads.push(load);
    else refused.push(lead);
  }
  return { loads, refused };
}

/** Whether the loads that would be made leave none of it behind. */
export function areAllFetched(problem: Problem, outgoing: readonly Outgoing[]): boolean {
  for (const { load } of loadsOf(problem, outgoing)) if (!load) return false;
  return true;
}

/** One load after another, each with the grain that it is made for; null where no pick-up fetches that. */
function* loadsOf(
  problem: Problem,
  outgoing: readonly Outgoing[],
): Generator<{ lead: Outgoing; load: StowedLoad | null }> {
  const counts = problem.pickups.map(() => 0);
  let waiting = [...outgoing].sort((a, b) =>
    Number(b.must) - Number(a.must) || a.by - b.by || b.massG - a.massG || a.lot - b.lot
  );
  while (waiting.length > 0) {
    const lead = waiting[0] as Outgoing;
    const made = bestLoad(problem, lead, waiting, counts);
    if (made) counts[made.load.pickup] = (counts[made.load.pickup] as number) + 1;
    waiting = made ? made.rest : waiting.slice(1);
    yield { lead, load: made?.load ?? null };
  }
}

/** The load that brings most with `lead` in it: on the latest day all its must-go grain allows. */
function bestLoad(
  problem: Problem,
  lead: Outgoing,
  waiting: readonly Outgoing[],
  counts: readonly number[],
): { load: StowedLoad; rest: Outgoing[] } | null {
  let best: Pickup | null = null;
  let bestDay = 0;
  let bestCents = -Infinity;
  for (const pickup of problem.pickups) {
    if (!pickup.takes[lead.lot] || (counts[pickup.index] as number) >= pickup.loads) continue;
    const day = pickup.days.findLast((one) => one <= lead.by && one >= lead.from);
    if (day === undefined) continue;
    let massG = 0;
    for (const one of waiting) massG += goesG(pickup, day, one, massG);
    if (massG < pickup.leastG) continue;
    const cents = centsOf(pickup, massG);
    if (!lead.must && cents <= 0) continue;
    if (cents > bestCents) {
      best = pickup;
      bestDay = day;
      bestCents = cents;
    }
  }
  return best && filled(best, bestDay, waiting);
}

/** Grams of it that go along on a lorry that holds `massG` already. */
function goesG(pickup: Pickup, day: number, one: Outgoing, massG: number): number {
  if (!pickup.takes[one.lot] || one.by < day || one.from > day) return 0;
  return Math.max(0, Math.min(one.massG, pickup.greatestG - massG));
}

function centsOf(pickup: Pickup, massG: number): number {
  return Math.round(pickup.perTonneCents * massG / 1e6) - pickup.haulageCents;
}

/** The lorry filled in order, and what is left waiting: grain that must go is taken whole or down to a rest that can go later. */
function filled(
  pickup: Pickup,
  day: number,
  waiting: readonly Outgoing[],
): { load: StowedLoad; rest: Outgoing[] } {
  const items: StowedLoad["items"] = [];
  const rest: Outgoing[] = [];
  let massG = 0;
  for (const one of waiting) {
    const take = goesG(pickup, day, one, massG);
    if (take > 0) items.push({ lot: one.lot, store: one.store, massG: take });
    massG += take;
    if (take < one.massG) rest.push(take > 0 ? { ...one, massG: one.massG - take } : one);
  }
  return { load: { pickup: pickup.index, day, items }, rest };
}
