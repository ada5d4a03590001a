/** Random changes of which malts take each other's place: each returns how to take it back, or null when none is possible. */
import { cropOf, type RunChoice } from "./candidate.ts";
import { type Position, replace, type Undo } from "./position.ts";
import type { Demand, Line } from "./problem.ts";
import { freeRun, lotFor, runOf, slotInWeek } from "./run-chances.ts";
import { firstFrom } from "./slots.ts";
import type { Substitute } from "./substitutes.ts";

/** Days about a brew, or behind a run's malt, in which the same substitute is taken too. */
const SPANS = [0, 0, 21, 60, 400] as const;
const RUN_SPANS = [14, 42, 120, 400] as const;
/** Days by which a run of the substitute mostly begins earlier. */
const MOST_EARLIER = 21;

/** A substitute taken or given up, in one brew or in all of some weeks that allow the same. */
export function exchangeMalt(here: Position): Undo | null {
  const { problem: { substitutes }, substituted, chance, dates } = here;
  if (substitutes.length === 0) return null;
  const pick = chance.int(0, substitutes.length - 1);
  const one = substitutes[pick] as Substitute;
  const day = dates.day[one.demand] as number;
  if (day < 0) return null;
  const span = chance.pick(SPANS);
  const to = substituted[pick] === 1 ? 0 : 1;
  return set(
    here,
    substitutes.flatMap((other, i) => {
      const on = dates.day[other.demand] as number;
      const isNear = on >= 0 && Math.abs(on - day) <= span && isLike(here, one, other);
      return i === pick || isNear ? [i] : [];
    }),
    to,
  );
}

/** A run less, or one of the substitute in its place, and the substitute in the brews that its malt could have gone into. */
export function replaceRun(here: Position): Undo | null {
  const { problem, board, chance, dates, substituted } = here;
  const { substitutes, materials } = problem;
  const at = substitutes.length === 0 ? -1 : freeRun(here);
  if (at < 0) return null;
  const before = here.runs;
  const run = before[at] as RunChoice;
  const ready = run.slot.stripDay + (materials[run.slot.malt]?.restDays ?? 0);
  const last = ready + chance.pick(RUN_SPANS);
  const able = substitutes.flatMap((one, i) => {
    const on = dates.day[one.demand] as number;
    return substituted[i] === 0 && on >= ready && on <= last && ownOf(here, one) === run.slot.malt ? [i] : [];
  });
  if (able.length === 0) return null;
  const giveBack = set(here, able, 1);
  board.remove(run.slot);
  const rest = before.filter((_, i) => i !== at);
  const other = chance.int(0, 1) === 0
    ? null
    : runNear(here, run, substitutes[able[0] as number] as Substitute);
  if (other) board.put(other.slot, cropOf(problem, other));
  replace(here, other ? [...rest, other] : rest);
  return () => {
    giveBack();
    if (other) board.remove(other.slot);
    board.put(run.slot, cropOf(problem, run));
    here.runs = before;
  };
}

/** A run of a substitute, begun about when another was; null where no room was found. */
function runNear(here: Position, run: RunChoice, { material }: Substitute): RunChoice | null {
  const { problem, chance } = here;
  const slots = problem.slotsByMalt[material] ?? [];
  const day = run.slot.steepDay - chance.int(0, MOST_EARLIER);
  const first = slots[firstFrom(slots, day)];
  const lot = first ? lotFor(here, first, problem.materials[material]?.owner) : -1;
  const slot = lot < 0 ? null : slotInWeek(here, slots, day, lot);
  return slot && runOf(here, slot, lot);
}

/** The material of the line that a substitute is for. */
function ownOf({ problem }: Position, { demand, line }: Substitute): number {
  return ((problem.demands[demand] as Demand).lines[line] as Line).material;
}

function isLike(here: Position, one: Substitute, other: Substitute): boolean {
  return one.material === other.material && ownOf(here, one) === ownOf(here, other);
}

function set({ substituted }: Position, which: readonly number[], to: 0 | 1): Undo {
  const was = which.map((i) => substituted[i] as number);
  for (const i of which) substituted[i] = to;
  return () => which.forEach((i, at) => substituted[i] = was[at] as number);
}
