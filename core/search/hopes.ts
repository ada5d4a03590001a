import type { Candidate } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Finishing } from "./finish.ts";
import type { Demand } from "./problem.ts";
import { isWhole, weigh } from "./weights.ts";

/**
 * What exact weights can make and keep beside what was counted on: promises, as the count shares out each malt by itself, and brews
 * that part of a substitute would complete. By demand 0 not made, 1 made, 2 promise held. A larger season only; a smaller one's weights
 * choose for themselves.
 */
export function withHopes(by: Finishing, kept: Candidate, evaluation: Evaluation): Uint8Array {
  const { problem, evaluator, highs, effort: { whole, near, orders, padded } } = by;
  const { status } = evaluation;
  const how = { room: 1, tightDays: [], fixedLoads: false, whole, near, orders, padded };
  const counted = { problem, evaluator, evaluation, runs: kept.runs, day: kept.day, tanks: by.tanks };
  if (!highs || isWhole(counted, how)) return status;
  const hoped = status.map((is, index) => {
    const { id, promise, kind, lines } = problem.demands[index] as Demand;
    if (kind !== "brew" || (kept.day[index] as number) < 0) return is;
    // What the accepted plan makes can be made; the rest is for a longer search.
    if (near) return Math.max(is, near.made.get(id) ?? 0);
    if (is === 0 && lines.every((line) => line.substitutes.length === 0)) return 0;
    return promise > 0 && evaluator.table.promiseInReach[index] ? 2 : Math.max(1, is);
  });
  if (hoped.every((one, index) => one === status[index])) return status;
  const input = { ...counted, evaluation: { ...evaluation, status: hoped } };
  const found = weigh(highs, input, new Float64Array(problem.lots.length), how)?.status;
  if (!found || found.some((is, index) => is === 0 && (status[index] as number) > 0)) return status;
  const worth = (of: Uint8Array) =>
    problem.demands.reduce((sum, one) => sum + (one.class < 4 ? of[one.index] as number : 0), 0);
  return worth(found) > worth(status) ? found : status;
}
