import { blendOf, drawsOf, heldShares, outputsOf } from "../search/supply.ts";
import type { FixedRun, Problem } from "../search/problem.ts";
import { stageLimits } from "../search/slots.ts";
import { instant, localDay } from "../zone.ts";
import { G_PER_TONNE } from "../units.ts";
import { goodExtract, ROUNDED_T, type Source } from "./source.ts";

/** Batches in store, booked orders, and what runs under way and booked will give, as sources. */
export function heldSources(problem: Problem, fixed: readonly FixedRun[]): Source[] {
  const sources: Source[] = [];
  const put = (
    material: number,
    storedDay: number,
    day: number,
    lastDay: number,
    massG: number,
    perT: number,
    home: boolean,
    share: Source["share"],
  ) => {
    if (material < 0 || massG <= 0) return;
    const fixedT = (massG / G_PER_TONNE + ROUNDED_T) * perT;
    sources.push({
      material,
      day,
      lastDay,
      storedDay,
      terms: [],
      fixedHomeT: home ? fixedT : 0,
      fixedOtherT: home ? 0 : fixedT,
      whole: -1,
      mostT: 0,
      offer: -1,
      share,
      leastPerT: perT,
      greatestPerT: perT,
    });
  };
  for (const batch of problem.batches) {
    const perT = problem.materials[batch.material]?.malt
      ? batch.extractAsIs
      : goodExtract(problem, batch.material, batch.extractAsIs);
    put(
      batch.material,
      batch.arrivesDay,
      batch.readyDay,
      batch.lastDay,
      batch.massG,
      perT,
      batch.home,
      heldShares(problem, batch),
    );
  }
  for (const run of fixed) {
    const drawnG = run.draws.reduce((sum, draw) => sum + draw.massG, 0);
    const choice = { slot: run.slot, lot: run.draws[0]?.lot ?? -1, lot2: -1, fixed: run };
    for (const { material, share } of outputsOf(problem, choice)) {
      const malt = problem.materials[material]?.malt;
      if (!malt || share <= 0 || drawnG <= 0) continue;
      const blend = blendOf(problem, drawsOf(choice, drawnG, 0), malt.extractCoarseDb);
      const strip = run.standing === "booked" ? run.slot.stripDay : earliestStripDay(problem, run);
      put(
        material,
        run.slot.stripDay,
        run.locked ? Infinity : strip + malt.restDays,
        run.slot.stripDay + malt.shelfLifeDays,
        maltG(problem, run) * share,
        blend.extractDb * (1 - malt.maltMoistureWb),
        blend.home,
        blend.share,
      );
    }
  }
  return sources;
}

/** All malt of a fixed run, grams as is. */
function maltG(problem: Problem, run: FixedRun): number {
  const of = problem.materials[run.slot.malt];
  if (!of?.made || !of.malt) return 0;
  const { made } = of;
  const dryG = run.draws.reduce(
    (sum, draw) => sum + draw.massG * (1 - (problem.lots[draw.lot]?.lot.moistureWb ?? 0)),
    0,
  );
  const kept = (1 - made.screeningLoss) *
    (1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm);
  return dryG * kept / (1 - of.malt.maltMoistureWb);
}

/** The first day on which a run under way could be stripped: its stages to come at their least hours, nobody asked. */
function earliestStripDay(problem: Problem, { id, slot }: FixedRun): number {
  const { season, book } = problem;
  const record = book.runsUnderWay.find((one) => one.id === id);
  const made = problem.materials[slot.malt]?.made;
  const profile = made?.profiles.find((one) => one.id === slot.profileId);
  if (!record || !made || !profile) return slot.stripDay;
  const known = [record.steepInAt, record.castAt, record.kilnAt].filter((at) => at !== undefined);
  const limits = stageLimits(profile, made, slot.month).slice(known.length - 1);
  let minute = instant(season.zone, known.at(-1) as string);
  for (const { least } of limits) minute = Math.max(minute + least * 60, book.asOfMinute);
  return Math.min(slot.stripDay, localDay(season.zone, Math.floor(minute)));
}
