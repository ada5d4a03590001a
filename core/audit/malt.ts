/** The malt store: first and last brew days, what is taken when, and whose it is. */
import { dayNumber } from "../calendar.ts";
import { type Breach, breach, type RuleId } from "./breach.ts";
import type { Context } from "./context.ts";
import { type BatchView, takenG } from "./malt-book.ts";
import { maltPlaces } from "./malt-places.ts";
import { dayWords, massWords } from "./words.ts";

interface StatedDates {
  readonly batchId: string;
  readonly maltId: string;
  readonly day: number;
  readonly readyOn: string;
  readonly bestBefore: string;
}

function statedDates(ctx: Context): StatedDates[] {
  return [
    ...ctx.runs.flatMap(({ run, day }) => run.outputs.map((out) => ({ ...out, day: day.strip }))),
    ...ctx.plan.drums.map((drum) => ({ ...drum, day: dayNumber(drum.on) })),
  ];
}

function dates(ctx: Context): Breach[] {
  return statedDates(ctx).flatMap(({ batchId, maltId, day, readyOn, bestBefore }) => {
    const malt = ctx.malts.get(maltId);
    if (malt === undefined) return [];
    const ready = day + malt.restDays, best = day + malt.shelfLifeDays;
    if (dayNumber(readyOn) === ready && dayNumber(bestBefore) === best) return [];
    const limit = `${dayWords(ready)} to ${dayWords(best)}`;
    const message =
      `Batch ${batchId} of ${malt.name} comes off on ${dayWords(day)} and may be brewed ${limit}; ` +
      `the plan says ${readyOn} to ${bestBefore}.`;
    return [breach("batch-dates", batchId, day, `${readyOn} to ${bestBefore}`, limit, message)];
  });
}

/** The contract that a lot's owner has the malt made for lists the lot. */
function ownerTakes(ctx: Context, batch: BatchView, kind: string, into: string): boolean {
  const contract = kind === "contract" ? ctx.contracts.get(into) : undefined;
  const listed = contract?.kind === "sell-malt" ? contract.lotIds ?? [] : [];
  return batch.shares.every(({ lotId }) => {
    const owner = ctx.lots.get(lotId)?.owner ?? "farm";
    return owner === "farm" || listed.includes(lotId);
  });
}

function uses(ctx: Context, batch: BatchView): Breach[] {
  const found: Breach[] = [];
  const planned = batch.takings.filter((taking) => taking.planned);
  const over = planned.find((taking) => takenG(batch, taking.day) > batch.massG);
  if (over !== undefined) {
    const taken = takenG(batch, over.day);
    const message = `By ${dayWords(over.day)} ${massWords(taken)} of batch ${batch.id} is used, ` +
      `which is ${massWords(taken - batch.massG)} more than its ${massWords(batch.massG)}.`;
    found.push(
      breach("batch-overdrawn", batch.id, over.day, massWords(taken), massWords(batch.massG), message),
    );
  }
  for (const { day, into, kind } of planned) {
    const say = (rule: RuleId, what: string, limit: string, reason: string) =>
      found.push(
        breach(rule, batch.id, day, what, limit, `Batch ${batch.id} goes into ${into}, but ${reason}`),
      );
    if (day < batch.readyDay) {
      const limit = `${dayWords(batch.readyDay)} or later`;
      say("malt-not-ready", dayWords(day), limit, `it is not ready before ${dayWords(batch.readyDay)}.`);
    }
    if (day > batch.bestDay) {
      const limit = `${dayWords(batch.bestDay)} or earlier`;
      say("malt-stale", dayWords(day), limit, `its last brew day is ${dayWords(batch.bestDay)}.`);
    }
    if (batch.held) say("malt-held", "held", "released", "it is held, or a lot in it has failed.");
    if (!ownerTakes(ctx, batch, kind, into)) {
      const owners = batch.shares.map(({ lotId }) => ctx.lots.get(lotId)?.owner ?? "farm").join(", ");
      say("malt-owner", owners, "a contract that lists its lots", `its grain belongs to ${owners}.`);
    }
  }
  return found;
}

/** Every batch, and the store as a whole. */
export function maltStore(ctx: Context): Breach[] {
  return [
    ...dates(ctx),
    ...[...ctx.malt.batches.values()].flatMap((batch) => uses(ctx, batch)),
    ...maltPlaces(ctx),
  ];
}
