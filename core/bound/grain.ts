import { dayNumber } from "../calendar.ts";
import type { FixedRun, Problem, ProblemLot } from "../search/problem.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import type { Source } from "./source.ts";

/** Grain by lot, as columns of tonnes. */
export interface GrainColumns {
  /** By lot index: tonnes that are there for runs, mash, feed and contracts, and what a tonne of them would bring at most, unmalted. */
  readonly freeT: readonly number[];
  readonly worth: readonly number[];
  /** By lot: entries of all that is drawn of it, with coefficient 1. */
  readonly drawn: readonly [column: number, coefficient: number][][];
  /** By lot: columns of what is not drawn for runs or mash: feed, contracts, what is left. */
  readonly rest: readonly number[][];
  /** By lot: the columns among those of grain for feed, contracts and mash, with the first day on which it can go. */
  readonly leaves: readonly { readonly column: number; readonly from: number }[][];
  /** By raw lot index: the column of what goes into the mash. */
  readonly raw: ReadonlyMap<number, number>;
}

/**
 * Columns of grain that is not steeped. Its worth, all of it at the best price a lot could bring, stands in the fixed money; a
 * column costs what it takes off that.
 */
export function addGrain(model: LinearModel, problem: Problem, fixed: readonly FixedRun[]): GrainColumns {
  const worth = problem.lots.map((lot) => worthOf(problem, lot));
  const freeT = problem.lots.map((lot) =>
    Math.max(0, lot.totalG - takenG(problem, fixed, lot)) / G_PER_TONNE
  );
  const rest = problem.lots.map((): number[] => []);
  const leaves = problem.lots.map((): { column: number; from: number }[] => []);
  const raw = new Map<number, number>();
  for (const lot of problem.lots) {
    const most = freeT[lot.index] as number;
    if (most <= 0) continue;
    const best = worth[lot.index] as number;
    const columns = rest[lot.index] as number[];
    columns.push(model.column(best - lot.endCentsPerG * G_PER_TONNE / 100, 0, most));
    if (!lot.raw) continue;
    const column = model.column(best, 0, most);
    raw.set(lot.index, column);
    leaves[lot.index]?.push({ column, from: problem.asOfDay });
  }
  for (const pickup of problem.pickups) {
    const entries: [number, number][] = [];
    const mostT = pickup.loads * pickup.greatestG / G_PER_TONNE;
    for (const lot of problem.lots) {
      const most = Math.min(mostT, freeT[lot.index] as number);
      const isOpen = pickup.takes[lot.index] && pickup.days.some((day) => day >= lot.fromDay);
      if (!isOpen || most <= 0) continue;
      const column = model.column((worth[lot.index] as number) - feedPrice(pickup), 0, most);
      (rest[lot.index] as number[]).push(column);
      leaves[lot.index]?.push({ column, from: pickup.days[0] as number });
      entries.push([column, 1]);
    }
    if (entries.length > 0) model.row(-Infinity, mostT, entries);
  }
  for (const { contract, massG } of problem.grainSales) {
    const lot = problem.lots.find((one) => one.id === contract.lotId);
    if (!lot) continue;
    const price = contract.perTonneCents / 100 - (worth[lot.index] as number);
    const massT = massG / G_PER_TONNE;
    // What the contract pays above the lot's worth is in the fixed money: what is not delivered costs it.
    const unsold = model.column(Math.max(0, price), 0, massT);
    const sold = model.column(Math.max(0, -price), 0, massT);
    model.row(massT, massT, [[sold, 1], [unsold, 1]]);
    (rest[lot.index] as number[]).push(sold);
    leaves[lot.index]?.push({ column: sold, from: dayNumber(contract.from) });
  }
  return { freeT, worth, rest, leaves, raw, drawn: problem.lots.map(() => []) };
}

/** Every lot goes somewhere, and no further than it reaches. */
export function closeGrain(model: LinearModel, { freeT, drawn, rest, raw }: GrainColumns): void {
  freeT.forEach((most, lot) => {
    const other = rest[lot] as number[];
    const mash = raw.get(lot);
    if (other.length === 0) return;
    model.row(most, most, [
      ...(drawn[lot] as [number, number][]),
      ...other.map((column): [number, number] => [column, 1]),
      ...(mash === undefined ? [] : [[mash, 1] as [number, number]]),
    ]);
  });
}

/** Best money a tonne of feed brings in a full load, whole currency units. */
function feedPrice(pickup: Problem["pickups"][number]): number {
  const haulage = pickup.greatestG > 0 ? pickup.haulageCents / (pickup.greatestG / G_PER_TONNE) : 0;
  return (pickup.perTonneCents - haulage) / 100;
}

/** Most that a tonne of a lot brings as it is, whole currency units. */
function worthOf(problem: Problem, lot: ProblemLot): number {
  const feed = problem.pickups.filter((pickup) =>
    pickup.takes[lot.index] && pickup.loads > 0 && pickup.days.some((day) => day >= lot.fromDay)
  ).map(feedPrice);
  return Math.max(0, lot.endCentsPerG * G_PER_TONNE / 100, ...feed);
}

/** Grams of a lot that seed, booked loads, booked moves' losses and booked runs take whatever the plan does. */
function takenG(problem: Problem, fixed: readonly FixedRun[], lot: ProblemLot): number {
  const seed = lot.firm.filter((one) => one.kind === "seed").reduce((sum, one) => sum + one.massG, 0);
  const loads = problem.booked.changes.filter((one) => one.lot === lot.index);
  const booked = fixed.filter((run) => run.standing === "booked").flatMap((run) => run.draws);
  return seed +
    loads.reduce((sum, one) => sum + (one.kind === "load" ? one.massG : one.lossG), 0) +
    booked.reduce((sum, draw) => draw.lot === lot.index ? sum + draw.massG : sum, 0);
}

/**
 * Money of a plan before anything is chosen, whole currency units: what is booked, less all grain at the best price it could
 * bring and all that contracts pay. What a plan adds to it is never below 0.
 */
export function fixedMoneyOf(
  problem: Problem,
  fixed: readonly FixedRun[],
  { freeT, worth }: GrainColumns,
): number {
  let cents = 0;
  freeT.forEach((most, lot) => cents -= most * (worth[lot] as number) * 100);
  for (const { contract, massG } of problem.grainSales) {
    const lot = problem.lots.find((one) => one.id === contract.lotId);
    const best = lot ? (worth[lot.index] as number) : 0;
    cents -= Math.max(0, contract.perTonneCents - best * 100) * massG / G_PER_TONNE;
  }
  for (const demand of problem.demands) cents -= demand.saleCents;
  for (const order of problem.booked.orders) {
    const offer = problem.season.supplyOffers.find((one) => one.id === order.offerId);
    if (offer) cents += order.packs * offer.packCents + offer.freightCents;
  }
  for (const load of problem.booked.loads) {
    const pickup = problem.season.feedPickups.find((one) => one.id === load.pickupId);
    const massG = load.items.reduce((sum, item) => sum + item.massG, 0);
    if (pickup) cents -= massG / G_PER_TONNE * pickup.perTonneCents - pickup.haulageCents;
  }
  const { moveCents, movePerTonneCents } = problem.season.costs;
  for (const move of problem.booked.moves) cents += moveCents + movePerTonneCents * move.massG / G_PER_TONNE;
  for (const run of fixed) {
    const made = problem.materials[run.slot.malt]?.made;
    if (run.standing !== "booked" || !made) continue;
    const drawnG = run.draws.reduce((sum, draw) => sum + draw.massG, 0);
    cents += made.runCents + made.perTonneCents * drawnG * (1 - made.screeningLoss) / G_PER_TONNE +
      run.slot.nightCents;
  }
  return cents / 100;
}

/** Raw grain of the farm for the mash, as it comes. */
export function rawSources(problem: Problem, { raw }: GrainColumns): Source[] {
  return problem.lots.flatMap((lot): Source[] => {
    const column = raw.get(lot.index);
    const material = problem.materials.findIndex((one) => one.maltId === null && one.crop === lot.lot.crop);
    if (column === undefined || material < 0) return [];
    return [{
      material,
      day: lot.fromDay,
      lastDay: Infinity,
      storedDay: Infinity,
      terms: [{ column, gives: 1, surely: 1, home: lot.home, lot: lot.index }],
      fixedHomeT: 0,
      fixedOtherT: 0,
      whole: -1,
      mostT: 0,
      offer: -1,
      share: null,
      leastPerT: 1,
      greatestPerT: 1,
    }];
  });
}
