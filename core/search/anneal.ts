import { addBrew, dropBrew, exchangeBrew, shiftBrew } from "./brew-moves.ts";
import type { Candidate } from "./candidate.ts";
import { type Chance, chance } from "./chance.ts";
import { compareScores, energyOf, type Steering } from "./compare.ts";
import type { Evaluation, Evaluator, Score } from "./evaluate.ts";
import { signature } from "./polish.ts";
import { Position, type Undo } from "./position.ts";
import type { Problem } from "./problem.ts";
import { stowageCents } from "./rough-money.ts";
import {
  addRun,
  joinTail,
  reloadRun,
  relocateRun,
  remakeRun,
  removeRun,
  shiftRun,
  swapRuns,
} from "./run-moves.ts";
import { exchangeMalt, replaceRun } from "./substitute-moves.ts";
import type { TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";

/** Choices tried at each fill while searching: the best, as it seems there; the last stowing tries more. */
const BREADTH = 1;
/** First and last temperature, as parts of what a run costs: below the first few runs give way, at the last only cents count. */
const HOT = 0.02;
const COLD = 0.001;

/** A candidate with its score. */
export interface Found {
  candidate: Candidate;
  score: Score;
  /** Its signature, where it stands in a pool. */
  name?: string;
}

/** Different good candidates kept for exact weighing. */
const POOL = 30;

export interface AnnealOptions {
  seed: number;
  iterations: number;
  steering: Steering;
  /** Whether substitutes may be taken: only exact weights put them into grists. */
  substitutes: boolean;
  /** Share of the usual first temperature: less than 1 for a start that is good already. */
  heat?: number;
  /** What a candidate costs beside its score, cents: the price of changes to an accepted plan. */
  extraCents?: (candidate: Candidate) => number;
  /** Called every thousand changes tried. */
  onStep?: (iteration: number) => void;
  cancelled?: () => boolean;
}

/**
 * Improves a candidate by small random changes, taken when they help or, less and less, when they hurt a little.
 * The number of iterations, never the time, decides where it stops, so that a seed gives the same plan everywhere.
 */
export class Annealer {
  private readonly chance: Chance;
  private readonly here: Position;

  constructor(
    private readonly problem: Problem,
    private readonly evaluator: Evaluator,
    board: VesselBoard,
    tanks: TankBoard,
    start: Candidate,
    private readonly options: AnnealOptions,
  ) {
    this.chance = chance(options.seed);
    this.here = new Position(problem, board, tanks, this.chance, evaluator.hurry.crowded, start);
  }

  /** The best candidate found; `pool` receives up to `POOL` different good ones, the best first. */
  run(pool: Found[] = []): Found {
    const { evaluator, options } = this;
    let evaluation = evaluator.evaluate(this.here.candidate, BREADTH);
    let energy = energyOf(this.priced(evaluation.score), options.steering);
    let best: Found = {
      candidate: { ...this.here.copy(), cutG: evaluation.cutG },
      score: this.priced(evaluation.score),
    };
    const { runCents } = options.steering;
    const hot = HOT * (options.heat ?? 1);
    for (let i = 0; i < options.iterations; i++) {
      if (i % 8 === 0 && options.cancelled?.()) break;
      if (i % 1000 === 0) options.onStep?.(i);
      const temperature = runCents * hot * Math.pow(COLD / hot, i / options.iterations);
      const undo = this.change(evaluation);
      if (!undo) continue;
      // Drawing the threshold first lets hopeless changes go before their grain is stowed; stowing gains no more than a run costs.
      const most = energy - temperature * Math.log(1 - this.chance.fraction());
      const stowing = stowageCents(this.problem, evaluation.stowage) - runCents;
      let overfull = false;
      const attempt = (candidate: Candidate) =>
        evaluator.evaluateIf(candidate, BREADTH, (before) => {
          overfull ||= before.broken > 0;
          return energyOf(this.priced(before), options.steering) + stowing <= most;
        });
      let next = attempt(this.here.candidate);
      const { cutG } = evaluation;
      const isCut = cutG.some((massG) => massG > 0);
      // Malt of grain that the stores do not yield overfills the malt store: without that grain it may not.
      if (!next && overfull && isCut) next = attempt({ ...this.here.candidate, cutG });
      const score = next && this.priced(next.score);
      const nextEnergy = score ? energyOf(score, options.steering) : Infinity;
      if (!next || !score || nextEnergy > most) {
        undo();
        continue;
      }
      evaluation = next;
      energy = nextEnergy;
      this.remember(pool, score, next.cutG);
      if (this.beats(score, best.score)) {
        best = { candidate: { ...this.here.copy(), cutG: next.cutG }, score };
      }
    }
    return best;
  }

  private priced(score: Score): Score {
    const extra = this.options.extraCents?.(this.here.candidate) ?? 0;
    return extra === 0 ? score : { ...score, moneyCents: score.moneyCents + extra };
  }

  /** Whether a score is better; of two that break rules, by the steering price: exact weights will have to mend both. */
  private beats(one: Score, other: Score): boolean {
    const { steering } = this.options;
    if (one.broken > 1e-9 && other.broken > 1e-9) return energyOf(one, steering) < energyOf(other, steering);
    return compareScores(one, other) < 0;
  }

  /** Keeps it if it is among the best by the steering price: exact weighing may mend what is broken here. */
  private remember(pool: Found[], score: Score, cutG: Float64Array): void {
    const price = (found: Found) => energyOf(found.score, this.options.steering);
    const last = pool[pool.length - 1];
    if (pool.length >= POOL && last && energyOf(score, this.options.steering) >= price(last)) return;
    const name = signature(this.here.candidate);
    if (pool.some((one) => one.name === name)) return;
    pool.push({ candidate: { ...this.here.copy(), cutG }, score, name });
    pool.sort((one, other) => price(one) - price(other));
    pool.length = Math.min(pool.length, POOL);
  }

  /** Makes one random change and returns how to take it back; null when none was possible. */
  private change(evaluation: Evaluation): Undo | null {
    const { here, chance } = this;
    // Where the malt store overflows whatever is tried, a brew has to go.
    if (evaluation.score.broken > 0 && chance.int(0, 9) === 0) return dropBrew(here);
    if (here.crowded) {
      const crowded = chance.int(0, 9);
      if (crowded < 2) return reloadRun(here);
      if (crowded < 5) return addBrew(here, evaluation);
    }
    if (this.options.substitutes && chance.int(0, 11) === 0) {
      return chance.int(0, 2) === 0 ? replaceRun(here) : exchangeMalt(here);
    }
    const draw = chance.int(0, 99);
    if (draw < 20) return addRun(here, evaluation);
    if (draw < 26) return removeRun(here);
    if (draw < 38) return relocateRun(here, evaluation);
    if (draw < 62) return shiftRun(here);
    if (draw < 74) return remakeRun(here);
    if (draw < 86) return swapRuns(here);
    if (draw < 92) return shiftBrew(here);
    if (draw < 97) return exchangeBrew(here) ?? shiftBrew(here);
    return joinTail(here);
  }
}
