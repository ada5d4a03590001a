import { grainChanges } from "./grain-levels.ts";
import type { Stopped } from "./stopped.ts";

type Row = { readonly lotId: string; readonly storeId: string; readonly massG: number };

/** Part of what came in by which book and scales may differ: so little beside another lot in a bin is no grain, but an error. */
const BOOK_TOLERANCE = 0.001;

/**
 * Grain in store as an opening position may say it. Two things of the book are not so in a bin: a lot that was swept out, of which the
 * records leave a little, and one lot with the same weight in two stores to the gram, which is taken for a slip of the pen. The first
 * is left out, of the second one gram.
 */
export function grainToEnter(stopped: Stopped): Row[] {
  const rows: Row[] = [];
  for (const row of stopped.state.grain) {
    if (isSwept(stopped, row)) continue;
    let { massG } = row;
    while (rows.some((other) => other.lotId === row.lotId && other.massG === massG)) massG--;
    if (massG > 0) rows.push({ ...row, massG });
  }
  return rows;
}

function isSwept({ season, state, journal, toCome }: Stopped, row: Row): boolean {
  const store = season.stores.find((one) => one.id === row.storeId);
  const isHeavier = (other: Row) => other.storeId === row.storeId && other.massG > row.massG;
  if (store?.kind !== "bin" || !state.grain.some(isHeavier)) return false;
  const here = (one: { lotId: string; storeId: string }) =>
    one.lotId === row.lotId && one.storeId === row.storeId;
  const cameG = grainChanges(journal).filter((one) => here(one) && one.deltaG > 0 && one.day < toCome)
    .reduce((sum, one) => sum + one.deltaG, season.opening.grain.find(here)?.massG ?? 0);
  return row.massG <= cameG * BOOK_TOLERANCE;
}
