import { byStart, type Candidate, lotFits, type RunChoice } from "./candidate.ts";
import { compareScores } from "./compare.ts";
import type { Evaluation, Evaluator, Score } from "./evaluate.ts";
import { boardOf } from "./polish.ts";
import type { Demand, Problem } from "./problem.ts";
import { firstFrom } from "./slots.ts";
import type { VesselBoard } from "./vessels.ts";

/** Starts tried for one malt of one brew. */
const STARTS = 3;
/** Brews looked at whose malts find no start that helps. */
const MOST_HOPELESS = 6;
/** Days before a malt is needed in which a start for it is looked for. */
const REACH_DAYS = 56;

/**
 * Adds runs for what is not made and for promises that are not held, as long as each makes more of them: first for brews that are new
 * to the accepted plan or were made in it (`isNew`), of those the promised ones first. `tries` candidates are counted at most.
 */
export function fillRuns(
  problem: Problem,
  evaluator: Evaluator,
  start: Candidate,
  { tries, breadth, isNew }: { tries: number; breadth: number; isNew: (demand: Demand) => boolean },
): Candidate {
  const board = boardOf(problem, start);
  let here = start;
  let evaluation = evaluator.evaluate(start, breadth);
  let left = tries;
  const hopeless = new Set<number>();
  const next = () => nextOpen(problem, evaluator, evaluation, here, hopeless, isNew);
  for (let demand = next(); demand && left > 0 && hopeless.size < MOST_HOPELESS;) {
    let helped = false;
    for (const run of startsFor(problem, board, evaluation, here, demand)) {
      if (left-- <= 0) break;
      const runs = [...here.runs, run].sort(byStart);
      const { score } = evaluation;
      const tried = evaluator.evaluateIf({ ...here, runs }, breadth, (one) => makesMore(one, score));
      if (!tried || !makesMore(tried.score, score)) continue;
      board.put(run.slot, problem.lots[run.lot]?.crop ?? 0);
      here = { ...here, runs };
      evaluation = tried;
      helped = true;
      break;
    }
    if (!helped) hopeless.add(demand.index);
    demand = next();
  }
  return here;
}

/** The most important dated demand that is not made, or whose promise is not held although it could be. */
function nextOpen(
  problem: Problem,
  evaluator: Evaluator,
  { status }: Evaluation,
  { day }: Candidate,
  hopeless: ReadonlySet<number>,
  isNew: (demand: Demand) => boolean,
): Demand | undefined {
  const open = problem.demands.filter(({ index, kind, promise, class: of }) =>
    !hopeless.has(index) && (day[index] as number) >= 0 &&
    (status[index] === 0 ||
      (status[index] === 1 && kind === "brew" && of < 4 && promise > 0 &&
        evaluator.table.promiseInReach[index]))
  );
  const rank = (demand: Demand) =>
    (isNew(demand) ? 0 : 10) + (status[demand.index] === 0 ? demand.class : demand.class < 4 ? 3.5 : 5);
  return open.sort((a, b) => rank(a) - rank(b) || (day[a.index] as number) - (day[b.index] as number))[0];
}

/** Runs that would give a demand its malts in time, the latest starts first. */
function* startsFor(
  problem: Problem,
  board: VesselBoard,
  evaluation: Evaluation,
  { runs, day }: Candidate,
  demand: Demand,
): Generator<RunChoice> {
  const freeG = problem.lots.map((lot) => lot.totalG - lot.firmG);
  runs.forEach((run, i) => {
    if (run.fixed?.standing === "under way") return;
    freeG[run.lot] = (freeG[run.lot] as number) - (evaluation.loads.drawG[i] as number);
    if (run.lot2 >= 0) {
      freeG[run.lot2] = (freeG[run.lot2] as number) - (evaluation.loads.draw2G[i] as number);
    }
  });
  for (const { material } of demand.lines) {
    const of = problem.materials[material];
    const made = of?.made;
    if (!of || !made) continue;
    const able = problem.lots.filter((one) =>
      one.clocks[of.maltIndex] && one.lot.owner === of.owner && (freeG[one.index] as number) > 0
    );
    if (able.length === 0) continue;
    const slots = problem.slotsByMalt[material] ?? [];
    const on = day[demand.index] as number;
    const first = firstFrom(slots, on - of.restDays - REACH_DAYS);
    let found = 0;
    for (let at = firstFrom(slots, on) - 1; at >= first && found < STARTS; at--) {
      const slot = slots[at];
      if (!slot || slot.stripDay + of.restDays > on) continue;
      const lot = able.find((one) =>
        (freeG[one.index] as number) * (1 - made.screeningLoss) >= (slot.leastG[one.crop] as number) &&
        lotFits(problem, slot, one.index) && board.fits(slot, one.crop)
      );
      if (!lot) continue;
      found++;
      yield { slot, lot: lot.index, lot2: -1, fixed: null };
    }
  }
}

/** More made or kept, whatever it costs. */
function makesMore(a: Score, b: Score): boolean {
  return compareScores({ ...a, moneyCents: 0 }, { ...b, moneyCents: 0 }) < 0;
}
