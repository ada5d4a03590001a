/** Bookings stand as booked or are said not to be kept; runs under way stand as recorded. */
import type { Plan, PlanRun } from "../plan/plan.ts";
import { HAND_OVERS, STAGES } from "../season/malthouse.ts";
import type { BookedRun, Draw, RecordedRun } from "../season/records.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import { handOverAt, recordedAt } from "./run-view.ts";

type Kind = Plan["cannotKeep"][number]["kind"];

function drawsDiffer(a: readonly Draw[], b: readonly Draw[]): boolean {
  return a.length !== b.length || a.some((draw, place) => {
    const other = b[place]!;
    return draw.lotId !== other.lotId || draw.storeId !== other.storeId || draw.massG !== other.massG;
  });
}

/** What of a run differs from its booking or its record, in words. */
function runDiffers(run: PlanRun, agreed: BookedRun | RecordedRun): string[] {
  const differs: string[] = [];
  if (drawsDiffer(run.draws, agreed.draws)) differs.push("its draws");
  if (run.maltId !== agreed.maltId) differs.push("its malt");
  if (run.profileId !== agreed.profileId) differs.push("its profile");
  if (STAGES.some((stage) => run.vesselIds[stage] !== agreed.vesselIds[stage])) differs.push("its vessels");
  const moved = HAND_OVERS.some((handOver) => {
    const at = recordedAt(agreed, handOver);
    return at !== undefined && at !== handOverAt(run, handOver);
  });
  if (moved) differs.push("its hand-overs");
  return differs;
}

/** Names of the fields of which two things differ. */
function fieldsDiffer<F extends string>(
  a: Readonly<Record<F, unknown>>,
  b: Readonly<Record<F, unknown>>,
  fields: readonly F[],
): string[] {
  return fields.filter((field) => a[field] !== b[field]);
}

interface Agreement {
  readonly kind: Kind;
  readonly id: string;
  /** True when a record says that it has happened. */
  readonly done: boolean;
  /** What differs from the booking, or undefined when it does not stand in the plan. */
  readonly differs: string[] | undefined;
}

/** Every booking beside what the plan makes of it. */
function agreements({ season, plan, underWay }: Context): Agreement[] {
  const { bookings, records } = season;
  const find = <T extends { id: string }>(things: readonly T[], id: string) =>
    things.find((thing) => thing.id === id);
  const all: Agreement[] = [];
  for (const booked of bookings.runs) {
    const run = find(plan.runs, booked.id), done = records.runs.some((record) => record.id === booked.id);
    const differs = run === undefined || underWay.has(booked.id) ? undefined : runDiffers(run, booked);
    all.push({ kind: "run", id: booked.id, done, differs });
  }
  for (const booked of bookings.brews) {
    const brew = find(plan.brews, booked.brewId);
    const done = records.brews.some((record) => record.brewId === booked.brewId);
    // A brew made on another day and not called booked is not this booking.
    const stands = brew !== undefined && (brew.standing === "booked" || brew.on === booked.on);
    const differs = stands ? fieldsDiffer(brew, booked, ["on"]) : undefined;
    all.push({ kind: "brew", id: booked.brewId, done, differs });
  }
  for (const booked of bookings.orders) {
    const order = find(plan.orders, booked.id), done = find(records.orders, booked.id) !== undefined;
    const fields = ["offerId", "orderedOn", "arrivesOn", "packs", "batchId"] as const;
    const differs = order === undefined ? undefined : fieldsDiffer(order, booked, fields);
    all.push({ kind: "order", id: booked.id, done, differs });
  }
  for (const booked of bookings.feedLoads) {
    const load = find(plan.feedLoads, booked.id), done = find(records.feedLoads, booked.id) !== undefined;
    const differs = load === undefined ? undefined : [
      ...fieldsDiffer(load, booked, ["pickupId", "on"]),
      ...(drawsDiffer(load.items, booked.items) ? ["items"] : []),
    ];
    all.push({ kind: "feed load", id: booked.id, done, differs });
  }
  for (const booked of bookings.moves) {
    const move = find(plan.moves, booked.id), done = find(records.moves, booked.id) !== undefined;
    const fields = ["on", "lotId", "fromStoreId", "toStoreId", "massG", "lossG"] as const;
    const differs = move === undefined ? undefined : fieldsDiffer(move, booked, fields);
    all.push({ kind: "move", id: booked.id, done, differs });
  }
  return all;
}

function oneAgreement({ kind, id, done, differs }: Agreement, plan: Plan): Breach[] {
  if (done) return [];
  const refused = plan.cannotKeep.filter((item) => item.kind === kind && item.id === id);
  if (refused.length > 0 && differs !== undefined) {
    const message = `The booked ${kind} ${id} stands in the plan and among what cannot be kept.`;
    return [breach("booking-both", id, null, "both", "one of the two", message)];
  }
  if (refused.some((item) => item.why.trim() === "")) {
    const message = `The booked ${kind} ${id} is said not to be kept, without a reason.`;
    return [breach("booking-kept", id, null, "no reason", "a reason", message)];
  }
  if (refused.length > 0) return [];
  if (differs === undefined) {
    const message = `The booked ${kind} ${id} is neither in the plan nor among what cannot be kept.`;
    return [breach("booking-kept", id, null, "left out", "as booked", message)];
  }
  if (differs.length === 0) return [];
  const message = `The booked ${kind} ${id} does not stand as booked: ${differs.join(", ")} differ.`;
  return [breach("booking-kept", id, null, differs.join(", "), "as booked", message)];
}

function underWayRuns({ plan, underWay }: Context): Breach[] {
  return [...underWay.values()].flatMap((record) => {
    const run = plan.runs.find((item) => item.id === record.id);
    const differs = run === undefined ? ["all of it"] : runDiffers(run, record);
    if (differs.length === 0) return [];
    const message = run === undefined
      ? `Run ${record.id} is under way, but the plan does not hold it.`
      : `Run ${record.id} is under way, but the plan changes what was recorded: ${differs.join(", ")}.`;
    return [breach("under-way-run", record.id, null, differs.join(", "), "as recorded", message)];
  });
}

/** All bookings and all runs under way. */
export function bookingsKept(ctx: Context): Breach[] {
  return [...agreements(ctx).flatMap((agreed) => oneAgreement(agreed, ctx.plan)), ...underWayRuns(ctx)];
}
