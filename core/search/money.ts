import type { CellarBatch } from "./cellar.ts";
import type { Problem } from "./problem.ts";

/** Grams of a batch taken on a day. */
export interface Taking {
  batch: CellarBatch;
  day: number;
  massG: number;
}

/** The reserve's price in cents, unrounded: tonne-days of ready malt under each floor, day by day, inside the horizon. */
export function reserveCents(
  problem: Problem,
  batches: readonly CellarBatch[],
  takings: readonly Taking[],
): number {
  let gramDays = 0;
  const first = problem.asOfDay + 1;
  const length = problem.horizonDay - first + 1;
  if (length <= 0) return 0;
  for (const material of problem.materials) {
    if (!material.malt || material.floorG <= 0) continue;
    const change = new Float64Array(length + 1);
    const put = (day: number, massG: number) => {
      const at = Math.max(0, day - first);
      if (at < length) change[at] = (change[at] as number) + massG;
    };
    for (const batch of batches) {
      if (batch.material !== material.index) continue;
      const from = Math.max(batch.ready, batch.arrives);
      if (batch.last < from) continue;
      put(from, batch.massG);
      let left = batch.massG;
      for (const taking of takings) {
        if (taking.batch !== batch) continue;
        put(taking.day, -taking.massG);
        left -= taking.massG;
      }
      put(batch.last + 1, -left);
    }
    let stock = 0;
    for (let d = 0; d < length; d++) {
      stock += change[d] as number;
      gramDays += Math.max(0, material.floorG - stock);
    }
  }
  return gramDays / 1e6 * problem.season.costs.reservePerTonneDayCents;
}

/** Where the malt store is over its limit. */
export interface Crowding {
  placeDays: number;
  days: number[];
  /** The last order to arrive, not booked, of which something lies there on the first of these days. */
  order: { batchId: string; arrives: number } | null;
}

/** Places of the malt store by day from as-of: taken in all, taken by what lies there whatever the plan does, and how many there may be. */
export function placesTaken(
  problem: Problem,
  batches: readonly CellarBatch[],
  takings: readonly Taking[],
): { used: Int32Array; settled: Int32Array; allowed: number } {
  const { places, placeG } = problem.season.maltStore;
  const length = problem.endDay - problem.asOfDay + 1;
  const used = new Int32Array(length);
  const settled = new Int32Array(length);
  for (const batch of batches) {
    const taken = takings.filter((one) => one.batch === batch).sort((a, b) => a.day - b.day);
    let left = batch.massG;
    let next = 0;
    for (let d = Math.max(0, batch.arrives - problem.asOfDay); d < length; d++) {
      while (next < taken.length && (taken[next] as Taking).day <= problem.asOfDay + d) {
        left -= (taken[next++] as Taking).massG;
      }
      if (left <= 0) break;
      used[d] = (used[d] as number) + Math.ceil(left / placeG);
      if (batch.settled) settled[d] = (settled[d] as number) + Math.ceil(left / placeG);
    }
  }
  return { used, settled, allowed: Math.max(places, settled[0] ?? 0) };
}

/** Days on which the malt store is over its limit by what the plan brings in, and place-days over in all. */
export function placesOver(
  problem: Problem,
  batches: readonly CellarBatch[],
  takings: readonly Taking[],
): Crowding {
  const { used, settled, allowed } = placesTaken(problem, batches, takings);
  let placeDays = 0;
  const days: number[] = [];
  for (let d = 0; d < used.length; d++) {
    if ((used[d] as number) <= allowed || used[d] === settled[d]) continue;
    placeDays += (used[d] as number) - allowed;
    days.push(problem.asOfDay + d);
  }
  const [first] = days;
  let newest: CellarBatch | null = null;
  for (const batch of first === undefined ? [] : batches) {
    const takenG = takings.reduce(
      (sum, one) => one.batch === batch && one.day <= (first as number) ? sum + one.massG : sum,
      0,
    );
    if (!batch.key.startsWith("offer ") || batch.arrives > (first as number) || takenG >= batch.massG) {
      continue;
    }
    if (!newest || batch.arrives >= newest.arrives) newest = batch;
  }
  return { placeDays, days, order: newest && { batchId: newest.id, arrives: newest.arrives } };
}
