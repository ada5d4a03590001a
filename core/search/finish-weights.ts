import type { Candidate } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import type { Finishing } from "./finish.ts";
import type { Source } from "./weigh-sources.ts";
import { weigh, type Weighs, type Weights } from "./weights.ts";

/** Malt of no named batch: the cellar hands it out first in, first out. */
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
  const lacking = evaluation.deficits.filter(({ line, bought }) =>
    problem.materials[bought]?.malt && status[table.demand[line] as number] !== 0
  );
  const use = (line: number, material: number, home: boolean, extractG: number) => ({
    line: table.ownLine(line),
    source: { ...NO_SOURCE, material, home, perG: problem.materials[material]?.extract ?? 1 },
    extractG,
  });
  table.refresh(evaluation.order, candidate.day, candidate.substituted);
  const isSale = (line: number) => problem.demands[table.demand[line] as number]?.kind === "sale";
  const isTaken = (line: number) =>
    table.ownLine(line) !== line && status[table.demand[line] as number] !== 0;
  return {
    ...evaluation.loads,
    // What a grist's own malt leaves open the cellar buys of itself; of another malt, and for a sale, it has to be told.
    uses: [
      ...Array.from(homeG, (extractG, line) => use(line, table.material[line] as number, true, extractG)),
      ...Array.from(homeG, (homeG, line) => {
        const restG = isTaken(line) ? (table.need[line] as number) - homeG : 0;
        return use(line, table.material[line] as number, false, restG);
      }),
      ...lacking.filter(({ line, bought, material }) => bought !== material || isSale(line))
        .map(({ line, bought, extractG }) => use(line, bought, false, extractG)),
    ].filter((one) => one.extractG > 0.5),
    purchases: lacking.map(({ bought, day, extractG }) => ({ material: bought, day, extractG })),
    orders: withOrders ? evaluation.orders() : null,
    status,
    day: null,
    tanks: null,
  };
}
