import type { LinearModel } from "../solve/linear.ts";
import { cropOf, type RunChoice } from "./candidate.ts";
import type { Problem } from "./problem.ts";
import { cleaningMinutes, stretchesOf } from "./vessels.ts";

/** A run's column, and how much of it is one run. */
export interface Counted {
  readonly run: RunChoice;
  readonly column: number;
  /** 1 for a 0-or-1 column; one part of the greatest load for a column of tonnes. */
  readonly perUnit: number;
  /** Whether it is of a candidate whose runs are known to stand together. */
  readonly isKept: boolean;
}

interface Stay extends Counted {
  readonly from: number;
  readonly to: number;
  readonly crop: number;
}

/**
 * No two runs in one vessel at a time, cleaning between them, and no more night turns a week than a bed allows beside the `fixed` runs. Cleaning is
 * asked of any two, whatever lies between them, but not of two that are kept: stricter than the board, where a change of crops takes longer
 * than a run.
 */
export function addClashRows(
  model: LinearModel,
  problem: Problem,
  counted: readonly Counted[],
  fixed: readonly RunChoice[] = [],
): void {
  const cleaning = cleaningMinutes(problem);
  const stays = problem.season.vessels.map((): Stay[] => []);
  for (const one of counted) {
    const crop = cropOf(problem, one.run);
    for (const { vessel, from, to } of stretchesOf(one.run.slot)) {
      (stays[vessel] as Stay[]).push({ ...one, from, to, crop });
    }
  }
  stays.forEach((list, vessel) => {
    list.sort((a, b) => a.from - b.from || a.to - b.to);
    addGroups(model, list, cleaning[vessel] as number[][]);
  });
  addNightRows(model, problem, counted, fixed);
}

/** Each stay with those before it that reach into it: of stays that all clash with one another there is one at most. */
function addGroups(
  model: LinearModel,
  stays: readonly Stay[],
  cleaning: readonly (readonly number[])[],
): void {
  const gap = (one: Stay, next: Stay) => (cleaning[one.crop] as number[])[next.crop] as number;
  const clash = (one: Stay, next: Stay) =>
    !(one.isKept && next.isKept) && one.to + gap(one, next) > next.from;
  const longest = Math.max(...cleaning.flat());
  let open: Stay[] = [];
  let last: Stay[] = [];
  for (const stay of stays) {
    open = open.filter((one) => one.to + longest > stay.from);
    const group = [stay];
    // Those that are there longest are likely to clash with all others.
    for (const one of open.filter((one) => clash(one, stay)).sort((a, b) => b.to - a.to)) {
      const all = group.every((other) => one.from <= other.from ? clash(one, other) : clash(other, one));
      if (all) group.push(one);
      else add(model, [one, stay]);
    }
    open.push(stay);
    // A group that the next one holds says nothing more.
    if (!last.every((one) => group.includes(one))) add(model, last);
    last = group;
  }
  add(model, last);
}

function add(model: LinearModel, group: readonly Counted[]): void {
  if (group.length < 2) return;
  model.row(-Infinity, 1, group.map(({ column, perUnit }) => [column, perUnit]));
}

function addNightRows(
  model: LinearModel,
  problem: Problem,
  counted: readonly Counted[],
  fixed: readonly RunChoice[],
): void {
  problem.season.vessels.forEach((vessel, index) => {
    const most = vessel.turning?.by === "hand" ? vessel.turning.mostNightTurnsPerWeek : Infinity;
    if (most === Infinity) return;
    const weeks = new Map<number, [number, number][]>();
    for (const { run: { slot }, column, perUnit } of counted) {
      if (slot.vessels[1] !== index) continue;
      for (const [week, turns] of slot.nights) {
        weeks.set(week, [...(weeks.get(week) ?? []), [column, turns * perUnit]]);
      }
    }
    for (const [week, entries] of weeks) {
      const given = fixed.filter(({ slot }) => slot.vessels[1] === index).flatMap(({ slot }) => slot.nights)
        .reduce((sum, [of, turns]) => of === week ? sum + turns : sum, 0);
      model.row(-Infinity, most - given, entries);
    }
  });
}
