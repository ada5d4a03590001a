import type { LineTable } from "./lines.ts";
import type { Problem } from "./problem.ts";
import type { ReadyMalt } from "./ready-malt.ts";

/** Home share aimed at above a promise, so that rounding does not break it. */
export const MARGIN = 5e-5;

/**
 * Sets what a brew claims: all that cannot be bought, and of home malt what its promise asks for, first of what it claims anyway,
 * then of what is most plentiful.
 */
export function claim(
  problem: Problem,
  table: LineTable,
  malts: readonly ReadyMalt[],
  rawFromLots: readonly boolean[],
  demand: number,
  promised: boolean,
): void {
  const from = table.first[demand] as number;
  const to = table.first[demand + 1] as number;
  for (let line = from; line < to; line++) {
    table.claim[line] = table.least1[line] as number;
    table.homeClaim[line] = 0;
  }
  const promise = problem.demands[demand]?.promise ?? 0;
  if (promised && promise > 0) claimHome(table, malts, rawFromLots, promise, from, to);
  for (let line = from; line < to; line++) {
    const malt = malts[table.material[line] as number] as ReadyMalt;
    malt.claimedG += table.claim[line] as number;
    malt.claimedHomeG += table.homeClaim[line] as number;
  }
}

function claimHome(
  table: LineTable,
  malts: readonly ReadyMalt[],
  rawFromLots: readonly boolean[],
  promise: number,
  from: number,
  to: number,
): void {
  let open = 0;
  for (let line = from; line < to; line++) open += (table.bookG[line] as number) * (promise + MARGIN);
  for (let line = from; line < to; line++) {
    if (rawFromLots[table.material[line] as number]) open -= table.bookG[line] as number;
  }
  const maltOf = (line: number) => malts[table.material[line] as number] as ReadyMalt;
  const mayBeHome = (line: number) => {
    const material = table.material[line] as number;
    return !rawFromLots[material] && (table.homeable[material] as boolean);
  };
  const take = (line: number, mostG: number) => {
    const perBook = (table.need[line] as number) / (table.bookG[line] as number);
    const part = Math.min(mostG, open * perBook);
    const home = (table.homeClaim[line] as number) + part;
    table.homeClaim[line] = home;
    if (home > (table.claim[line] as number)) table.claim[line] = home;
    open -= part / perBook;
  };
  /** Home malt that is there and claimed by nobody else. */
  const spareHome = (line: number) => {
    const malt = maltOf(line);
    return Math.max(0, malt.readyHomeG - malt.claimedHomeG - (table.homeClaim[line] as number));
  };
  for (let line = from; line < to && open > 0; line++) {
    if (mayBeHome(line)) take(line, Math.min(table.claim[line] as number, spareHome(line)));
  }
  for (let round = 0; round < to - from && open > 0; round++) {
    let pick = -1;
    let most = 0;
    for (let line = from; line < to; line++) {
      if (!mayBeHome(line)) continue;
      const malt = maltOf(line);
      const spare = Math.max(0, malt.readyG - malt.claimedG - (table.claim[line] as number));
      const room = (table.need[line] as number) - (table.homeClaim[line] as number);
      const part = Math.min(
        room,
        spareHome(line),
        (table.claim[line] as number) - (table.homeClaim[line] as number) + spare,
      );
      if (part > most + 1e-9) {
        most = part;
        pick = line;
      }
    }
    if (pick < 0) break;
    take(pick, most);
  }
  // What nothing has to spare for is claimed from the largest line, and the count decides who goes.
  for (let round = 0; round < to - from && open > 1e-9; round++) {
    let pick = -1;
    let most = 1e-9;
    for (let line = from; line < to; line++) {
      const room = (table.need[line] as number) - (table.homeClaim[line] as number);
      if (!mayBeHome(line) || room <= most) continue;
      most = room;
      pick = line;
    }
    if (pick < 0) break;
    take(pick, most);
  }
}
