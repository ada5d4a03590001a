import { addDays, dateOf, isoDate } from "../../../core/calendar.ts";
import { wallTime } from "../../../core/zone.ts";
import type { Plan, PlanBrew, PlanRun } from "../../../core/plan/plan.ts";
import type { Chosen, Taken } from "./chosen.ts";
import { type GrainGrams, grainGrams, moveLossG } from "./grain-grams.ts";
import type { Ground } from "./ground.ts";
import { gristGrams } from "./grist-grams.ts";

/**
 * The oracle's best as a plan in whole grams, so that the auditor can say whether it may really be made. Counts and money are
 * left at nothing: they are the oracle's to state.
 */
export function asPlan(ground: Ground, chosen: Chosen): Plan {
  const { season, bare } = ground;
  const grams = grainGrams(ground, chosen);
  const weighed = ({ lotId, storeId }: Taken, massG: number) => ({ lotId, storeId, massG });
  const runs = chosen.runs.map((run, place) => planRun(ground, run, grams, `run-${place}`));
  const orders = chosen.orders.map(planOrder);
  const brews = planBrews(ground, chosen, runs, orders);
  const made = new Set(brews.map((brew) => brew.id));
  const fills = chosen.fills.map((fill) => ({ on: isoDate(fill.day), ...weighed(fill, grams.get(fill)!) }));
  return {
    ...bare,
    runs,
    brews,
    unbrewed: ground.brews.filter((brew) => !made.has(brew.id))
      .map(({ id, beerId }) => ({ id, beerId, cause: "no malt in time", why: "Not part of the best plan." })),
    orders,
    fills,
    leftOut: [...ground.ctx.arrivals].map(({ lotId, day, massG }) => ({
      lotId,
      on: isoDate(day),
      massG: fills.reduce((left, fill) => left - fill.massG, massG),
    })).filter((left) => left.massG > 0),
    moves: chosen.moves.map((move, place) => ({
      id: `move-${place}`,
      standing: "not booked",
      on: isoDate(move.day),
      lotId: move.lotId,
      fromStoreId: move.storeId,
      toStoreId: move.toStoreId,
      massG: grams.get(move)!,
      lossG: moveLossG(season, grams.get(move)!),
    })),
    feedLoads: chosen.feed.map(({ pickup, day, items }, place) => {
      const massG = items.reduce((sum, item) => sum + grams.get(item)!, 0);
      return {
        id: `feed-${place}`,
        standing: "not booked" as const,
        pickupId: pickup.id,
        on: isoDate(day),
        items: items.map((item) => weighed(item, grams.get(item)!)),
        revenueCents: Math.round(massG / 1e6 * pickup.perTonneCents - pickup.haulageCents),
      };
    }),
    seedTaken: chosen.seed.map((part) => ({
      reserveId: part.reserveId,
      on: season.seedReserves.find((reserve) => reserve.id === part.reserveId)!.on,
      ...weighed(part, grams.get(part)!),
    })),
  };
}

function planOrder({ offer, day, packs }: Chosen["orders"][number], place: number): Plan["orders"][number] {
  return {
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
  };
}

function planRun(
  { ctx, season }: Ground,
  { option, draws: taken }: Chosen["runs"][number],
  grams: GrainGrams,
  id: string,
): PlanRun {
  const { malt, made, timing, profileId } = option;
  const draws = taken.map((draw) => ({
    lotId: draw.lotId,
    storeId: draw.storeId,
    massG: grams.get(draw)!,
  }));
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

function planBrews(
  ground: Ground,
  chosen: Chosen,
  runs: readonly PlanRun[],
  orders: Plan["orders"],
): PlanBrew[] {
  const grists = gristGrams(ground, chosen, runs, orders);
  return chosen.brews.map((made) => {
    const { brew, day, held, tankIds } = made;
    let left = brew.volumeL ?? ground.ctx.beers.get(brew.beerId)!.volumeL;
    const tanks = tankIds.map((tankId) => {
      const fillL = Math.min(left, ground.ctx.tanks.get(tankId)!.volumeL);
      left -= fillL;
      return { tankId, volumeL: fillL };
    });
    const { grist, homeShare } = grists.get(made)!;
    return {
      id: brew.id,
      beerId: brew.beerId,
      standing: "not booked",
      on: isoDate(day),
      tanks,
      grist,
      homeShare,
      promiseHeld: held,
    };
  });
}
