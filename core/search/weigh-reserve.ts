import { isReservePriced } from "./reserve-price.ts";
import type { Spoilt } from "./weigh-pools.ts";
import { mostWeightT, type Source } from "./weigh-sources.ts";
import type { Use, Weighing } from "./weighing.ts";

/**
 * Prices every tonne-day of ready malt under a floor inside the horizon: stock(k+1) = stock(k) + what comes ready - what is used or spoils,
 * under(k) >= floor - stock(k), at its price for the days of step k. Stock is weighed, not counted in extract.
 */
export function priceReserve(of: Weighing): void {
  const price = of.problem.season.costs.reservePerTonneDayCents / 100;
  for (const material of of.problem.materials) {
    if (!isReservePriced(of.problem, material.index)) continue;
    steps(
      of,
      material.index,
      material.floorG / 1e6,
      price,
      of.sources.filter((source) =>
        source.material === material.index && Number.isFinite(source.ready) &&
        source.last > of.problem.asOfDay
      ),
      of.uses.filter((use) => use.source.material === material.index),
    );
  }
}

/** Days between the steps where weights only stay near an accepted plan. */
const THIN_DAYS = 6;

/** Days of which none follows the one before within less than `apart`. */
function thinned(days: readonly number[], apart: number): number[] {
  let last = -Infinity;
  return days.filter((day) => {
    if (day < last + apart) return false;
    last = day;
    return true;
  });
}

function steps(
  of: Weighing,
  material: number,
  floorT: number,
  price: number,
  sources: readonly Source[],
  uses: readonly Use[],
): void {
  const { model, problem } = of;
  const first = problem.asOfDay + 1;
  const end = problem.horizonDay + 1;
  if (end <= first) return;
  const days = new Set<number>([first]);
  for (const source of sources) if (source.ready > first && source.ready < end) days.add(source.ready);
  for (const use of uses) if (use.day > first && use.day < end) days.add(use.day);
  const ofPools = of.spoilt.filter(({ pool, day }) => pool.material === material && day < end)
    .sort((a, b) => a.day - b.day);
  const inPools = new Set(of.pools.flatMap(({ members }) => members));
  const spoiling = sources.filter((source) => source.last + 1 < end && !inPools.has(source))
    .sort((a, b) => a.last - b.last);
  for (const source of spoiling) days.add(source.last + 1);
  for (const { day } of ofPools) days.add(day);
  const all = [...days].sort((a, b) => a - b);
  const marks = of.near ? thinned(all, THIN_DAYS) : all;
  const incoming = [...sources].sort((a, b) => a.ready - b.ready);
  const outgoing = [...uses].sort((a, b) => a.day - b.day);
  let inAt = 0;
  let outAt = 0;
  let spoiltAt = 0;
  let badAt = 0;
  let stock = -1;
  // Stock is never more than all that comes, nor less than none of it after all of it has gone.
  const mostT = sources.reduce((sum, source) => sum + mostWeightT(model, source), 0);
  marks.forEach((mark, i) => {
    const entries: [number, number][] = [];
    let fixedT = 0;
    for (; inAt < incoming.length && (incoming[inAt] as Source).ready <= mark; inAt++) {
      const source = incoming[inAt] as Source;
      fixedT += source.fixedT / source.perG;
      if (source.column >= 0) entries.push([source.column, source.perColumn / source.perG]);
    }
    for (; outAt < outgoing.length && (outgoing[outAt] as Use).day <= mark; outAt++) {
      const use = outgoing[outAt] as Use;
      entries.push([use.column, -1 / use.source.perG]);
    }
    // What is left of a batch after its last day is not ready malt any more.
    for (; spoiltAt < spoiling.length && (spoiling[spoiltAt] as Source).last < mark; spoiltAt++) {
      const source = spoiling[spoiltAt] as Source;
      fixedT -= source.fixedT / source.perG;
      if (source.column >= 0) entries.push([source.column, -source.perColumn / source.perG]);
      for (const use of uses) if (use.source === source) entries.push([use.column, 1 / source.perG]);
    }
    for (; badAt < ofPools.length && (ofPools[badAt] as Spoilt).day <= mark; badAt++) {
      const { pool, column } = ofPools[badAt] as Spoilt;
      entries.push([column, -1 / pool.perG]);
    }
    if (stock >= 0) entries.push([stock, 1]);
    const after = model.column(0, -2 * mostT, 2 * mostT);
    entries.push([after, -1]);
    model.row(-fixedT, -fixedT, entries);
    const under = model.column(price * ((marks[i + 1] ?? end) - mark), 0, floorT + 2 * mostT);
    model.row(floorT, Infinity, [[under, 1], [after, 1]]);
    stock = after;
  });
}
