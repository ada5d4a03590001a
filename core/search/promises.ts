import type { LineTable } from "./lines.ts";
import type { Problem } from "./problem.ts";
import type { Supply } from "./supply.ts";

const BREW_RANK = 10;
/** Home share aimed at above a promise, so that rounding does not break it. */
const MARGIN = 5e-5;

/**
 * What choosing needs to know of each material while it walks through the days: what is ready and what is claimed, grams of
 * extract; of both, how much is home-grown or has to be, for a promise.
 */
interface Running {
  ready: Float64Array;
  readyHome: Float64Array;
  committed: Float64Array;
  committedHome: Float64Array;
  next: Int32Array;
  /** Batches past their last day, and what they came to. */
  gone: Int32Array;
  goneG: Float64Array;
  /** What of them nobody had claimed. */
  spoiltG: Float64Array;
  seen: number[][];
}

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
 * before a brew (Moore and Hodgson's rule, malt by malt).
 * Malt that nobody has claimed by its last day is not there for later claims.
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
  const run: Running = {
    gone: new Int32Array(problem.materials.length),
    goneG: new Float64Array(problem.materials.length),
    spoiltG: new Float64Array(problem.materials.length),
    committed: new Float64Array(problem.materials.length),
    committedHome: new Float64Array(problem.materials.length),
    ready: new Float64Array(problem.materials.length),
    readyHome: new Float64Array(problem.materials.length),
    next: new Int32Array(problem.materials.length),
    seen: problem.materials.map(() => []),
  };
  for (const demand of order) {
    const from = table.first[demand] as number;
    const to = table.first[demand + 1] as number;
    for (let line = from; line < to; line++) {
      comeReady(run, supplies, table.material[line] as number, day[demand] as number);
    }
    if (hurry?.barred[demand]) {
      status[demand] = 0;
      continue;
    }
    status[demand] = table.share[demand] === Infinity ? 1 : 2;
    claim(problem, table, run, rawFromLots, demand, status[demand] === 2);
    for (let line = from; line < to; line++) {
      const m = table.material[line] as number;
      (run.seen[m] as number[]).push(line);
      if (rawFromLots[m]) continue;
      const seen = run.seen[m] as number[];
      while ((run.committed[m] as number) > (run.ready[m] as number) + 1) {
        if (!dropOne(problem, table, seen, status, run, hurry?.crowded ?? false)) break;
      }
      // Bought malt in the store makes a brew but keeps no promise.
      while ((run.committedHome[m] as number) > (run.readyHome[m] as number) + 1) {
        if (!dropPromise(problem, table, seen, status, run)) break;
      }
    }
  }
}

function comeReady(run: Running, supplies: readonly (readonly Supply[])[], m: number, day: number): void {
  const list = supplies[m] as readonly Supply[];
  let at = run.next[m] as number;
  while (at < list.length && (list[at] as Supply).ready <= day) {
    const { extractG, home } = list[at] as Supply;
    run.ready[m] = (run.ready[m] as number) + extractG;
    if (home) run.readyHome[m] = (run.readyHome[m] as number) + extractG;
    at++;
  }
  run.next[m] = at;
  for (let gone = run.gone[m] as number; gone < at; gone++) {
    const { extractG, last, home } = list[gone] as Supply;
    if (last >= day) break;
    run.gone[m] = gone + 1;
    run.goneG[m] = (run.goneG[m] as number) + extractG;
    const unclaimed = (run.goneG[m] as number) - (run.spoiltG[m] as number) - (run.committed[m] as number);
    if (unclaimed <= 0) continue;
    run.spoiltG[m] = (run.spoiltG[m] as number) + unclaimed;
    run.ready[m] = (run.ready[m] as number) - unclaimed;
    if (home) {
      const left = (run.readyHome[m] as number) - Math.min(unclaimed, extractG);
      run.readyHome[m] = Math.max(left, run.committedHome[m] as number);
    }
    // Whoever gave up a claim now would free nothing but what has spoilt.
    (run.seen[m] as number[]).length = 0;
  }
}

/** Sets a brew's claims: all of what cannot be bought, and for its promise what is most plentiful. */
function claim(
  problem: Problem,
  table: LineTable,
  run: Running,
  rawFromLots: readonly boolean[],
  demand: number,
  promised: boolean,
): void {
  const from = table.first[demand] as number;
  const to = table.first[demand + 1] as number;
  let open = 0;
  for (let line = from; line < to; line++) {
    table.claim[line] = table.least1[line] as number;
    if (promised) open += table.bookG[line] as number;
  }
  const promise = problem.demands[demand]?.promise ?? 0;
  if (promised && promise > 0) {
    open *= promise + MARGIN;
    // Raw grain of the farm's own and lines that must come from store count first.
    for (let line = from; line < to; line++) {
      const part = rawFromLots[table.material[line] as number]
        ? 1
        : (table.claim[line] as number) / (table.need[line] as number);
      open -= part * (table.bookG[line] as number);
    }
    for (let round = 0; round < to - from && open > 0; round++) {
      let pick = -1;
      let most = 0;
      for (let line = from; line < to; line++) {
        const m = table.material[line] as number;
        const room = (table.need[line] as number) - (table.claim[line] as number);
        if (rawFromLots[m] || !table.homeable[m] || room <= 1e-9) continue;
        const slack = Math.max(
          0,
          Math.min(
            (run.ready[m] as number) - (run.committed[m] as number),
            (run.readyHome[m] as number) - (run.committedHome[m] as number),
          ) - (table.claim[line] as number),
        );
        const part = Math.min(room, slack);
        if (part > most) {
          most = part;
          pick = line;
        }
      }
      if (pick < 0) break;
      const perBook = (table.need[pick] as number) / (table.bookG[pick] as number);
      const part = Math.min(most, open * perBook);
      table.claim[pick] = (table.claim[pick] as number) + part;
      open -= part / perBook;
    }
    // What nothing has to spare for is claimed from the largest line, and the count decides who goes.
    for (let round = 0; round < to - from && open > 1e-9; round++) {
      let pick = -1;
      for (let line = from; line < to; line++) {
        const room = (table.need[line] as number) - (table.claim[line] as number);
        if (!table.homeable[table.material[line] as number] || room <= 1e-9) continue;
        if (pick < 0 || room > (table.need[pick] as number) - (table.claim[pick] as number)) pick = line;
      }
      if (pick < 0) break;
      const perBook = (table.need[pick] as number) / (table.bookG[pick] as number);
      const part = Math.min((table.need[pick] as number) - (table.claim[pick] as number), open * perBook);
      table.claim[pick] = (table.claim[pick] as number) + part;
      open -= part / perBook;
    }
  }
  for (let line = from; line < to; line++) {
    const m = table.material[line] as number;
    const claimed = table.claim[line] as number;
    run.committed[m] = (run.committed[m] as number) + claimed;
    if (promised && promise > 0) run.committedHome[m] = (run.committedHome[m] as number) + claimed;
  }
}

/** What giving up a line's claim would free, grams of extract, and how dear that is; the least rank goes first. */
interface Drop {
  gain: number;
  rank: number;
}

/** Drops the cheapest, and of those the largest or the `latest`, claim on one malt; false when there is none. */
function dropOne(
  problem: Problem,
  table: LineTable,
  lines: readonly number[],
  status: Uint8Array,
  run: Running,
  latest: boolean,
): boolean {
  return drop(problem, table, lines, status, run, latest, (line, demand) => {
    const least1 = table.least1[line] as number;
    const promiseGain = status[demand] === 2 ? (table.claim[line] as number) - least1 : 0;
    return promiseGain > 0
      ? { gain: promiseGain, rank: promiseRank(problem, demand) }
      : { gain: least1, rank: BREW_RANK + 5 - (problem.demands[demand]?.class ?? 3) };
  });
}

/** Drops the cheapest promise, and of those the one that claims most of one malt; its brew stays. False when there is none. */
function dropPromise(
  problem: Problem,
  table: LineTable,
  lines: readonly number[],
  status: Uint8Array,
  run: Running,
): boolean {
  return drop(problem, table, lines, status, run, false, (line, demand) => ({
    gain: isPromised(problem, status, demand) ? table.claim[line] as number : 0,
    rank: promiseRank(problem, demand),
  }));
}

/** A promise of a brew of the lowest class is the cheapest to break. */
function promiseRank(problem: Problem, demand: number): number {
  return problem.demands[demand]?.class === 4 ? 0 : 1;
}

/** Whether a brew is to keep a promise, which only home malt can. */
function isPromised(problem: Problem, status: Uint8Array, demand: number): boolean {
  return status[demand] === 2 && (problem.demands[demand]?.promise ?? 0) > 0;
}

function drop(
  problem: Problem,
  table: LineTable,
  lines: readonly number[],
  status: Uint8Array,
  run: Running,
  latest: boolean,
  judge: (line: number, demand: number) => Drop,
): boolean {
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
  lower(problem, table, status, run, pick, best.rank >= BREW_RANK ? 0 : 1);
  return true;
}

/** Takes a demand down to `to`, and its claims with it. */
function lower(
  problem: Problem,
  table: LineTable,
  status: Uint8Array,
  run: Running,
  demand: number,
  to: 0 | 1,
): void {
  const promised = isPromised(problem, status, demand);
  for (let line = table.first[demand] as number; line < (table.first[demand + 1] as number); line++) {
    const m = table.material[line] as number;
    const claimed = table.claim[line] as number;
    const keeps = to === 1 ? table.least1[line] as number : 0;
    run.committed[m] = (run.committed[m] as number) - claimed + keeps;
    if (promised) run.committedHome[m] = (run.committedHome[m] as number) - claimed;
    table.claim[line] = keeps;
  }
  status[demand] = to;
}
