import type { Plan } from "../plan/plan.ts";
import { byStart, cropOf, lotFits, type RunChoice } from "../search/candidate.ts";
import type { Evaluation } from "../search/evaluate.ts";
import { firstFrom, type Slot } from "../search/slots.ts";
import type { Season } from "../season/season.ts";
import { dayWords } from "../year/words.ts";
import { type HeldPlan, heldPlan } from "./held-plan.ts";

/** What keeps a run from slipping further. */
export interface Stop {
  /** Brew: it would be lost, or go short of home malt. End: nothing, as far as was looked. */
  readonly kind: "brew" | "vessel" | "lot" | "hands" | "end";
  /** Of the brew, vessel or lot; empty where it is nobody's. */
  readonly id: string;
  /** Completes "may slip n days: ...". */
  readonly words: string;
}

/** How many days one run's start may slip, everything else held. */
export interface RunSlack {
  readonly runId: string;
  /** To the latest legal start before the first that would not do. */
  readonly maySlipDays: number;
  readonly stops: Stop;
}

/** Later starts are tried this far; a run that may slip longer is not pressed. */
const FURTHEST_DAYS = 42;
/** Extract of bought malt, grams, by which a count may differ from another for roundings alone. */
const ROUNDING_G = 2000;
const STAGES = ["steep", "bed", "kiln"] as const;

/**
 * The slack of every free run that starts by the last day shown (by those after it nobody acts): later legal starts of the same malt in the same vessels are tried in order, and the first that loses
 * a brew or a promise, asks for more bought malt, or finds a vessel taken, stops it.
 */
export function slackOf(season: Season, plan: Plan): RunSlack[] {
  const held = heldPlan(season, plan);
  const base = held.evaluator.evaluate(held.candidate, 1);
  return held.free.filter(({ choice }) => choice.slot.steepDay <= held.problem.horizonDay)
    .map(({ run, choice }) => ({ runId: run.id, ...slackOfRun(held, base, choice) }));
}

/** True when a brew inside the horizon hangs on the run, and not only the run behind it. */
export function isPressed({ stops }: RunSlack): boolean {
  return stops.kind === "brew" && !stops.id.startsWith("tail-");
}

/**
 * The run that breaks the plan first at the head: those on which a brew inside the horizon hangs by their slack, the earliest of
 * several first; then the others the same way, which press on the run behind them.
 */
export function tightestFirst(plan: Plan, slack: readonly RunSlack[]): RunSlack[] {
  const start = new Map(plan.runs.map((run) => [run.id, run.steepInAt]));
  return slack.toSorted((a, b) =>
    Number(isPressed(b)) - Number(isPressed(a)) || a.maySlipDays - b.maySlipDays ||
    (start.get(a.runId)! < start.get(b.runId)! ? -1 : 1)
  );
}

function slackOfRun(held: HeldPlan, base: Evaluation, choice: RunChoice): Omit<RunSlack, "runId"> {
  const { problem, board } = held;
  board.remove(choice.slot);
  const from = choice.slot.steepDay;
  let last = from;
  let stops: Stop | null = null;
  for (const slots of laterStarts(held, choice)) {
    const day = (slots[0] as Slot).steepDay;
    const refusals = slots.map((slot) => stopOf(held, base, choice, slot));
    if (refusals.includes(null)) {
      last = day;
      continue;
    }
    // Of several ways to start on that day the one that comes furthest names the reason.
    stops = refusals.find((one) => one?.kind === "brew") ?? refusals[0]!;
    break;
  }
  board.put(choice.slot, cropOf(problem, choice));
  stops ??= from + FURTHEST_DAYS > problem.endDay
    ? { kind: "end", id: "", words: "the plan ends" }
    : { kind: "end", id: "", words: `nothing in the next ${FURTHEST_DAYS / 7} weeks` };
  if (stops.kind === "end" && last === from) {
    stops = { kind: "hands", id: "", words: "no later start has all its hand-overs staffed" };
  }
  return { maySlipDays: last - from, stops };
}

/** Later slots of the same malt in the same vessels, by day. */
function laterStarts({ problem }: HeldPlan, { slot }: RunChoice): Slot[][] {
  const slots = problem.slotsByMalt[slot.malt] ?? [];
  const days = new Map<number, Slot[]>();
  for (let at = firstFrom(slots, slot.steepDay + 1); at < slots.length; at++) {
    const later = slots[at] as Slot;
    if (later.steepDay > slot.steepDay + FURTHEST_DAYS) break;
    if (!later.vessels.every((vessel, stage) => vessel === slot.vessels[stage])) continue;
    days.set(later.steepDay, [...days.get(later.steepDay) ?? [], later]);
  }
  return [...days.values()];
}

/** What a later start would break, or null. The run itself is off the board. */
function stopOf(held: HeldPlan, base: Evaluation, choice: RunChoice, slot: Slot): Stop | null {
  const { problem, board, candidate, evaluator } = held;
  const crop = cropOf(problem, choice);
  for (const index of [choice.lot, choice.lot2]) {
    if (index < 0 || lotFits(problem, slot, index)) continue;
    const { lot } = problem.lots[index]!;
    return { kind: "lot", id: lot.id, words: `lot ${lot.letter} may not be steeped any more by then` };
  }
  if (!board.fits(slot, crop)) return vesselStop(held, choice, slot, crop);
  const later = { ...choice, slot };
  const runs = candidate.runs.map((one) => one === choice ? later : one).sort(byStart);
  return brewStop(held, base, evaluator.evaluate({ ...candidate, runs }, 1), choice);
}

function vesselStop({ problem, board, candidate }: HeldPlan, own: RunChoice, slot: Slot, crop: number): Stop {
  const stage = ([0, 1, 2] as const).find((one) => board.refuses(slot, crop, one)) ?? 1;
  const vessel = problem.season.vessels[slot.vessels[stage]]!;
  // Runs stand in order of start: the first that is still there when this one would come.
  const next = candidate.runs.find((run) =>
    run !== own && run.slot.vessels[stage] === slot.vessels[stage] &&
    run.slot.times[stage + 1]! > slot.times[stage]!
  );
  const whose = next === undefined ? "another run" : `the run of ${dayWords(next.slot.steepDay)}`;
  return { kind: "vessel", id: vessel.id, words: `the ${STAGES[stage]} is wanted by ${whose}` };
}

/**
 * The brew that would be lost, break its promise or take more bought malt: of those from the day on which this run's malt was to
 * be ready. Where the search gives up an earlier one in its stead, the first that waits for this malt.
 */
function brewStop(held: HeldPlan, base: Evaluation, then: Evaluation, own: RunChoice): Stop | null {
  const { problem, candidate } = held;
  const worse = (demand: number) => (then.status[demand] as number) < (base.status[demand] as number);
  const bought = (one: Evaluation) => one.deficits.reduce((sum, each) => sum + each.extractG, 0);
  const isLost = base.order.some(worse);
  if (!isLost && bought(then) <= bought(base) + ROUNDING_G) return null;
  const material = problem.materials[own.slot.malt]!;
  const ready = own.slot.stripDay + material.restDays;
  const waiting = base.order.filter((demand) =>
    candidate.day[demand]! >= ready &&
    problem.demands[demand]!.lines.some((line) => line.material === material.index)
  );
  const lost = waiting.find(worse);
  if (lost !== undefined) {
    const what = then.status[lost] === 0 ? "would be lost" : "would break its promise";
    return brewWords(problem, lost, candidate.day[lost]!, what);
  }
  const short = waiting.find((demand) => homeOf(held, then, demand) < homeOf(held, base, demand) - 1);
  const [first] = waiting;
  if (short !== undefined) return brewWords(problem, short, candidate.day[short]!, "would take bought malt");
  return first === undefined ? null : brewWords(problem, first, candidate.day[first]!, "waits for its malt");
}

/** Home extract that a demand gets over all its lines. */
function homeOf({ evaluator: { table } }: HeldPlan, of: Evaluation, demand: number): number {
  return table.linesOf[demand]!.reduce((sum, line) => sum + of.homeG[line]!, 0);
}

function brewWords(
  { demands, season }: HeldPlan["problem"],
  demand: number,
  day: number,
  what: string,
): Stop {
  const { id, beerId } = demands[demand]!;
  const name = season.beers.find((beer) => beer.id === beerId)?.name ?? "a delivery of malt";
  return { kind: "brew", id, words: `${name} of ${dayWords(day)} ${what}` };
}
