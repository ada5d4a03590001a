import type { LineTable } from "./lines.ts";
import type { Problem } from "./problem.ts";
import type { Supply } from "./supply.ts";

const BREW_RANK = 10;

/**
 * Chooses which brews are made (status 1) and which also keep their home-share promise (2). In order of day every brew
 * comes in with the least home malt it needs; when a malt's running need overtakes its supply, the largest claim among
 * the cheapest to drop goes, a promise before a brew (Moore and Hodgson's rule, malt by malt).
 */
export function choosePromises(
  problem: Problem,
  table: LineTable,
  supplies: readonly (readonly Supply[])[],
  rawFromLots: readonly boolean[],
  order: readonly number[],
  day: Int32Array,
  status: Uint8Array,
): void {
  const committed = new Float64Array(problem.materials.length);
  const ready = new Float64Array(problem.materials.length);
  const next = new Int32Array(problem.materials.length);
  const seen: number[][] = problem.materials.map(() => []);
  for (const demand of order) {
    const on = day[demand] as number;
    const of = table.share[demand] === Infinity ? 1 : 2;
    status[demand] = of;
    const from = table.first[demand] as number;
    const to = table.first[demand + 1] as number;
    for (let line = from; line < to; line++) {
      const m = table.material[line] as number;
      const list = supplies[m] as readonly Supply[];
      let at = next[m] as number;
      while (at < list.length && (list[at] as Supply).ready <= on) {
        ready[m] = (ready[m] as number) + (list[at] as Supply).extractG;
        at++;
      }
      next[m] = at;
      committed[m] = (committed[m] as number) +
        ((of === 2 ? table.least2[line] : table.least1[line]) as number);
      (seen[m] as number[]).push(line);
    }
    for (let line = from; line < to; line++) {
      const m = table.material[line] as number;
      if (rawFromLots[m]) continue;
      while ((committed[m] as number) > (ready[m] as number) + 1) {
        if (!dropOne(problem, table, seen[m] as number[], status, committed)) break;
      }
    }
  }
}

/** Drops the cheapest, and of those the largest, claim on one malt. */
function dropOne(
  problem: Problem,
  table: LineTable,
  lines: readonly number[],
  status: Uint8Array,
  committed: Float64Array,
): boolean {
  let pick = -1;
  let pickGain = 0;
  let pickRank = Infinity;
  for (const line of lines) {
    const demand = table.demand[line] as number;
    const of = status[demand];
    if (of === 0) continue;
    const least1 = table.least1[line] as number;
    const promiseGain = of === 2 ? (table.least2[line] as number) - least1 : 0;
    const gain = promiseGain > 0 ? promiseGain : least1;
    if (gain <= 0) continue;
    const kind = problem.demands[demand]?.class ?? 3;
    const rank = promiseGain > 0 ? (kind === 4 ? 0 : 1) : BREW_RANK + 5 - kind;
    if (rank < pickRank || (rank === pickRank && gain > pickGain)) {
      pick = demand;
      pickGain = gain;
      pickRank = rank;
    }
  }
  if (pick < 0) return false;
  const from = status[pick];
  const to = pickRank >= BREW_RANK ? 0 : 1;
  for (let line = table.first[pick] as number; line < (table.first[pick + 1] as number); line++) {
    const m = table.material[line] as number;
    const had = (from === 2 ? table.least2[line] : table.least1[line]) as number;
    committed[m] = (committed[m] as number) - had + (to === 1 ? table.least1[line] as number : 0);
  }
  status[pick] = to;
  return true;
}
