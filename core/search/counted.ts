import type { Candidate } from "./candidate.ts";
import { compareScores } from "./compare.ts";
import type { Evaluation, Evaluator } from "./evaluate.ts";
import { loadedWith } from "./loads.ts";

/** Tonnes of grain that runs may go short of in the count: exact weights mend so little themselves. */
const MENDED_T = 0.5;

/** A candidate with those runs that get any grain, and its count. */
export function counted(
  evaluator: Evaluator,
  candidate: Candidate,
  breadth: number,
): { kept: Candidate; evaluation: Evaluation } {
  const evaluation = evaluated(evaluator, candidate, breadth);
  const runs = candidate.runs.filter((_, i) =>
    (evaluation.loads.drawG[i] as number) + (evaluation.loads.draw2G[i] as number) > 0
  );
  if (runs.length === candidate.runs.length) return { kept: candidate, evaluation };
  const kept = { ...candidate, runs };
  const again = evaluated(evaluator, kept, breadth);
  if (compareScores(again.score, evaluation.score) <= 0) return { kept, evaluation: again };
  // Runs that have nothing to draw kept grain back from others, which would now fill the stores with it.
  const { drawG, draw2G } = evaluation.loads;
  const loaded = candidate.runs.flatMap((run, i) => {
    const massG = (drawG[i] as number) + (draw2G[i] as number);
    if (massG <= 0) return [];
    return [run.lot2 >= 0 ? run : loadedWith(evaluator.problem, run, massG)];
  });
  const same = { ...candidate, runs: loaded };
  const last = evaluated(evaluator, same, breadth);
  return compareScores(last.score, again.score) < 0
    ? { kept: same, evaluation: last }
    : { kept, evaluation: again };
}

/**
 * The best count of a candidate: in which hardly anything is short; or else as the search left it; where many choices at each fill
 * leave grain short, with one at each; and where the search found that stores do not yield all grain, as if they did.
 */
function evaluated(evaluator: Evaluator, candidate: Candidate, breadth: number): Evaluation {
  evaluator.lenient = true;
  let best = evaluator.evaluate(candidate, breadth);
  evaluator.lenient = false;
  if (best.score.broken < MENDED_T) return best;
  best = evaluator.evaluate(candidate, breadth);
  const compare = (one: Candidate, width: number) => {
    const next = evaluator.evaluate(one, width);
    if (compareScores(next.score, best.score) < 0) best = next;
  };
  if (best.score.broken > 0) compare(candidate, 1);
  const { cutG: _, ...fresh } = candidate;
  if (candidate.cutG?.some((massG) => massG > 0)) compare(fresh, breadth);
  return best;
}
