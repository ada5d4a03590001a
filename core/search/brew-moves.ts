/** Random changes of what is brewed and when: each is made at once where it is legal, and returns how to take it back; null when it is not. */
import { cropOf, type RunChoice } from "./candidate.ts";
import type { Evaluation } from "./evaluate.ts";
import { type Position, replace, type Undo } from "./position.ts";
import { chanceRunFor } from "./sparing.ts";

/** A brew gives up its day only to one that wants a tank about then. */
const NEAR_DAYS = 45;

/** A brew on another of its days. */
export function shiftBrew(here: Position): Undo | null {
  const { problem, chance, dates } = here;
  if (here.moving.length === 0) return null;
  const demand = chance.pick(here.moving);
  const days = problem.demands[demand]?.days ?? [];
  const day = chance.pick(days);
  const was = dates.day[demand] as number;
  if (day === was || !dates.allows(demand, day)) return null;
  dates.put(demand, day);
  return () => dates.put(demand, was);
}

/** Dates a brew that is not made, with small runs of some of its malts. */
export function addBrew(here: Position, evaluation: Evaluation): Undo | null {
  const { problem, board, chance, dates } = here;
  const open = problem.demands.filter(({ index, days }) => evaluation.status[index] === 0 && days.length > 0);
  if (open.length === 0) return null;
  const demand = chance.pick(open);
  const was = dates.day[demand.index] as number;
  const day = was >= 0 ? was : chance.pick(demand.days);
  if (was < 0 && !dates.allows(demand.index, day)) return null;
  const before = here.runs;
  const added: RunChoice[] = [];
  const made = demand.lines.filter((line) => problem.materials[line.material]?.made);
  for (const line of made) {
    if (made.length > 1 && chance.int(0, 2) === 0) continue;
    const run = chanceRunFor(problem, board, chance, line, day);
    if (!run) continue;
    board.put(run.slot, cropOf(problem, run));
    added.push(run);
  }
  dates.put(demand.index, day);
  replace(here, [...before, ...added]);
  return () => {
    for (const run of added) board.remove(run.slot);
    dates.put(demand.index, was);
    here.runs = before;
  };
}

/** Takes a brew's day away. */
export function dropBrew(here: Position): Undo | null {
  const { problem, chance, dates } = here;
  const dated = dates.dated().filter((one) => !problem.demands[one.demand]?.booked);
  if (dated.length === 0) return null;
  const { demand, day } = chance.pick(dated);
  dates.put(demand, -1);
  return () => dates.put(demand, day);
}

/** Dates a brew that has no day; where it does not fit, another one gives up its day. */
export function exchangeBrew(here: Position): Undo | null {
  const { problem, chance, dates } = here;
  const without = problem.demands.filter((demand) =>
    (dates.day[demand.index] as number) < 0 && demand.days.length > 0
  );
  if (without.length === 0) return null;
  const { index, days } = chance.pick(without);
  const day = chance.pick(days);
  if (dates.allows(index, day)) {
    dates.put(index, day);
    return () => dates.put(index, -1);
  }
  const near = dates.dated().filter((one) =>
    !problem.demands[one.demand]?.booked && Math.abs(one.day - day) <= NEAR_DAYS
  );
  if (near.length === 0) return null;
  const other = chance.pick(near);
  dates.put(other.demand, -1);
  if (!dates.allows(index, day)) {
    dates.put(other.demand, other.day);
    return null;
  }
  dates.put(index, day);
  return () => {
    dates.put(index, -1);
    dates.put(other.demand, other.day);
  };
}
