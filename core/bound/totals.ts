import type { BoundModel } from "./model.ts";

/** A malt's runs are also counted up to so many points of time. */
const POINTS = 10;

/**
 * Columns whose sums are whole numbers in every plan: all runs, runs by malt, by malt and lots, and by malt up to some points of time; orders by offer;
 * every promise. Behind them what is whole by itself: runs of a step, orders of a day, brews. Each once; `coarse` is how many stand before those.
 */
export function totalsOf({ runs, sources, demands }: BoundModel): { totals: number[][]; coarse: number } {
  const sums = new Map<string, number[]>();
  const put = (name: string, column: number) => sums.set(name, [...sums.get(name) ?? [], column]);
  const last = Math.max(0, ...runs.map((run) => run.step));
  for (const run of runs) {
    put("runs", run.count);
    put(`malt ${run.malt}`, run.count);
    put(`lots ${run.malt} ${run.lots.join(" ")}`, run.count);
    for (let point = 1; point < POINTS; point++) {
      if (run.step <= last * point / POINTS) put(`malt ${run.malt} to ${point}`, run.count);
    }
  }
  for (const source of sources) if (source.offer >= 0) put(`offer ${source.offer}`, source.whole);
  for (const { kept, made, demand } of demands) {
    if (kept >= 0 && kept !== made) put(`kept ${demand.index}`, kept);
  }
  const coarse = distinct([...sums.values()]);
  const single = [
    ...runs.map((run) => run.count),
    ...sources.flatMap(({ offer, whole }) => offer >= 0 ? [whole] : []),
    ...demands.map((one) => one.made),
  ];
  return { totals: distinct([...coarse, ...single.map((column) => [column])]), coarse: coarse.length };
}

function distinct(lists: readonly number[][]): number[][] {
  const known = new Set<string>();
  return lists.filter((columns) => {
    const name = columns.join(" ");
    return !known.has(name) && known.add(name);
  });
}

/** One row for each total, open to both sides: what a tree of proofs branches on. Returns the first. */
export function addTotalRows(of: BoundModel): number {
  const first = of.model.rowLower.length;
  for (const columns of totalsOf(of).totals) {
    of.model.row(-Infinity, Infinity, columns.map((column) => [column, 1]));
  }
  return first;
}
