import { addDays, dateOf } from "../../../core/calendar.ts";
import type { Highs } from "highs";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import { planQuickly } from "./effort.ts";
import { type Season, type SeasonFile, seasonSchema } from "../../../core/season/season.ts";

/**
 * The same season some days later, lived as its plan says: what was due is recorded, what is still to come is booked. So records and
 * bookings stand in the file too, which a made season has none of.
 */
export async function livedSeason(season: Season, days: number, highs: Highs): Promise<Season> {
  const outcome = await planQuickly(season, highs);
  if (outcome.kind !== "planned") throw new Error(`Season ${season.id} has no plan to live by.`);
  const { plan } = outcome;
  const asOf = `${addDays(dateOf(season.asOf), days)}T06:00`;
  const file: SeasonFile = structuredClone(season);
  file.asOf = asOf;
  delete file.fixedAsOf;
  file.records = recordsOf(plan, asOf);
  file.bookings = bookingsOf(plan, asOf);
  for (const lot of file.lots ?? []) {
    if (plan.fills.some((fill) => fill.lotId === lot.id && fill.on < dateOf(asOf))) {
      lot.forecast = false;
      for (const planting of file.plantings ?? []) {
        if (planting.lotId === lot.id) planting.state = "harvested";
      }
    }
  }
  return seasonSchema.parse(file);
}

function recordsOf(plan: Plan, asOf: string): SeasonFile["records"] {
  const today = dateOf(asOf), done = <T extends { on: string }>(row: T) => row.on < today;
  return {
    runs: plan.runs.filter((run) => run.steepInAt < asOf).map((run) => recorded(run, asOf)),
    brews: plan.brews.filter(done).map(({ id, on, tanks, grist }) => ({ brewId: id, on, tanks, grist })),
    orders: plan.orders.filter((order) => order.orderedOn < today).map(ordered),
    feedLoads: plan.feedLoads.filter(done).map(({ id, pickupId, on, items }) => ({
      id,
      pickupId,
      on,
      items,
    })),
    moves: plan.moves.filter(done).map(moved),
    fills: plan.fills.filter(done).map((fill, i) => ({ id: `fill-${i + 1}`, ...fill })),
  };
}

function bookingsOf(plan: Plan, asOf: string): SeasonFile["bookings"] {
  const today = dateOf(asOf), due = <T extends { on: string }>(row: T) => row.on >= today;
  const inside = ({ id }: { id: string }) => !id.startsWith("tail-");
  return {
    runs: plan.runs.filter((run) => run.steepInAt >= asOf).map((
      { steepInAt, castAt, kilnAt, stripAt, ...run },
    ) => ({
      ...started(run),
      steepInAt,
      castAt,
      kilnAt,
      stripAt,
    })),
    brews: plan.brews.filter(inside).filter(due).map(({ id, on }) => ({ brewId: id, on })),
    orders: plan.orders.filter((order) => order.orderedOn >= today).map(ordered),
    feedLoads: plan.feedLoads.filter(due).map(({ id, pickupId, on, items }) => ({ id, pickupId, on, items })),
    moves: plan.moves.filter(due).map(moved),
  };
}

const started = (
  { id, draws, maltId, profileId, vesselIds }: Pick<
    PlanRun,
    "id" | "draws" | "maltId" | "profileId" | "vesselIds"
  >,
) => (
  { id, draws, maltId, profileId, vesselIds }
);
const ordered = ({ id, offerId, orderedOn, arrivesOn, packs, batchId }: Plan["orders"][number]) => (
  { id, offerId, orderedOn, arrivesOn, packs, batchId }
);
const moved = ({ id, on, lotId, fromStoreId, toStoreId, massG, lossG }: Plan["moves"][number]) => (
  { id, on, lotId, fromStoreId, toStoreId, massG, lossG }
);

/** A run as far as it has come; one that is stripped has its malt. */
function recorded(run: PlanRun, asOf: string) {
  const past = (at: string) => at < asOf;
  const stripped = past(run.stripAt);
  return {
    ...started(run),
    steepInAt: run.steepInAt,
    ...(past(run.castAt) ? { castAt: run.castAt } : {}),
    ...(past(run.kilnAt) ? { kilnAt: run.kilnAt } : {}),
    ...(stripped
      ? {
        stripAt: run.stripAt,
        outputs: run.outputs.map(({ batchId, maltId, massG }) => ({ batchId, maltId, massG })),
        outcome: "released" as const,
      }
      : {}),
  };
}
