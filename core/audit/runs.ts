/** Weights of a run: what the screens take, what the vessels carry, what comes off the kiln. */
import { monthOf } from "../calendar.ts";
import type { MadeFromGrain, MaltType, Vessel } from "../season/malthouse.ts";
import { type Breach, breach } from "./breach.ts";
import type { Context } from "./context.ts";
import type { RunView } from "./run-view.ts";
import { dayWords, massWords } from "./words.ts";

/** Whole grams, and the rounding of the steps before. The millionth is for fractions such as 0.9 that binary numbers only come near. */
const TOLERANCE_G = 2 + 1e-6;

/** Dry matter in each gram of what a run drew, over its lots. */
export function dryShare(view: RunView): number {
  if (view.drawnG <= 0) return 0;
  return view.run.draws.reduce(
    (sum, draw, place) => sum + draw.massG * (1 - (view.lots[place]?.moistureWb ?? 0)),
    0,
  ) / view.drawnG;
}

function weights(view: RunView, made: MadeFromGrain): Breach[] {
  const { run, drawnG, day } = view;
  const screeningsG = Math.round(drawnG * made.screeningLoss);
  const cleanDmG = (drawnG - screeningsG) * dryShare(view);
  const culmsG = made.culmMoistureWb < 1 ? cleanDmG * made.rootletLossDm / (1 - made.culmMoistureWb) : 0;
  const checks = [
    ["screenings", run.screeningsG, screeningsG, TOLERANCE_G],
    ["clean grain", run.cleanG, drawnG - run.screeningsG, 0],
    ["rootlets", run.culmsG, culmsG, TOLERANCE_G],
  ] as const;
  return checks.filter(([, isG, shouldG, most]) => Math.abs(isG - shouldG) > most).map(
    ([what, isG, shouldG]) => {
      const message =
        `Run ${run.id} draws ${massWords(drawnG)}: that gives ${massWords(shouldG)} of ${what}, ` +
        `the plan says ${massWords(isG)}.`;
      return breach("run-weights", run.id, day.steepIn, massWords(isG), massWords(shouldG), message);
    },
  );
}

function outputs(view: RunView, malt: MaltType, made: MadeFromGrain): Breach[] {
  const { run, drawnG, day } = view;
  const cleanDmG = (drawnG - Math.round(drawnG * made.screeningLoss)) * dryShare(view);
  const kept = 1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm;
  const maltG = malt.maltMoistureWb < 1 ? cleanDmG * kept / (1 - malt.maltMoistureWb) : 0;
  const besides = made.alsoGives.reduce((sum, item) => sum + item.share, 0);
  const should = new Map([[run.maltId, maltG * (1 - besides)]]);
  for (const { maltId, share } of made.alsoGives) {
    should.set(maltId, (should.get(maltId) ?? 0) + maltG * share);
  }
  const is = new Map<string, number>();
  for (const out of run.outputs) is.set(out.maltId, (is.get(out.maltId) ?? 0) + out.massG);
  return [...new Set([...should.keys(), ...is.keys()])].flatMap((maltId) => {
    const isG = is.get(maltId) ?? 0, shouldG = should.get(maltId) ?? 0;
    if (Math.abs(isG - shouldG) <= TOLERANCE_G) return [];
    const message = `Run ${run.id} gives ${massWords(isG)} of ${maltId} in the plan; ` +
      `what it draws leaves ${massWords(shouldG)} after its losses.`;
    return [breach("run-outputs", run.id, day.strip, massWords(isG), massWords(shouldG), message)];
  });
}

function load(view: RunView, made: MadeFromGrain, vessel: Vessel): Breach[] {
  const { run, crop, day } = view;
  const limits = vessel.loadLimits.find((entry) => entry.crop === crop);
  if (limits === undefined) return [];
  const month = monthOf(day.steepIn) - 1;
  const factor = (vessel.monthLoadFactor?.[month] ?? 1) * (made.monthLoadFactor?.[month] ?? 1);
  const greatestG = Math.floor(limits.greatestG * factor + 1e-6);
  if (run.cleanG >= limits.leastG && run.cleanG <= greatestG) return [];
  const limit = `${massWords(limits.leastG)} to ${massWords(greatestG)}`;
  const message = `Run ${run.id} puts ${massWords(run.cleanG)} of clean ${crop} into ${vessel.name} on ${
    dayWords(day.steepIn)
  }; it takes ${limit}.`;
  return [breach("run-load", run.id, day.steepIn, massWords(run.cleanG), limit, message)];
}

function oneRun(ctx: Context, view: RunView): Breach[] {
  const { run, malt, made, record } = view;
  if (malt === undefined) return [];
  if (made === undefined) {
    // A run of a malt that has been bought since it was begun is a fact.
    if (record !== undefined) return [];
    const message = `Run ${run.id} makes ${malt.name}, which is not made from grain.`;
    return [breach("run-malt", run.id, view.day.steepIn, malt.id, "a malt made from grain", message)];
  }
  // The load of a run under way is a fact; only what it will give is still plan.
  const vessels = record === undefined ? [...new Set(Object.values(run.vesselIds))] : [];
  const loads = vessels.map((id) => ctx.vessels.get(id)).filter((vessel) => vessel !== undefined);
  return [
    ...weights(view, made),
    ...outputs(view, malt, made),
    ...loads.flatMap((vessel) => load(view, made, vessel)),
  ];
}

/** Weights and loads of every run. */
export function runWeights(ctx: Context): Breach[] {
  return ctx.runs.flatMap((view) => oneRun(ctx, view));
}
