import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import { cropOf, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { drawnFor, mostDrawnFor } from "./loads.ts";
import { ROUNDING_G } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { keepLoad, type Near, runKey } from "./weigh-near.ts";

/**
 * least <= drawn(r) <= greatest for every run whose load is free, and sum of draws of a lot <= what is left of it.
 * Returns the load column of each run, -1 where the load is fixed (booked, under way, a lot whose tail is finished, or all of
 * them when `fixed`); for a run of two lots the column is the second lot's draw. Loads that an accepted plan has stay `near` it.
 */
export function limitLoads(
  model: LinearModel,
  problem: Problem,
  evaluation: Evaluation,
  runs: readonly RunChoice[],
  cutG: Float64Array,
  fixed: boolean,
  near: Near | null,
): number[] {
  const worth = surplusWorth(problem, evaluation);
  const left = problem.lots.map((lot) => lot.totalG - lot.firmG - (cutG[lot.index] as number));
  for (const one of evaluation.rawWants) left[one.lot] = (left[one.lot] as number) - one.massG;
  const drawn = problem.lots.map((): [number, number][] => []);
  // A lot whose tail is finished keeps the search's loads, so that the tail stays what it is.
  const finished = new Set(
    runs.filter((_, i) => (evaluation.loads.draw2G[i] as number) > 0).map((run) => run.lot),
  );
  const columns = runs.map((run, i) => {
    const made = problem.materials[run.slot.malt]?.made;
    const first = evaluation.loads.drawG[i] as number;
    const second = evaluation.loads.draw2G[i] as number;
    if (run.fixed?.standing === "booked") {
      for (const draw of run.fixed.draws) left[draw.lot] = (left[draw.lot] as number) - draw.massG;
    }
    if (run.fixed || !made || first <= 0) return -1;
    if (fixed || finished.has(run.lot)) {
      left[run.lot] = (left[run.lot] as number) - first;
      if (second > 0 && (fixed || finished.has(run.lot2))) {
        left[run.lot2] = (left[run.lot2] as number) - second;
      }
      if (second === 0 || fixed || finished.has(run.lot2)) return -1;
    }
    const crop = cropOf(problem, run);
    const most = mostDrawnFor(run.slot.greatestG[crop] as number, made.screeningLoss) -
      (second > 0 ? ROUNDING_G : 0);
    const least = Math.min(most, drawnFor(run.slot.leastG[crop] as number, made.screeningLoss));
    const keep = 1 - made.screeningLoss;
    // What makes up a finished tail's load comes from the second lot.
    const lot = second > 0 ? run.lot2 : run.lot;
    const given = second > 0 ? first : 0;
    const cost = made.perTonneCents * keep / 100 + (worth[lot] as number) * G_PER_TONNE / 100;
    const column = model.column(
      cost,
      Math.max(1, least - given) / G_PER_TONNE,
      Math.max(1, most - given) / G_PER_TONNE,
    );
    (drawn[lot] as [number, number][]).push([column, 1]);
    const keptG = near?.drawG.get(runKey(run));
    if (near && keptG !== undefined && keptG > 0) keepLoad(model, column, keptG, near);
    return column;
  });
  for (const lot of problem.lots) {
    const entries = drawn[lot.index] as [number, number][];
    if (entries.length > 0) {
      model.row(-Infinity, Math.max(0, left[lot.index] as number) / G_PER_TONNE, entries);
    }
  }
  return columns;
}

/** Cents a gram of each lot's grain would bring if it were not malted. */
function surplusWorth(problem: Problem, evaluation: Evaluation): number[] {
  return problem.lots.map((lot) => {
    if (lot.endCentsPerG > 0) return lot.endCentsPerG;
    const load = evaluation.stowage.loads.find((one) => one.items.some((item) => item.lot === lot.index));
    return load ? (problem.pickups[load.pickup]?.perTonneCents ?? 0) / G_PER_TONNE : 0;
  });
}
