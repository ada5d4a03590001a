import type { Highs } from "highs";
import type { Candidate } from "./candidate.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import type { Refusal } from "./fixed.ts";
import type { Problem } from "./problem.ts";
import { exactWants, type PlanBody, settle } from "./settle.ts";
import { stow } from "./stow.ts";
import type { TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";
import { weigh, type Weights } from "./weights.ts";

/** Choices tried at each fill in the last stowing. */
const BREADTH = 8;
const ROUNDS = 4;

export interface Finisher {
  problem: Problem;
  evaluator: Evaluator;
  highs: Highs | null;
  tanks: TankBoard;
  board: VesselBoard;
  refused: readonly Refusal[];
}

/** From a candidate to a plan in whole grams: exact weights, stowing, orders, books. */
export function finish(by: Finisher, candidate: Candidate): PlanBody {
  const { problem, evaluator } = by;
  const evaluation = evaluator.evaluate(candidate, BREADTH);
  const runs = candidate.runs.filter((_, i) =>
    (evaluation.loads.drawG[i] as number) + (evaluation.loads.draw2G[i] as number) > 0
  );
  const kept = { runs, day: candidate.day };
  const again = runs.length === candidate.runs.length ? evaluation : evaluator.evaluate(kept, BREADTH);
  const cutG = new Float64Array(problem.lots.length);
  let weights = weightsOf(by, kept, again, cutG);
  let stowage = stow(problem, exactWants(problem, kept, weights, again), problem.booked.changes, BREADTH);
  // Grain lost on moves is known only after stowing: the loads are weighed again without it.
  for (let round = 0; round < ROUNDS && stowage.short.size > 0; round++) {
    for (const [lot, massG] of stowage.short) cutG[lot] = (cutG[lot] as number) + Math.ceil(massG) + 1;
    weights = weightsOf(by, kept, again, cutG);
    stowage = stow(problem, exactWants(problem, kept, weights, again), problem.booked.changes, BREADTH);
  }
  return settle({ ...by, candidate: kept, evaluation: again, weights, stowage });
}

function weightsOf(by: Finisher, candidate: Candidate, evaluation: Evaluation, cutG: Float64Array): Weights {
  const { problem, evaluator, highs } = by;
  const exact = highs
    ? weigh(highs, problem, evaluator, candidate.runs, evaluation, candidate.day, cutG)
    : null;
  return exact ?? {
    ...evaluation.loads,
    home: evaluator.server.home.slice(),
    substituted: [],
    purchases: evaluation.deficits.filter((one) => problem.materials[one.material]?.malt)
      .map(({ material, day, extractG }) => ({ material, day, lastUse: day, extractG })),
  };
}
