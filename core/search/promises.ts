import { claim, MARGIN } from "./claims.ts";
import type { LineTable } from "./lines.ts";
import type { Problem } from "./problem.ts";
import { ReadyMalt } from "./ready-malt.ts";
import type { Supply } from "./supply.ts";

const BREW_RANK = 10;

/** Which demands are not to be made, and whether what is ready should rather be used soon than by the most brews. */
export interface Hurry {
  barred: Uint8Array;
  /** True where the malt store is short of places: of like demands the latest goes, so that stock does not wait for it. */
  crowded: boolean;
}

/**
 * Chooses which brews are made (status 1) and which also keep their home-share promise (2), and what each line claims of its
 * malt. In order of day every brew comes in with the least home malt it needs, taken from the lines whose malt is most
 * plentiful; when a malt's running claims overtake its supply, the largest among the cheapest to drop goes, a promise
 * before a brew (Moore and Hodgson's rule, malt by malt). Malt that nobody has claimed by its last day is not there for later claims.
 */
export function choosePromises(
  problem: Problem,
  table: LineTable,
  supplies: readonly (readonly Supply[])[],
  rawFromLots: readonly boolean[],
  order: readonly number[],
  day: Int32Array,
  status: Uint8Array,
  hurry?: Hurry,
): void {
  const malts = problem.materials.map((_, material) =>
    new ReadyMalt(supplies[material] as readonly Supply[])
  );
  const choice: Choice = { problem, table, malts, status };
  for (const demand of order) {
    const from = table.first[demand] as number;
    const to = table.first[demand + 1] as number;
    for (let line = from; line < to; line++) maltOf(choice, line).comeTo(day[demand] as number, table);
    if (hurry?.barred[demand]) {
      status[demand] = 0;
      continue;
    }
    status[demand] = table.promiseInReach[demand] ? 2 : 1;
    claim(problem, table, malts, rawFromLots, demand, status[demand] === 2);
    for (let line = from; line < to; line++) {
      const malt = maltOf(choice, line);
      malt.seen.push(line);
      if (rawFromLots[table.material[line] as number]) continue;
      while (malt.claimedG * (1 - MARGIN) > malt.readyG + 1) {
        if (!dropOne(choice, malt.seen, hurry?.crowded ?? false)) break;
      }
      // Bought malt in the store makes a brew but keeps no promise.
      while (malt.claimedHomeG * (1 - MARGIN) > malt.readyHomeG + 1) {
        if (!dropPromise(choice, malt.seen)) break;
      }
    }
  }
}

interface Choice {
  problem: Problem;
  table: LineTable;
  malts: readonly ReadyMalt[];
  status: Uint8Array;
}

function maltOf({ table, malts }: Choice, line: number): ReadyMalt {
  return malts[table.material[line] as number] as ReadyMalt;
}

/** What giving up a line's claim would free, grams of extract, and how dear that is; the least rank goes first. */
interface Drop {
  gain: number;
  rank: number;
}

/** Drops the cheapest, and of those the largest or the `latest`, claim on one malt; false when there is none. */
function dropOne(choice: Choice, lines: readonly number[], latest: boolean): boolean {
  const { problem, table, status } = choice;
  return drop(choice, lines, latest, (line, demand) => {
    const least1 = table.least1[line] as number;
    const promiseGain = status[demand] === 2 ? (table.claim[line] as number) - least1 : 0;
    return promiseGain > 0
      ? { gain: promiseGain, rank: promiseRank(problem, demand) }
      : { gain: least1, rank: BREW_RANK + 5 - (problem.demands[demand]?.class ?? 3) };
  });
}

/** Drops the cheapest promise, and of those the one that claims most of one malt; its brew stays. False when there is none. */
function dropPromise(choice: Choice, lines: readonly number[]): boolean {
  const { problem, table } = choice;
  return drop(choice, lines, false, (line, demand) => ({
    gain: table.homeClaim[line] as number,
    rank: promiseRank(problem, demand),
  }));
}

/** A promise of a brew of the lowest class is the cheapest to break. */
function promiseRank(problem: Problem, demand: number): number {
  return problem.demands[demand]?.class === 4 ? 0 : 1;
}

function drop(
  choice: Choice,
  lines: readonly number[],
  latest: boolean,
  judge: (line: number, demand: number) => Drop,
): boolean {
  const { table, status } = choice;
  let pick = -1;
  let best: Drop = { gain: 0, rank: Infinity };
  for (const line of lines) {
    const demand = table.demand[line] as number;
    if (status[demand] === 0) continue;
    const one = judge(line, demand);
    if (one.gain <= 0) continue;
    if (one.rank < best.rank || (one.rank === best.rank && (latest || one.gain > best.gain))) {
      pick = demand;
      best = one;
    }
  }
  if (pick < 0) return false;
  lower(choice, pick, best.rank >= BREW_RANK ? 0 : 1);
  return true;
}

/** Takes a demand down to `to`, and its claims with it. */
function lower(choice: Choice, demand: number, to: 0 | 1): void {
  const { table, status } = choice;
  for (let line = table.first[demand] as number; line < (table.first[demand + 1] as number); line++) {
    const malt = maltOf(choice, line);
    const keeps = to === 1 ? table.least1[line] as number : 0;
    malt.claimedG += keeps - (table.claim[line] as number);
    malt.claimedHomeG -= table.homeClaim[line] as number;
    table.claim[line] = keeps;
    table.homeClaim[line] = 0;
  }
  status[demand] = to;
}
