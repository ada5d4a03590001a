import { drawnFor, mostDrawnFor } from "../search/loads.ts";
import type { Problem, ProblemLot } from "../search/problem.ts";
import type { Slot } from "../search/slots.ts";
import type { LinearModel } from "../solve/linear.ts";
import { G_PER_TONNE } from "../units.ts";
import type { GrainColumns } from "./grain.ts";
import { ROUNDED_T, type Source, type Term } from "./source.ts";
import { mostRuns, type VesselStays } from "./vessel-cuts.ts";
import { lotGroups, mayStart, startsByMalt } from "./starts.ts";

/** Runs of one malt from one group of lots, begun in one step of the grid, as a count. */
export interface RunColumns {
  readonly malt: number;
  /** Place of the lot group among the malt's. */
  readonly lots: readonly number[];
  readonly step: number;
  /** First day on which one can be steeped. */
  readonly firstDay: number;
  /** Column of the count. */
  readonly count: number;
  /** Most tonnes drawn for one run. */
  readonly mostT: number;
  /** Draw column of each lot, in the order of `lots`; -1 where the lot cannot be steeped in this step. */
  readonly draws: readonly number[];
  readonly sources: readonly Source[];
}

/** Below this load a run's rounding to grams is left out of account, tonnes. */
const SMALL_T = 0.005;

/** Counts and draws of all runs: least x count <= draws <= greatest x count, at the step's best load, day and night. */
export function addRuns(
  model: LinearModel,
  problem: Problem,
  grain: GrainColumns,
  slots: readonly Slot[],
  stays: VesselStays,
  stepDays: number,
): RunColumns[] {
  const runs: RunColumns[] = [];
  startsByMalt(problem, slots).forEach((days, malt) => {
    const made = problem.materials[malt]?.made;
    if (!made || days.length === 0) return;
    const keep = 1 - made.screeningLoss;
    const fit = problem.lots.filter((lot) =>
      (grain.freeT[lot.index] as number) > 0 && days.some(({ day }) => mayStart(lot, malt, day))
    );
    for (const group of lotGroups(fit)) {
      const crop = (group[0] as ProblemLot).crop;
      const steps = new Map<number, typeof days>();
      for (const one of days) {
        if ((one.greatestG[crop] as number) <= 0) continue;
        if (!group.some((lot) => mayStart(lot, malt, one.day))) continue;
        const step = Math.floor((one.day - problem.freeDay) / stepDays);
        steps.set(step, [...(steps.get(step) ?? []), one]);
      }
      for (const [step, of] of steps) {
        const greatestG = Math.max(...of.map((one) => one.greatestG[crop] as number));
        const least = Math.min(...of.map((one) => one.leastG[crop] as number));
        const mostT = mostDrawnFor(greatestG, made.screeningLoss) / G_PER_TONNE;
        const leastT = drawnFor(least, made.screeningLoss) / G_PER_TONNE;
        const night = Math.min(...of.map((one) => one.nightCents));
        const most = Math.min(...[0, 1, 2].map((stage) => mostRuns(stays, stage, step, step)));
        const count = model.column((made.runCents + night) / 100, 0, most, true);
        const draws = group.map((lot) => {
          if (!of.some((one) => mayStart(lot, malt, one.day))) return -1;
          const column = model.column(
            made.perTonneCents * keep / 100 + (grain.worth[lot.index] as number),
            0,
            Math.min(grain.freeT[lot.index] as number, mostT * most),
          );
          grain.drawn[lot.index]?.push([column, 1]);
          return column;
        });
        const entries = draws.filter((column) => column >= 0).map((column): [number, number] => [column, 1]);
        model.row(-Infinity, 0, [...entries, [count, -mostT]]);
        model.row(0, Infinity, [...entries, [count, -leastT]]);
        const stripDay = Math.min(...of.map((one) => one.stripDay));
        const lastStripDay = Math.max(...of.map((one) => one.lastStripDay));
        runs.push({
          malt,
          lots: group.map((lot) => lot.index),
          step,
          firstDay: (of[0] as (typeof of)[number]).day,
          count,
          mostT,
          draws,
          sources: sourcesOf(problem, malt, group, draws, { count, mostT, leastT, stripDay, lastStripDay }),
        });
      }
    }
  });
  return runs;
}

/** What the runs give of each malt they bring, in extract of the malt of each lot. */
function sourcesOf(
  problem: Problem,
  malt: number,
  group: readonly ProblemLot[],
  draws: readonly number[],
  { count, mostT, leastT, stripDay, lastStripDay }: Record<
    "count" | "mostT" | "leastT" | "stripDay" | "lastStripDay",
    number
  >,
): Source[] {
  const of = problem.materials[malt];
  if (!of?.made || !of.malt) return [];
  const { made } = of;
  const owner = group[0]?.lot.owner ?? "farm";
  const kept = (1 - made.screeningLoss) *
    (1 - made.steepLossDm - made.respirationLossDm - made.rootletLossDm) / (1 - of.malt.maltMoistureWb);
  const also = made.alsoGives.map((one) => ({ maltId: one.maltId, share: one.share }));
  const own = 1 - also.reduce((sum, one) => sum + one.share, 0);
  return [{ maltId: of.maltId, share: own }, ...also].flatMap(({ maltId, share }): Source[] => {
    const material = problem.materials.find((one) => one.maltId === maltId && one.owner === owner);
    const given = material?.malt;
    if (!material || !given || share <= 0) return [];
    const dry = group.map((lot) => 1 - lot.lot.moistureWb);
    const perT = group.map((lot) =>
      (lot.lot.maltExtractDb ?? given.extractCoarseDb) * (1 - given.maltMoistureWb)
    );
    // Two lots mixed: malt follows their dry matter, its extract their weight, so a mixture may give a little more than its parts.
    const spread = (list: readonly number[]) => (Math.max(...list) - Math.min(...list)) / Math.min(...list);
    const mixed = 1 + spread(dry) * spread(perT) / 4;
    const unsure = mixed * (1 + ROUNDED_T / Math.max(leastT, SMALL_T));
    const terms = group.flatMap((lot, i): Term[] => {
      const gives = (dry[i] as number) * kept * share * (perT[i] as number);
      return (draws[i] as number) < 0 ? [] : [{
        column: draws[i] as number,
        gives: gives * unsure,
        surely: gives / unsure,
        home: lot.home,
        lot: lot.index,
      }];
    });
    if (terms.length === 0) return [];
    return [{
      material: material.index,
      day: stripDay + given.restDays,
      lastDay: Infinity,
      storedDay: lastStripDay,
      terms,
      fixedHomeT: 0,
      fixedOtherT: 0,
      whole: count,
      mostT: mostT * Math.max(...terms.map((term) => term.gives)),
      offer: -1,
      share: null,
      leastPerT: Math.min(...perT),
      greatestPerT: Math.max(...perT),
    }];
  });
}
