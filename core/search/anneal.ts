import { type Chance, chance } from "./chance.ts";
import { byStart, type Candidate, copyOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import { compareScores, energyOf, type Steering } from "./compare.ts";
import { DateBoard } from "./dates.ts";
import { type Evaluation, type Evaluator, type Score, stowageCents } from "./evaluate.ts";
import { signature } from "./polish.ts";
import type { Problem } from "./problem.ts";
import { firstFrom, type Slot } from "./slots.ts";
import { chanceRunFor } from "./sparing.ts";
import type { TankBoard } from "./tanks.ts";
import type { VesselBoard } from "./vessels.ts";

/** Choices tried at each fill while searching; the last stowing tries more. */
const BREADTH = 3;

/** A candidate with its score. */
export interface Found {
  candidate: Candidate;
  score: Score;
  /** Its signature, where it stands in a pool. */
  name?: string;
}

/** A brew gives up its day only to one that wants a tank about then. */
const NEAR_DAYS = 45;

/** How far runs are loaded where the malt store is small. */
const LOAD_SHARES = [0, 0.25, 0.5, 0.75, 1] as const;

/** Different good candidates kept for exact weighing. */
const POOL = 30;

export interface AnnealOptions {
  seed: number;
  iterations: number;
  steering: Steering;
  /** Called every thousand changes tried. */
  onStep?: (iteration: number) => void;
  cancelled?: () => boolean;
}

/**
 * Improves a candidate by small random changes, taken when they help or, less and less, when they hurt a little.
 * The number of iterations, never the time, decides where it stops, so that a seed gives the same plan everywhere.
 */
export class Annealer {
  private readonly slotsOfDay = new Map<number, Slot[]>();
  private readonly moving: number[];
  private chance: Chance;
  private now: Candidate;
  private dates: DateBoard;

  constructor(
    private readonly problem: Problem,
    private readonly evaluator: Evaluator,
    private readonly board: VesselBoard,
    private readonly tanks: TankBoard,
    start: Candidate,
    private readonly options: AnnealOptions,
  ) {
    this.chance = chance(options.seed);
    this.now = copyOf(start);
    this.dates = new DateBoard(problem, tanks, start.day);
    this.now.day = this.dates.day;
    for (const slot of problem.slots) {
      const list = this.slotsOfDay.get(slot.steepDay) ?? [];
      list.push(slot);
      this.slotsOfDay.set(slot.steepDay, list);
    }
    this.moving = problem.demands.filter((demand) => demand.days.length > 1 && !demand.booked).map((demand) =>
      demand.index
    );
  }

  /** The best candidate found; `pool` receives up to `POOL` different good ones, the best first. */
  run(pool: Found[] = []): Found {
    const { evaluator, options } = this;
    let evaluation = evaluator.evaluate(this.now, BREADTH);
    let energy = energyOf(evaluation.score, options.steering);
    let best: Found = { candidate: copyOf(this.now), score: evaluation.score };
    const hot = options.steering.unit * 0.02;
    const cold = options.steering.unit * 0.0005;
    for (let i = 0; i < options.iterations; i++) {
      if (i % 64 === 0 && options.cancelled?.()) break;
      if (i % 1000 === 0) options.onStep?.(i);
      const temperature = hot * Math.pow(cold / hot, i / options.iterations);
      const undo = this.change(evaluation);
      if (!undo) continue;
      // Drawing the threshold first lets hopeless changes go before their grain is stowed.
      const most = energy - temperature * Math.log(1 - this.chance.fraction());
      const stowing = stowageCents(this.problem, evaluation.stowage) - options.steering.unit;
      const next = evaluator.evaluateIf(
        this.now,
        BREADTH,
        (score) => energyOf(score, options.steering) + stowing <= most,
      );
      const nextEnergy = next ? energyOf(next.score, options.steering) : Infinity;
      if (!next || nextEnergy > most) {
        undo();
        continue;
      }
      evaluation = next;
      energy = nextEnergy;
      this.remember(pool, next.score);
      if (compareScores(next.score, best.score) < 0) {
        best = { candidate: copyOf(this.now), score: next.score };
      }
    }
    return best;
  }

  /** Keeps it if it is among the best by the steering price: exact weighing may mend what is broken here. */
  private remember(pool: Found[], score: Score): void {
    const price = (found: Found) => energyOf(found.score, this.options.steering);
    const last = pool[pool.length - 1];
    if (pool.length >= POOL && last && energyOf(score, this.options.steering) >= price(last)) return;
    const name = signature(this.now);
    if (pool.some((one) => one.name === name)) return;
    pool.push({ candidate: copyOf(this.now), score, name });
    pool.sort((one, other) => price(one) - price(other));
    pool.length = Math.min(pool.length, POOL);
  }

  /** Makes one random change and returns how to take it back; null when none was possible. */
  private change(evaluation: Evaluation): (() => void) | null {
    // Where the malt store overflows whatever is tried, a brew has to go.
    if (evaluation.score.broken > 0 && this.chance.int(0, 9) === 0) return this.dropBrew();
    if (this.evaluator.hurry.crowded) {
      const crowded = this.chance.int(0, 9);
      if (crowded < 2) return this.reloadRun();
      if (crowded < 5) return this.addBrew(evaluation);
    }
    const draw = this.chance.int(0, 99);
    if (draw < 22) return this.addRun(evaluation);
    if (draw < 32) return this.removeRun();
    if (draw < 54) return this.shiftRun();
    if (draw < 68) return this.remakeRun();
    if (draw < 80) return this.swapRuns();
    if (draw < 90) return this.shiftBrew();
    if (draw < 96) return this.exchangeBrew() ?? this.shiftBrew();
    return this.joinTail();
  }

  private freeRun(): number {
    const { runs } = this.now;
    if (runs.length === 0) return -1;
    const at = this.chance.int(0, runs.length - 1);
    return (runs[at] as RunChoice).fixed ? -1 : at;
  }

  private cropOf(run: RunChoice): number {
    return this.problem.lots[run.lot]?.crop ?? 0;
  }

  private replace(runs: RunChoice[]): void {
    this.now.runs = runs.sort(byStart);
  }

  /** One lot that may be steeped in the slot, by chance, the ones that end first more often. */
  private lotFor(slot: Slot): number {
    const fitting = this.problem.lots.filter((lot) => lotFits(this.problem, slot, lot.index));
    if (fitting.length === 0) return -1;
    if (this.chance.int(0, 2) > 0) {
      const last = (index: number) => this.problem.lots[index]?.clocks[slot.malt]?.lastDay ?? Infinity;
      return fitting.reduce(
        (best, lot) => last(lot.index) < last(best) ? lot.index : best,
        (fitting[0] as { index: number }).index,
      );
    }
    return this.chance.pick(fitting).index;
  }

  private addRun(evaluation: Evaluation): (() => void) | null {
    const { problem } = this;
    const lacks = evaluation.deficits.filter((one) => problem.materials[one.material]?.made);
    let malt: number;
    let around: number | null = null;
    if (lacks.length > 0 && this.chance.int(0, 9) < 7) {
      const lack = this.chance.pick(lacks);
      malt = lack.material;
      around = lack.day - (problem.materials[malt]?.restDays ?? 0) - 8;
    } else malt = this.chance.int(0, problem.maltCount - 1);
    const slots = problem.slotsByMalt[malt] ?? [];
    if (slots.length === 0) return null;
    let at = this.chance.int(0, slots.length - 1);
    if (around !== null) {
      at = firstFrom(slots, around - this.chance.int(0, 50));
    }
    for (let tries = 0; tries < 12; tries++, at++) {
      const slot = slots[at];
      if (!slot) break;
      const lot = this.lotFor(slot);
      if (lot < 0) continue;
      const crop = problem.lots[lot]?.crop ?? 0;
      if (!this.board.fits(slot, crop)) continue;
      const run: RunChoice = {
        slot,
        lot,
        lot2: -1,
        fixed: null,
        ...(this.evaluator.hurry.crowded ? { loadShare: this.chance.pick(LOAD_SHARES) } : {}),
      };
      const before = this.now.runs;
      this.board.put(slot, crop, 0);
      this.replace([...before, run]);
      return () => {
        this.board.remove(slot);
        this.now.runs = before;
      };
    }
    return null;
  }

  private removeRun(): (() => void) | null {
    const at = this.freeRun();
    if (at < 0) return null;
    const before = this.now.runs;
    const run = before[at] as RunChoice;
    this.board.remove(run.slot);
    this.now.runs = before.filter((_, i) => i !== at);
    return () => {
      this.board.put(run.slot, this.cropOf(run), 0);
      this.now.runs = before;
    };
  }

  /** Puts `changed` in the place of run `at`; the board is asked first. */
  private exchange(at: number, changed: RunChoice): (() => void) | null {
    const before = this.now.runs;
    const run = before[at] as RunChoice;
    this.board.remove(run.slot);
    if (!this.board.fits(changed.slot, this.cropOf(changed))) {
      this.board.put(run.slot, this.cropOf(run), 0);
      return null;
    }
    this.board.put(changed.slot, this.cropOf(changed), 0);
    this.replace(before.map((one, i) => i === at ? changed : one));
    return () => {
      this.board.remove(changed.slot);
      this.board.put(run.slot, this.cropOf(run), 0);
      this.now.runs = before;
    };
  }

  private shiftRun(): (() => void) | null {
    const at = this.freeRun();
    if (at < 0) return null;
    const run = this.now.runs[at] as RunChoice;
    const slots = this.problem.slotsByMalt[run.slot.malt] ?? [];
    if (slots.length < 2) return null;
    let to = this.chance.int(0, 3) === 0
      ? this.chance.int(0, slots.length - 1)
      : firstFrom(slots, run.slot.steepDay + this.chance.int(-24, 24));
    for (let tries = 0; tries < 10; tries++, to++) {
      const slot = slots[to];
      if (!slot) break;
      if (slot === run.slot || !lotFits(this.problem, slot, run.lot)) continue;
      const keepsTail = run.lot2 < 0 || lotFits(this.problem, slot, run.lot2);
      const undo = this.exchange(at, { ...run, slot, lot2: keepsTail ? run.lot2 : -1 });
      if (undo) return undo;
    }
    return null;
  }

  /** More or less grain in a run. */
  private reloadRun(): (() => void) | null {
    const at = this.freeRun();
    if (at < 0) return null;
    const before = this.now.runs;
    const loadShare = this.chance.pick(LOAD_SHARES);
    if (loadShare === (before[at]?.loadShare ?? 1)) return null;
    this.now.runs = before.map((run, i) => i === at ? { ...run, loadShare } : run);
    return () => {
      this.now.runs = before;
    };
  }

  /** Another malt, lot or profile on the same day. */
  private remakeRun(): (() => void) | null {
    const at = this.freeRun();
    if (at < 0) return null;
    const run = this.now.runs[at] as RunChoice;
    const slot = this.chance.pick(this.slotsOfDay.get(run.slot.steepDay) ?? [run.slot]);
    const lot = this.lotFor(slot);
    if (lot < 0 || (slot === run.slot && lot === run.lot)) return null;
    return this.exchange(at, { ...run, slot, lot, lot2: -1 });
  }

  private swapRuns(): (() => void) | null {
    const a = this.freeRun();
    const b = this.freeRun();
    if (a < 0 || b < 0 || a === b) return null;
    const one = this.now.runs[a] as RunChoice;
    const two = this.now.runs[b] as RunChoice;
    if (one.lot === two.lot && one.slot.malt === two.slot.malt) return null;
    const like = (slot: Slot, malt: number) =>
      (this.slotsOfDay.get(slot.steepDay) ?? []).find((other) =>
        other.malt === malt && other.times[0] === slot.times[0]
      );
    const slotA = like(one.slot, two.slot.malt);
    const slotB = like(two.slot, one.slot.malt);
    if (
      !slotA || !slotB || !lotFits(this.problem, slotA, two.lot) || !lotFits(this.problem, slotB, one.lot)
    ) return null;
    const before = this.now.runs;
    this.board.remove(one.slot);
    this.board.remove(two.slot);
    const restore = () => {
      this.board.put(one.slot, this.cropOf(one), 0);
      this.board.put(two.slot, this.cropOf(two), 0);
      this.now.runs = before;
    };
    if (!this.board.fits(slotA, this.cropOf(two))) {
      restore();
      return null;
    }
    this.board.put(slotA, this.cropOf(two), 0);
    if (!this.board.fits(slotB, this.cropOf(one))) {
      this.board.remove(slotA);
      restore();
      return null;
    }
    this.board.put(slotB, this.cropOf(one), 0);
    const first: RunChoice = { ...two, slot: slotA, lot2: -1 };
    const second: RunChoice = { ...one, slot: slotB, lot2: -1 };
    this.replace(before.map((run, i) => i === a ? first : i === b ? second : run));
    return () => {
      this.board.remove(slotA);
      this.board.remove(slotB);
      restore();
    };
  }

  private shiftBrew(): (() => void) | null {
    if (this.moving.length === 0) return null;
    const demand = this.chance.pick(this.moving);
    const days = this.problem.demands[demand]?.days ?? [];
    const day = this.chance.pick(days);
    const was = this.dates.day[demand] as number;
    if (day === was || !this.dates.allows(demand, day)) return null;
    this.dates.put(demand, day);
    return () => this.dates.put(demand, was);
  }

  /** Dates a brew that is not made, with small runs of some of its malts. */
  private addBrew(evaluation: Evaluation): (() => void) | null {
    const { problem, board, dates } = this;
    const open = problem.demands.filter(({ index, days }) =>
      evaluation.status[index] === 0 && days.length > 0
    );
    if (open.length === 0) return null;
    const demand = this.chance.pick(open);
    const was = dates.day[demand.index] as number;
    const day = was >= 0 ? was : this.chance.pick(demand.days);
    if (was < 0 && !dates.allows(demand.index, day)) return null;
    const before = this.now.runs;
    const added: RunChoice[] = [];
    const made = demand.lines.filter((line) => problem.materials[line.material]?.made);
    for (const line of made) {
      if (made.length > 1 && this.chance.int(0, 2) === 0) continue;
      const run = chanceRunFor(problem, board, this.chance, line, day);
      if (!run) continue;
      board.put(run.slot, this.cropOf(run), 0);
      added.push(run);
    }
    dates.put(demand.index, day);
    this.replace([...before, ...added]);
    return () => {
      for (const run of added) board.remove(run.slot);
      dates.put(demand.index, was);
      this.now.runs = before;
    };
  }

  /** Takes a brew's day away. */
  private dropBrew(): (() => void) | null {
    const dated = this.dates.dated().filter((one) => !this.problem.demands[one.demand]?.booked);
    if (dated.length === 0) return null;
    const { demand, day } = this.chance.pick(dated);
    this.dates.put(demand, -1);
    return () => this.dates.put(demand, day);
  }

  /** Dates a brew that has no day; where it does not fit, another one gives up its day. */
  private exchangeBrew(): (() => void) | null {
    const without = this.problem.demands.filter((demand) =>
      (this.dates.day[demand.index] as number) < 0 && demand.days.length > 0
    );
    if (without.length === 0) return null;
    const { index, days } = this.chance.pick(without);
    const day = this.chance.pick(days);
    if (this.dates.allows(index, day)) {
      this.dates.put(index, day);
      return () => this.dates.put(index, -1);
    }
    const near = this.dates.dated().filter((one) =>
      !this.problem.demands[one.demand]?.booked && Math.abs(one.day - day) <= NEAR_DAYS
    );
    if (near.length === 0) return null;
    const other = this.chance.pick(near);
    this.dates.put(other.demand, -1);
    if (!this.dates.allows(index, day)) {
      this.dates.put(other.demand, other.day);
      return null;
    }
    this.dates.put(index, day);
    return () => {
      this.dates.put(index, -1);
      this.dates.put(other.demand, other.day);
    };
  }

  private joinTail(): (() => void) | null {
    const at = this.freeRun();
    if (at < 0) return null;
    const before = this.now.runs;
    const run = before[at] as RunChoice;
    let lot2 = -1;
    if (run.lot2 < 0) {
      const others = this.problem.lots.filter((lot) =>
        mayJoin(this.problem, run.lot, lot.index) && lotFits(this.problem, run.slot, lot.index)
      );
      if (others.length === 0) return null;
      lot2 = this.chance.pick(others).index;
    }
    this.now.runs = before.map((one, i) => i === at ? { ...run, lot2 } : one);
    return () => {
      this.now.runs = before;
    };
  }
}
