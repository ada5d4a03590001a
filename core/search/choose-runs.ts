import type { Highs } from "highs";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import { byStart, type Candidate, cropOf, lotFits, mayJoin, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { drawnFor, maltOf, mostDrawnFor } from "./loads.ts";
import type { Problem } from "./problem.ts";
import { VesselBoard } from "./vessels.ts";
import { solveWeighing, startWeighing, type WeighInput } from "./weighing.ts";

/** More possible runs than this are left to the search alone. */
const MOST_OPTIONS = 90;

/** A run that may be made: its 0-or-1 column, and the parts of the weighing (one for each lot) that it feeds. */
interface Option {
  run: RunChoice;
  made: number;
  parts: number[];
}

/**
 * For a small season: the best sets of runs by the allocation model itself, the best first, at most `most` of them. Stores of grain
 * are not in the model, so each set is a proposal that still has to be stowed. `from` gives the runs that are fixed and the days
 * of brews that take raw grain. Empty when there are too many runs to choose from.
 */
export function* chooseRuns(
  highs: Highs,
  input: Omit<WeighInput, "runs" | "day">,
  from: Candidate,
  most: number,
): Generator<Candidate> {
  const { problem } = input;
  const fixed = from.runs.filter((run) => run.fixed);
  const choices = optionsOf(problem, fixed);
  if (choices.length === 0 || choices.length > MOST_OPTIONS) return;
  const parts: RunChoice[] = [...fixed];
  const mixed = new Set<RunChoice>();
  const options = choices.map((run): Option => {
    const own = (run.lot2 < 0 ? [run] : [run, { ...run, lot: run.lot2 }]).map((part) => ({
      ...part,
      lot2: -1,
    }));
    const first = parts.length;
    parts.push(...own);
    if (own.some((part) => !problem.lots[part.lot]?.home)) { for (const part of own) mixed.add(part); }
    return { run, made: -1, parts: own.map((_, i) => first + i) };
  });
  const proposals: number[][] = [];
  for (let n = 0; n < most; n++) {
    const weighing = startWeighing(
      {
        ...input,
        evaluation: asIfLoaded(problem, input.evaluation, parts),
        runs: parts,
        day: from.day,
        mixed,
      },
      true,
      { room: 1, tightDays: [], near: null, padded: new Set(), chooses: true },
      (model) => {
        const loads = optionalLoads(model, problem, input.evaluation, parts, options);
        for (const proposal of proposals) forbid(model, options, proposal);
        return loads;
      },
    );
    const values = solveWeighing(highs, weighing);
    if (!values) return;
    const chosen = options.flatMap((option, i) => (values[option.made] as number) > 0.5 ? [i] : []);
    proposals.push(chosen);
    const runs = [...fixed, ...chosen.map((i) => (options[i] as Option).run)].sort(byStart);
    if (goTogether(problem, runs)) yield { ...from, runs };
  }
}

/** Every run that could be made beside the fixed ones, of one lot or of a lot's tail and another. */
function optionsOf(problem: Problem, fixed: readonly RunChoice[]): RunChoice[] {
  const board = new VesselBoard(problem);
  fixed.forEach((run) => board.put(run.slot, cropOf(problem, run)));
  const found: RunChoice[] = [];
  for (const slot of problem.slots) {
    for (const { index: lot, crop } of problem.lots) {
      if (!lotFits(problem, slot, lot) || !board.fits(slot, crop)) continue;
      found.push({ slot, lot, lot2: -1, fixed: null });
      for (const { index: lot2 } of problem.lots) {
        if (mayJoin(problem, lot, lot2) && lotFits(problem, slot, lot2)) {
          found.push({ slot, lot, lot2, fixed: null });
        }
      }
    }
  }
  return found;
}

/** The weighing leaves out runs without grain; here every run may have some. */
function asIfLoaded(problem: Problem, evaluation: Evaluation, parts: readonly RunChoice[]): Evaluation {
  const drawG = parts.map((run) =>
    run.fixed ? run.fixed.draws.reduce((sum, draw) => sum + draw.massG, 0) : 1
  );
  return {
    ...evaluation,
    loads: { drawG, draw2G: parts.map(() => 0) },
    maltG: (i) => maltOf(problem, parts[i] as RunChoice, drawG[i] as number, 0),
  };
}

/**
 * least x made <= drawn <= greatest x made for every option; draws of a lot <= what is left of it; runs that cannot both be made
 * exclude each other; a run that finishes a lot takes all that is left of it and no later run draws on it.
 */
function optionalLoads(
  model: LinearModel,
  problem: Problem,
  evaluation: Evaluation,
  parts: readonly RunChoice[],
  options: Option[],
): number[] {
  const left = problem.lots.map((lot) => lot.totalG - lot.firmG);
  for (const one of evaluation.rawWants) left[one.lot] = (left[one.lot] as number) - one.massG;
  for (const { fixed } of parts) {
    if (fixed?.standing !== "booked") continue;
    for (const draw of fixed.draws) left[draw.lot] = (left[draw.lot] as number) - draw.massG;
  }
  const drawn = problem.lots.map((): { column: number; day: number }[] => []);
  const loads = parts.map(() => -1);
  const extras = new Map<number, number>();
  for (const option of options) {
    const { slot } = option.run;
    const made = problem.materials[slot.malt]?.made;
    if (!made) continue;
    const crop = cropOf(problem, option.run);
    const most = mostDrawnFor(slot.greatestG[crop] as number, made.screeningLoss);
    const least = Math.min(most, drawnFor(slot.leastG[crop] as number, made.screeningLoss));
    option.made = model.column((made.runCents + slot.nightCents) / 100, 0, 1, true);
    for (const extra of slot.extras) {
      let opened = extras.get(extra);
      if (opened === undefined) {
        opened = model.column((problem.season.roster.extra[extra]?.costCents ?? 0) / 100, 0, 1);
        extras.set(extra, opened);
      }
      model.row(0, Infinity, [[opened, 1], [option.made, -1]]);
    }
    for (const part of option.parts) {
      const lot = (parts[part] as RunChoice).lot;
      const worth = problem.lots[lot]?.endCentsPerG ?? 0;
      const cost = made.perTonneCents * (1 - made.screeningLoss) / 100 + worth * G_PER_TONNE / 100;
      const column = model.column(cost, 0, most / G_PER_TONNE);
      loads[part] = column;
      (drawn[lot] as { column: number; day: number }[]).push({ column, day: slot.steepDay });
    }
    const load = option.parts.map((part): [number, number] => [loads[part] as number, 1]);
    model.row(0, Infinity, [...load, [option.made, -least / G_PER_TONNE]]);
    model.row(-Infinity, 0, [...load, [option.made, -most / G_PER_TONNE]]);
  }
  problem.lots.forEach(({ index }) => {
    const all = drawn[index] as { column: number; day: number }[];
    if (all.length > 0) {
      model.row(
        -Infinity,
        Math.max(0, left[index] as number) / G_PER_TONNE,
        all.map((one) => [one.column, 1]),
      );
    }
  });
  for (const { run, made } of options) {
    if (run.lot2 < 0) continue;
    const all = drawn[run.lot] as { column: number; day: number }[];
    const leftT = Math.max(0, left[run.lot] as number) / G_PER_TONNE;
    const upTo = all.filter((one) => one.day <= run.slot.steepDay);
    const after = all.filter((one) => one.day > run.slot.steepDay);
    model.row(0, Infinity, [...upTo.map((one): [number, number] => [one.column, 1]), [made, -leftT]]);
    model.row(-Infinity, leftT, [...after.map((one): [number, number] => [one.column, 1]), [made, leftT]]);
  }
  excludeClashes(model, problem, options);
  return loads;
}

/** Runs that cannot both be made, as groups of which at most one is made: each clash of two lies in one of them. */
function excludeClashes(model: LinearModel, problem: Problem, options: readonly Option[]): void {
  const clash = options.map((one) =>
    options.map((other) => one !== other && !together(problem, one.run, other.run))
  );
  const clashes = (i: number, j: number) => (clash[i] as boolean[])[j] as boolean;
  const covered = options.map(() => options.map(() => false));
  options.forEach((_, i) => {
    for (let j = i + 1; j < options.length; j++) {
      if (!clashes(i, j) || (covered[i] as boolean[])[j]) continue;
      const group = [i, j];
      for (let k = 0; k < options.length; k++) {
        if (!group.includes(k) && group.every((one) => clashes(one, k))) group.push(k);
      }
      for (const a of group) for (const b of group) (covered[a] as boolean[])[b] = true;
      model.row(-Infinity, 1, group.map((one) => [(options[one] as Option).made, 1]));
    }
  });
}

function together(problem: Problem, one: RunChoice, other: RunChoice): boolean {
  return one.slot !== other.slot && goTogether(problem, [one, other]);
}

/** Whether the vessels take all of these runs. */
function goTogether(problem: Problem, runs: readonly RunChoice[]): boolean {
  const board = new VesselBoard(problem);
  return runs.every((run) => {
    const crop = cropOf(problem, run);
    if (!run.fixed && !board.fits(run.slot, crop)) return false;
    board.put(run.slot, crop);
    return true;
  });
}

/** The set of runs has been seen: another one must differ in a run at least. */
function forbid(model: LinearModel, options: readonly Option[], proposal: readonly number[]): void {
  const inIt = new Set(proposal);
  model.row(
    1 - proposal.length,
    Infinity,
    options.map(({ made }, i) => [made, inIt.has(i) ? -1 : 1]),
  );
}
