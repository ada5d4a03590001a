import type { LinearModel } from "../solve/linear.ts";
import { maltOf } from "./loads.ts";
import { blendOf, drawsOf, heldShares, outputsOf } from "./supply.ts";
import type { WeighInput } from "./weighing.ts";

/** A batch in the allocation model: a fixed amount of extract, or so much for each unit of a column. Tonnes of extract. */
export interface Source {
  material: number;
  arrives: number;
  ready: number;
  last: number;
  fixedT: number;
  /** Column that makes it larger, or -1. */
  column: number;
  perColumn: number;
  /** Extract in a gram of the batch. */
  perG: number;
  home: boolean;
  /** Share of the batch from each lot index; null when unknown or bought. */
  share: ReadonlyMap<number, number> | null;
  /** The book's batch, or null. */
  batchId: string | null;
  /** Index of the run it comes from, or -1. */
  run: number;
  /** Index of the offer it is bought from, or -1. */
  offer: number;
}

/** Arrival days tried for each offer. */
const ARRIVALS = 60;
const ALL_ARRIVALS = 30;

/** The most a source can ever weigh, tonnes as is. */
export function mostWeightT(model: LinearModel, source: Source): number {
  const columnT = source.column < 0 ? 0 : source.perColumn * (model.upper[source.column] as number);
  return (Math.max(0, source.fixedT) + columnT) / source.perG;
}

/** Names a source so that the books find its batch again. */
export function keyOf(source: Pick<Source, "batchId" | "run" | "material" | "offer" | "ready">): string {
  if (source.batchId !== null) return `batch ${source.batchId}`;
  return source.run >= 0 ? `run ${source.run} ${source.material}` : `offer ${source.offer} ${source.ready}`;
}

/** Held batches and what the runs give, as sources of malts. `loads` are the runs' load columns, -1 for fixed loads. */
export function sourcesOf(
  { problem, runs, evaluation, mixed }: WeighInput,
  loads: readonly number[],
): Source[] {
  const sources: Source[] = [];
  for (const batch of problem.batches) {
    if (batch.material < 0 || !problem.materials[batch.material]?.malt) continue;
    sources.push({
      material: batch.material,
      arrives: batch.arrivesDay,
      ready: batch.readyDay,
      last: batch.lastDay,
      fixedT: batch.massG * batch.extractAsIs / 1e6,
      column: -1,
      perColumn: 0,
      perG: batch.extractAsIs,
      home: batch.home,
      share: heldShares(problem, batch),
      batchId: batch.id,
      run: -1,
      offer: -1,
    });
  }
  runs.forEach((run, i) => {
    const first = evaluation.loads.drawG[i] as number;
    const second = evaluation.loads.draw2G[i] as number;
    if (first + second <= 0) return;
    const column = loads[i] as number;
    // The first lot of two is a fixed weight; the column is the load, or the second lot's part of it.
    const givenT = column < 0
      ? evaluation.maltG(i) / 1e6
      : second > 0
      ? maltOf(problem, run, first, 0) / 1e6
      : 0;
    const perDraw = second > 0 ? maltOf(problem, run, 0, 1e6) / 1e6 : maltOf(problem, run, 1e6, 0) / 1e6;
    for (const { material, share } of outputsOf(problem, run)) {
      const malt = problem.materials[material]?.malt;
      if (!malt || share <= 0) continue;
      const { home, extractDb, share: lots } = blendOf(
        problem,
        drawsOf(run, first, second),
        malt.extractCoarseDb,
      );
      const dry = 1 - malt.maltMoistureWb;
      const perG = extractDb * dry;
      const extractOf = (index: number) =>
        (problem.lots[index]?.lot.maltExtractDb ?? malt.extractCoarseDb) * dry;
      // Of two lots the first is given and the second, in the column, brings its own extract.
      const givenPerG = column >= 0 && second > 0 ? extractOf(run.lot) : perG;
      const columnPerG = second > 0 ? extractOf(run.lot2) : perG;
      sources.push({
        material,
        arrives: run.slot.stripDay,
        ready: run.fixed?.locked ? Infinity : run.slot.stripDay + malt.restDays,
        last: run.slot.stripDay + malt.shelfLifeDays,
        fixedT: givenT * share * givenPerG,
        column,
        perColumn: column < 0 ? 0 : perDraw * share * columnPerG,
        perG,
        home: home && !mixed?.has(run),
        share: lots,
        batchId: null,
        run: i,
        offer: -1,
      });
    }
  });
  return sources;
}

/**
 * The last arrival day on or before each use, thinned evenly when there are many; `all` asks for every arrival up to the last
 * use, because an earlier one may fill the reserve.
 */
export function usefulArrivals(arrivals: readonly number[], uses: readonly number[], all: boolean): number[] {
  const lastUse = Math.max(...uses);
  const early = all ? arrivals.filter((day) => day <= lastUse) : [];
  if (all && early.length <= ALL_ARRIVALS) return early;
  const useful = new Set<number>();
  let at = 0;
  for (const use of [...uses].sort((a, b) => a - b)) {
    while (at < arrivals.length && (arrivals[at] as number) <= use) at++;
    if (at > 0) useful.add(arrivals[at - 1] as number);
  }
  const list = [...useful];
  if (list.length <= ARRIVALS) return list;
  const step = list.length / ARRIVALS;
  return Array.from({ length: ARRIVALS }, (_, i) => list[Math.floor(i * step)] as number);
}
