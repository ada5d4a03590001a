import { addDays } from "../../../../core/calendar.ts";
import { gristNeed } from "../../../../core/season/need.ts";
import { type Season, type SeasonFile, seasonSchema } from "../../../../core/season/season.ts";
import { bareSeason } from "../../../_support/bare-season.ts";
import type { Job } from "./_no-wait.ts";
import { BARLEY, barleyBin, EVERY_DAY } from "./_barley-farm.ts";

type Stages = NonNullable<SeasonFile["vessels"]>[number]["stages"];

/** One vessel a stage; or a vessel that keeps the load of two stages, which makes two machines of the three. */
export const MACHINES = {
  three: [["steep"], ["bed"], ["kiln"]],
  "steep, then one vessel": [["steep"], ["bed", "kiln"]],
  "one vessel, then kiln": [["steep", "bed"], ["kiln"]],
} satisfies Record<string, Stages[]>;
export type Machines = keyof typeof MACHINES;

/** What the jobs are on these machines: days of stages in one vessel add up. */
export function machineDays(job: Job, machines: Machines): Job {
  const stages = ["steep", "bed", "kiln"] as const;
  return MACHINES[machines].map((vessel: readonly string[]) =>
    stages.reduce((sum, stage, i) => vessel.includes(stage) ? sum + job[i]! : sum, 0)
  );
}

/** The first day on which a run may start. */
export const FIRST = "2027-01-04";
const RUN_G = 1_000_000;
const BREW_G = 600_000;

/**
 * Each job (days in steep, bed and kiln) as a malt of its own and a brew of its own that needs a run of it, stripped by `days`
 * after `FIRST`. Nothing is cleaned, somebody is always there, and grain is plenty. Invented.
 */
export function noWaitSeason(jobs: readonly Job[], days: number, machines: Machines): Season {
  const last = addDays(FIRST, days);
  const exactly = (stageDays: number) => ({
    least: 24 * stageDays,
    usual: 24 * stageDays,
    greatest: 24 * stageDays,
  });
  const season = seasonSchema.parse({
    ...bareSeason,
    id: "no-wait",
    zone: "UTC",
    positionAt: `${addDays(FIRST, -1)}T12:00`,
    asOf: `${addDays(FIRST, -1)}T12:00`,
    fixedAsOf: `${addDays(FIRST, -1)}T12:00`,
    horizonEnd: addDays(last, 1),
    lots: [BARLEY],
    stores: [barleyBin(100_000)],
    vessels: MACHINES[machines].map((stages) => ({
      id: stages.join("-"),
      name: stages.join(" and "),
      stages: [...stages],
      loadLimits: [{ crop: "barley" as const, leastG: RUN_G, greatestG: RUN_G }],
      cleaningHours: 0,
    })),
    roster: {
      weekly: [{
        weekdays: EVERY_DAY,
        from: "00:00",
        to: "23:59",
        handOvers: ["steepIn", "castToBed", "kilnLoading", "strip"],
      }],
      // Later steeps come too late for any brew; without them the season is small.
      closed: [{ from: last, to: addDays(last, 200), handOvers: ["steepIn"], reason: "too late" }],
      steepInTimes: ["08:00"],
      heldDays: 1,
    },
    maltTypes: jobs.map(([steep, bed, kiln], i) => ({
      id: `malt-${i}`,
      name: `malt ${i}`,
      made: {
        from: "grain" as const,
        crops: ["barley" as const],
        acceptance: {},
        profiles: [{
          id: `profile-${i}`,
          name: "only",
          steep: exactly(steep!),
          bed: exactly(bed!),
          kiln: exactly(kiln!),
        }],
        screeningLoss: 0,
        steepLossDm: 0.01,
        respirationLossDm: 0.05,
        rootletLossDm: 0.04,
        runCents: 10_000,
      },
      maltMoistureWb: 0.045,
      extractCoarseDb: 0.8,
      restDays: 0,
      shelfLifeDays: 365,
      reserveFloorG: 0,
    })),
    maltStore: { places: 100, placeG: RUN_G },
    beers: jobs.map((_, i) => ({
      id: `beer-${i}`,
      name: `beer ${i}`,
      letter: "b",
      gravityP: 12,
      volumeL: 1000,
      brewhouseEfficiency: 0.85,
      tankDays: 7,
      grist: [{ id: `line-${i}`, ingredient: { kind: "malt" as const, maltId: `malt-${i}` }, share: 1 }],
    })),
    brewhouse: { brewsPerDay: 24, brewWeekdays: EVERY_DAY },
    tanks: jobs.map((_, i) => ({ id: `tank-${i}`, name: `tank ${i}`, volumeL: 10_000 })),
    opening: { grain: [{ lotId: "barley", storeId: "bin", massG: 30 * RUN_G }] },
  });
  const brew = (i: number, volumeL: number) => ({
    id: `brew-${i}`,
    beerId: `beer-${i}`,
    on: last,
    earliest: last,
    latest: last,
    class: 1,
    pilot: true,
    volumeL,
  });
  return {
    ...season,
    brews: jobs.map((_, i) => brew(i, 1000 * BREW_G / gristNeed(season, brew(i, 1000))[0]!.bookMassG)),
  };
}
