/** Order and length of a run's stages, and what may lie neither before the first free day or as-of nor after the plan's end. */
import { dayNumber, monthOf } from "../calendar.ts";
import { HAND_OVERS, type HandOver, type Stage } from "../season/malthouse.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { handOverAt, type RunView } from "./run-view.ts";
import { dayWords, spoken } from "./words.ts";

/** Half a second in hours: limits may be fractions of an hour, hand-overs are whole minutes. */
export const HOURS_TOLERANCE = 0.5 / 3600;

/** Names of the hand-overs for people. */
export const HAND_OVER_NAME: Readonly<Record<HandOver, string>> = {
  steepIn: "steep-in",
  castToBed: "cast to bed",
  kilnLoading: "kiln loading",
  strip: "strip",
};

function order(view: RunView): Breach[] {
  if (view.ordered) return [];
  const { run, day } = view;
  const found = HAND_OVERS.map((handOver) => handOverAt(run, handOver)).join(", ");
  const message = `The hand-overs of run ${run.id} are out of order: ${found}.`;
  return [breach("hand-over-order", run.id, day.steepIn, found, "each at or after the one before", message)];
}

const STAGE_ENDS = [
  ["steep", "steepIn", "castToBed"],
  ["bed", "castToBed", "kilnLoading"],
  ["kiln", "kilnLoading", "strip"],
] as const;

/** Least and greatest hours of a run's stage; undefined when its profile is not known. */
export function stageHours(view: RunView, stage: Stage): { least: number; greatest: number } | undefined {
  const { profile, made, day } = view;
  if (profile === undefined || made === undefined) return undefined;
  const extra = stage === "kiln" ? made.monthExtraKilnHours?.[monthOf(day.steepIn) - 1] ?? 0 : 0;
  return { least: profile[stage].least + extra, greatest: profile[stage].greatest + extra };
}

function lengths(ctx: Context, view: RunView): Breach[] {
  const { run, profile, at, fact, day } = view;
  if (!view.ordered) return [];
  const found: Breach[] = [];
  for (const [stage, start, end] of STAGE_ENDS) {
    const limits = stageHours(view, stage);
    if (fact[end] || limits === undefined) continue;
    const { least, greatest } = limits, hours = (at[end] - at[start]) / 60;
    // Grain that has already lain too long when the plan is made cannot be made younger, nor can a run be hurried past
    // what stands in its way.
    const late = ctx.stuck.has(run.id) || (fact[start] && (ctx.asOf - at[start]) / 60 > greatest);
    if (hours >= least - HOURS_TOLERANCE && (late || hours <= greatest + HOURS_TOLERANCE)) continue;
    const limit = `${spoken(least)} to ${spoken(greatest)} h`;
    const message = `Run ${run.id} has ${spoken(hours)} h in ${stage}; its profile "${
      profile!.name
    }" has ${limit}.`;
    found.push(breach("stage-hours", run.id, day[start], `${spoken(hours)} h`, limit, message));
  }
  return found;
}

interface Dated {
  readonly kind: string;
  readonly id: string;
  readonly day: number;
  readonly free: boolean;
  /** The day on which it is there: an order that the plan places has to come while the plan lasts. */
  readonly thereDay: number;
}

/** Everything the plan dates, with whether it is free to move: not booked and not firm. */
function dated(ctx: Context): Dated[] {
  const { plan } = ctx;
  const things: Dated[] = [];
  const add = (kind: string, id: string, on: string, free: boolean, there = on) =>
    things.push({ kind, id, day: dayNumber(on), free, thereDay: dayNumber(there) });
  for (const brew of plan.brews) add("brew", brew.id, brew.on, brew.standing !== "booked");
  for (const load of plan.feedLoads) add("feed load", load.id, load.on, load.standing !== "booked");
  for (const move of plan.moves) add("move", move.id, move.on, move.standing !== "booked");
  for (const drum of plan.drums) add("drum load", drum.id, drum.on, true);
  for (const delivery of plan.maltDeliveries) add("malt delivery", delivery.contractId, delivery.on, true);
  for (const order of plan.orders) {
    if (ctx.recordedOrders.has(order.id)) continue;
    // What is booked stands as booked, and the season asks of a booked order no more than that it is placed in time.
    const there = order.standing === "booked" ? order.orderedOn : order.arrivesOn;
    add("order", order.id, order.orderedOn, false, there);
  }
  for (const seed of plan.seedTaken) add("seed", seed.reserveId, seed.on, false);
  for (const delivery of plan.grainDeliveries) add("grain delivery", delivery.contractId, delivery.on, false);
  return things;
}

function tooEarly(ctx: Context, kind: string, id: string, day: number): Breach {
  const limit = `${dayWords(ctx.firstFreeDay)} or later`;
  const message = `The ${kind} ${id} lies on ${dayWords(day)}, before the first free day ${
    dayWords(ctx.firstFreeDay)
  }, and it is not booked.`;
  return breach("first-free-day", id, day, dayWords(day), limit, message);
}

function past(ctx: Context, what: string, id: string, day: number, when: string): Breach {
  const message = `${what} lies at ${when}, before ${ctx.plan.asOf}, and no record says that it happened.`;
  return breach("in-the-past", id, day, when, `${ctx.plan.asOf} or later`, message);
}

function earliness(ctx: Context): Breach[] {
  const found: Breach[] = [];
  for (const { run, record, day, at, fact } of ctx.runs) {
    if (record === undefined && run.standing !== "booked" && day.steepIn < ctx.firstFreeDay) {
      found.push(tooEarly(ctx, "run", run.id, day.steepIn));
      continue;
    }
    const gone = HAND_OVERS.find((handOver) => !fact[handOver] && at[handOver] < ctx.asOf);
    if (gone !== undefined) {
      const what = `The ${HAND_OVER_NAME[gone]} of run ${run.id}`;
      found.push(past(ctx, what, run.id, day[gone], handOverAt(run, gone)));
    }
  }
  for (const { kind, id, day, free } of dated(ctx)) {
    if (free && day < ctx.firstFreeDay) found.push(tooEarly(ctx, kind, id, day));
    else if (!free && day < ctx.asOfDay) found.push(past(ctx, `The ${kind} ${id}`, id, day, dayWords(day)));
  }
  return found;
}

/** What lies after the plan's end: its grain is counted as left over, and nothing asks for it. Seed may stand or be left out. */
function lateness(ctx: Context): Breach[] {
  const steeped = ctx.runs.filter(({ record }) => record === undefined)
    .map(({ run, day }) => ({ kind: "run", id: run.id, thereDay: day.steepIn }));
  return [...steeped, ...dated(ctx).filter(({ kind }) => kind !== "seed")]
    .filter(({ thereDay }) => thereDay > ctx.planEnd)
    .map(({ kind, id, thereDay }) => {
      const is = dayWords(thereDay), end = dayWords(ctx.planEnd);
      const message = `The ${kind} ${id} lies on ${is}, after the plan's end on ${end}.`;
      return breach("after-plan-end", id, thereDay, is, `${end} or earlier`, message);
    });
}

/** Stage order, stage lengths, earliness and lateness. */
export function times(ctx: Context): Breach[] {
  return [
    ...ctx.runs.flatMap((view) => [...order(view), ...lengths(ctx, view)]),
    ...earliness(ctx),
    ...lateness(ctx),
  ];
}
