import { addDays, dateOf, isoDate, wallTime } from "../../../core/calendar.ts";
import type { Plan, PlanBrew, PlanRun } from "../../../core/plan/plan.ts";
import { emptyPlan } from "../empty-plan.ts";
import type { Chosen } from "./chosen.ts";
import type { Ground } from "./ground.ts";

/**
 * The oracle's best as a plan in whole grams, so that the auditor can say whether it may really be made. Counts and money are
 * left at nothing: they are the oracle's to state.
 */
export async function asPlan(ground: Ground, chosen: Chosen): Promise<Plan> {
  const { season } = ground;
  const runs = chosen.runs.map((run, place) => planRun(ground, run, `run-${place}`));
  const brews = chosen.brews.map((brew) => planBrew(ground, chosen, brew, runs));
  const made = new Set(brews.map((brew) => brew.id));
  return {
    ...await emptyPlan(season),
    runs,
    brews,
    unbrewed: ground.brews.filter((brew) => !made.has(brew.id))
      .map(({ id, beerId }) => ({ id, beerId, cause: "no malt in time", why: "Not part of the best plan." })),
    orders: chosen.orders.map(({ offer, day, packs }, place) => ({
      id: `order-${place}`,
      standing: "not booked",
      offerId: offer.id,
      orderedOn: isoDate(day),
      arrivesOn: isoDate(day + offer.leadDays),
      packs,
      batchId: `order-batch-${place}`,
      massG: packs * offer.packG,
      bestBefore: isoDate(day + offer.leadDays + offer.shelfLifeDays),
      costCents: packs * offer.packCents + offer.freightCents,
    })),
    feedLoads: chosen.feed.map(({ pickup, day, items }, place) => {
      const grams = items.map((item) => ({
        lotId: item.lotId,
        storeId: ground.grain.get(item.lotId)!.storeId,
        massG: Math.floor(item.massKg * 1000 + 1e-3),
      }));
      const massG = grams.reduce((sum, item) => sum + item.massG, 0);
      return {
        id: `feed-${place}`,
        standing: "not booked" as const,
        pickupId: pickup.id,
        on: isoDate(day),
        items: grams.filter((item) => item.massG > 0),
        revenueCents: Math.round(massG / 1e6 * pickup.perTonneCents - pickup.haulageCents),
      };
    }),
    seedTaken: season.seedReserves.map(({ id, lotId, on, massG }) => ({
      reserveId: id,
      lotId,
      on,
      massG,
      storeId: ground.grain.get(lotId)!.storeId,
    })),
  };
}

function planRun(
  { ctx, season, grain }: Ground,
  { option, drawsKg }: Chosen["runs"][number],
  id: string,
): PlanRun {
  const { malt, made, timing, profileId } = option;
  const draws = option.lotIds.map((lotId, place) => ({
    lotId,
    storeId: grain.get(lotId)!.storeId,
    massG: Math.round(drawsKg[place]! * 1000),
  })).filter((draw) => draw.massG > 0);
  const drawnG = draws.reduce((sum, draw) => sum + draw.massG, 0);
  const screeningsG = Math.round(drawnG * made.screeningLoss), cleanG = drawnG - screeningsG;
  const dryG = cleanG *
    draws.reduce((sum, draw) => sum + draw.massG * (1 - ctx.lots.get(draw.lotId)!.moistureWb), 0) / drawnG;
  const kept = 1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm;
  const at = (moment: number) => wallTime(ctx.zone, moment);
  const vessel = (stage: "steep" | "bed" | "kiln") =>
    season.vessels.find((one) => one.stages.includes(stage))!.id;
  const strip = dateOf(at(timing.strip));
  return {
    id,
    standing: "not booked",
    draws,
    maltId: malt.id,
    profileId,
    vesselIds: { steep: vessel("steep"), bed: vessel("bed"), kiln: vessel("kiln") },
    steepInAt: at(timing.steepIn),
    castAt: at(timing.castToBed),
    kilnAt: at(timing.kilnLoading),
    stripAt: at(timing.strip),
    screeningsG,
    cleanG,
    culmsG: Math.round(dryG * made.rootletLossDm / (1 - made.culmMoistureWb)),
    outputs: [{
      batchId: `${id}-batch`,
      maltId: malt.id,
      massG: Math.round(dryG * kept / (1 - malt.maltMoistureWb)),
      readyOn: addDays(strip, malt.restDays),
      bestBefore: addDays(strip, malt.shelfLifeDays),
    }],
  };
}

function planBrew(
  ground: Ground,
  chosen: Chosen,
  { brew, day, held, uses, tankIds }: Chosen["brews"][number],
  runs: readonly PlanRun[],
): PlanBrew {
  const volumeL = brew.volumeL ?? ground.ctx.beers.get(brew.beerId)!.volumeL;
  const batchIds = new Map([
    ...ground.season.opening.malt.map((batch) => [batch.id, batch.id] as const),
    ...chosen.runs.map(({ option }, place) =>
      [`start ${option.startDay}`, runs[place]!.outputs[0]!.batchId] as const
    ),
    ...chosen.orders.map(({ offer, day }, place) =>
      [`${offer.id} ${isoDate(day)}`, `order-batch-${place}`] as const
    ),
  ]);
  const grist = uses.map(({ lineId, group, massKg }) => {
    const batchId = batchIds.get(group)!;
    // A promise kept to the last gram must still be kept in whole grams.
    const massG = isHome(ground, runs, batchId) ? Math.ceil(massKg * 1000 - 1e-3) : Math.floor(massKg * 1000);
    return { lineId, from: { kind: "batch" as const, batchId }, massG };
  });
  let left = volumeL;
  const tanks = tankIds.map((tankId) => {
    const fillL = Math.min(left, ground.ctx.tanks.get(tankId)!.volumeL);
    left -= fillL;
    return { tankId, volumeL: fillL };
  });
  const allG = grist.reduce((sum, use) => sum + use.massG, 0);
  const homeG = grist.filter(({ from }) => isHome(ground, runs, from.batchId))
    .reduce((sum, use) => sum + use.massG, 0);
  return {
    id: brew.id,
    beerId: brew.beerId,
    standing: "not booked",
    on: isoDate(day),
    tanks,
    grist,
    homeShare: allG > 0 ? homeG / allG : 0,
    promiseHeld: held,
  };
}

function isHome({ season, ctx }: Ground, runs: readonly PlanRun[], batchId: string): boolean {
  const old = season.opening.malt.find((batch) => batch.id === batchId);
  if (old !== undefined) return old.home;
  const run = runs.find(({ outputs }) => outputs.some((output) => output.batchId === batchId));
  return run !== undefined && run.draws.every(({ lotId }) => ctx.lots.get(lotId)!.origin === "own");
}
