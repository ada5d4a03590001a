import { isoDate } from "../calendar.ts";
import type { PlanRun } from "../plan/plan.ts";
import { wallTime } from "../zone.ts";
import type { RunChoice } from "./candidate.ts";
import type { CellarBatch } from "./cellar.ts";
import type { Taken } from "./piles.ts";
import type { Problem } from "./problem.ts";
import { blendOf, outputsOf } from "./supply.ts";
import { keyOf } from "./weigh-sources.ts";

/**
 * A run (the `index`-th) in whole grams: what it draws, loses and gives. `taken` is what the stowing gave it, the lot that is finished
 * first; for a run under way its recorded
 * draws stand. Null when nothing was drawn.
 */
export function outturn(
  problem: Problem,
  run: RunChoice,
  id: string,
  index: number,
  taken: readonly Taken[],
): { run: PlanRun; batches: CellarBatch[] } | null {
  const { season } = problem;
  const malt = problem.materials[run.slot.malt]?.malt;
  const made = problem.materials[run.slot.malt]?.made;
  if (!malt || !made) return null;
  const draws = run.fixed
    ? run.fixed.draws.map(({ lotId, storeId, massG }) => ({ lotId, storeId, massG }))
    : [...taken].sort((a, b) => Number(b.lot === run.lot) - Number(a.lot === run.lot)).map((one) => ({
      lotId: problem.lots[one.lot]?.id ?? "",
      storeId: problem.stores[one.store]?.id ?? "",
      massG: one.massG,
    }));
  const drawnG = draws.reduce((sum, draw) => sum + draw.massG, 0);
  if (drawnG <= 0) return null;
  const lotOf = (lotId: string) => season.lots.find((lot) => lot.id === lotId);
  const screeningsG = Math.round(drawnG * made.screeningLoss);
  const cleanG = drawnG - screeningsG;
  const dryG = draws.reduce(
    (sum, draw) => sum + draw.massG / drawnG * cleanG * (1 - (lotOf(draw.lotId)?.moistureWb ?? 0)),
    0,
  );
  const maltG = Math.round(
    dryG * (1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm) / (1 - malt.maltMoistureWb),
  );
  const byLot = draws.map(({ lotId, massG }) => ({
    lot: problem.lots.findIndex((lot) => lot.id === lotId),
    massG,
  }));
  const at = run.slot.times.map((minute) => wallTime(season.zone, minute));
  const batches: CellarBatch[] = [];
  const outputs: PlanRun["outputs"] = [];
  let given = 0;
  const all = outputsOf(problem, run);
  all.slice(1).concat(all.slice(0, 1)).forEach((output, i) => {
    const material = problem.materials[output.material];
    if (!material?.malt) return;
    // The main malt, last, takes what rounding leaves.
    const massG = i === all.length - 1 ? maltG - given : Math.round(maltG * output.share);
    given += massG;
    // The number stands in front: behind, it could be that of another run of the day.
    const batchId = all.length === 1 ? `m-${id}` : `m${i + 1}-${id}`;
    const { home, extractDb, share } = blendOf(problem, byLot, material.malt.extractCoarseDb);
    const ready = run.slot.stripDay + material.restDays;
    const last = run.slot.stripDay + material.shelfDays;
    outputs.push({
      batchId,
      maltId: material.malt.id,
      massG,
      readyOn: isoDate(ready),
      bestBefore: isoDate(last),
    });
    batches.push({
      id: batchId,
      key: keyOf({ batchId: null, run: index, material: material.index, offer: -1, ready }),
      material: material.index,
      arrives: run.slot.stripDay,
      ready: run.fixed?.locked ? Infinity : ready,
      last,
      massG,
      leftG: massG,
      carryG: 0,
      perG: extractDb * (1 - material.malt.maltMoistureWb),
      settled: run.fixed !== null,
      share,
      home,
    });
  });
  return {
    run: {
      id,
      standing: run.fixed?.standing ?? "not booked",
      draws,
      maltId: malt.id,
      profileId: run.slot.profileId,
      vesselIds: {
        steep: season.vessels[run.slot.vessels[0]]?.id ?? "",
        bed: season.vessels[run.slot.vessels[1]]?.id ?? "",
        kiln: season.vessels[run.slot.vessels[2]]?.id ?? "",
      },
      steepInAt: at[0] as string,
      castAt: at[1] as string,
      kilnAt: at[2] as string,
      stripAt: at[3] as string,
      screeningsG,
      cleanG,
      culmsG: Math.round(dryG * made.rootletLossDm / (1 - made.culmMoistureWb)),
      outputs,
    },
    batches,
  };
}
