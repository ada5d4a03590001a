import type { LinearModel } from "../solve/linear.ts";
import type { RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Problem } from "./problem.ts";
import { maltOf } from "./loads.ts";
import { outputsOf } from "./supply.ts";

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
  problem: Problem,
  runs: readonly RunChoice[],
  evaluation: Evaluation,
  loads: readonly number[],
): Source[] {
  const sources: Source[] = [];
  for (const batch of problem.batches) {
    if (batch.material < 0 || !problem.materials[batch.material]?.malt) continue;
    const lots = batch.lotIds.map((id) => problem.season.lots.findIndex((lot) => lot.id === id));
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
      share: lots.length > 0 ? new Map(lots.map((lot) => [lot, 1 / lots.length])) : null,
      batchId: batch.id,
      run: -1,
      offer: -1,
    });
  }
  runs.forEach((run, i) => {
    const lot = problem.lots[run.lot];
    const first = evaluation.loads.drawG[i] as number;
    const second = evaluation.loads.draw2G[i] as number;
    if (!lot || first + second <= 0) return;
    const column = loads[i] as number;
    // The first lot of two is a fixed weight; the column is the load, or the second lot's part of it.
    const givenT = column < 0
      ? evaluation.maltG(i) / 1e6
      : second > 0
      ? maltOf(problem, run, first, 0) / 1e6
      : 0;
    const perDraw = second > 0 ? maltOf(problem, run, 0, 1e6) / 1e6 : maltOf(problem, run, 1e6, 0) / 1e6;
    for (const { material, share } of outputsOf(problem, run.slot.malt)) {
      const malt = problem.materials[material]?.malt;
      if (!malt || share <= 0) continue;
      const perG = (lot.lot.maltExtractDb ?? malt.extractCoarseDb) * (1 - malt.maltMoistureWb);
      sources.push({
        material,
        arrives: run.slot.stripDay,
        ready: run.slot.stripDay + malt.restDays,
        last: run.slot.stripDay + malt.shelfLifeDays,
        fixedT: givenT * share * perG,
        column,
        perColumn: column < 0 ? 0 : perDraw * share * perG,
        perG,
        home: lot.home,
        share: second > 0
          ? new Map([[run.lot, first / (first + second)], [run.lot2, second / (first + second)]])
          : new Map([[run.lot, 1]]),
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
