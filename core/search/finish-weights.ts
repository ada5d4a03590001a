import type { Candidate } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Finishing } from "./finish.ts";
import type { Source } from "./weigh-sources.ts";
import { weigh, type Weighs, type Weights } from "./weights.ts";

/** Home malt of no named batch: the cellar hands it out first in, first out. */
const NO_SOURCE: Source = {
  material: -1,
  arrives: 0,
  ready: 0,
  last: 0,
  fixedT: 0,
  column: -1,
  perColumn: 0,
  perG: 1,
  home: true,
  share: null,
  batchId: null,
  run: -1,
  offer: -1,
};

/** Exact weights; where the model has no answer, first without brews that ask for an origin, then as the search counted. */
export function weightsOf(
  by: Finishing,
  candidate: Candidate,
  evaluation: Evaluation,
  cutG: Float64Array,
  how: Weighs,
): Weights {
  const { problem, evaluator, highs } = by;
  const { status } = evaluation;
  if (highs && !how.counted) {
    const input = {
      problem,
      evaluator,
      evaluation,
      runs: candidate.runs,
      day: candidate.day,
      tanks: by.tanks,
    };
    const exact = weigh(highs, input, cutG, how);
    const { near } = how;
    if (exact && near && exact.status.some((is, index) => is < (status[index] as number))) {
      // What was counted and finds nothing near at hand may find it farther off.
      const wide = { ...how, near: { ...near, reach: Infinity } };
      return weigh(highs, input, cutG, wide) ?? exact;
    }
    if (exact) return exact;
    const without = status.slice();
    for (const demand of problem.demands) if (demand.requires.length > 0) without[demand.index] = 0;
    const second = weigh(highs, { ...input, evaluation: { ...evaluation, status: without } }, cutG, how);
    if (second) return second;
  }
  return asCounted(by, candidate, evaluation, how.counted === true);
}

/** What the search counted, as weights: of a substitute that is taken, home malt and the rest bought, as far as its beer allows. */
function asCounted(
  { problem, evaluator: { table } }: Finishing,
  candidate: Candidate,
  evaluation: Evaluation,
  withOrders: boolean,
): Weights {
  const { status, homeG } = evaluation;
  table.refresh(evaluation.order, candidate.day, candidate.substituted);
  const isMade = (line: number) => status[table.demand[line] as number] !== 0;
  return {
    ...evaluation.loads,
    uses: Array.from(homeG, (extractG, line) => {
      const material = table.material[line] as number;
      const own = table.ownLine(line);
      const home = { line: own, source: { ...NO_SOURCE, material }, extractG };
      if (own === line || !isMade(line)) return [home];
      const restG = (table.need[line] as number) - extractG;
      return [home, { line: own, source: { ...NO_SOURCE, material, home: false }, extractG: restG }];
    }).flat().filter((use) => use.extractG > 0.5),
    purchases: evaluation.deficits.filter(({ line, material }) =>
      problem.materials[material]?.malt && isMade(line)
    ).map(({ material, day, extractG }) => ({ material, day, extractG })),
    orders: withOrders ? evaluation.orders() : null,
    status,
    day: null,
    tanks: null,
  };
}
