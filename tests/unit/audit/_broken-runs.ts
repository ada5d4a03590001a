import { of, pay, type Variant } from "./_variant.ts";

/** Ways to break what runs take and make: their weights and lots. */
export const BROKEN_RUNS: readonly Variant[] = [
  {
    what: "a run makes what is not made from grain",
    rules: ["run-malt"],
    breaks: (_, plan) => {
      const last = of(plan.runs, "r6");
      last.maltId = "crystal";
      last.outputs[0]!.maltId = "crystal";
      last.outputs[0]!.bestBefore = "2028-02-06";
      last.outputs[0]!.readyOn = "2027-04-12";
      pay(plan, "runsCents", plan.goals.money.runsCents - 29_500);
    },
  },
  {
    what: "three grams of rootlets too many",
    rules: ["run-weights"],
    breaks: (_, plan) => {
      of(plan.runs, "r3").culmsG += 3;
    },
  },
  {
    what: "clean grain and screenings do not add up",
    rules: ["run-weights"],
    breaks: (_, plan) => {
      of(plan.runs, "r3").cleanG -= 1;
    },
  },
  {
    what: "three grams of malt too many",
    rules: ["run-outputs"],
    breaks: (_, plan) => {
      of(plan.runs, "r3").outputs[0]!.massG += 3;
    },
  },
  {
    what: "the second malt of a run is given to the first",
    rules: ["run-outputs", "run-outputs"],
    breaks: (_, plan) => {
      const [first, second] = of(plan.runs, "r5").outputs;
      first!.massG += 100;
      second!.massG -= 100;
    },
  },
  {
    what: "one gram over the kiln's greatest load, cut in that month",
    rules: ["run-load"],
    breaks: (season) => {
      const kiln = of(season.vessels, "kiln");
      kiln.loadLimits[0]!.greatestG = 999_999;
      kiln.monthLoadFactor = [1, 1, 0.95, 1, 1, 1, 1, 1, 1, 1, 1, 1];
    },
  },
  {
    what: "one gram under the least load",
    rules: ["run-load", "run-load", "run-load", "run-load", "run-load"],
    breaks: (season) => {
      of(season.vessels, "steep").loadLimits[0]!.leastG = 950_001;
    },
  },
  {
    what: "malt off by a percent",
    rules: ["run-outputs", "dry-matter-run"],
    breaks: (_, plan) => {
      of(plan.runs, "r3").outputs[0]!.massG += 7920;
    },
  },
  {
    what: "a crop the malt is not made from",
    rules: ["lot-crop"],
    breaks: (season) => {
      const { made } = of(season.maltTypes, "munich");
      if (made.from === "grain") made.crops = ["rye"];
    },
  },
  {
    what: "a lot that is held",
    rules: ["lot-use"],
    breaks: (season) => {
      of(season.lots, "x").use = "held";
    },
  },
  {
    what: "treated seed",
    rules: ["lot-treated"],
    breaks: (season) => {
      of(season.lots, "x").treatedSeed = true;
    },
  },
  {
    what: "somebody else's grain",
    rules: ["lot-owner"],
    breaks: (season) => {
      of(season.lots, "x").owner = "A neighbour";
    },
  },
  {
    what: "a later result fails a limit that an earlier one passed",
    rules: ["lot-acceptance"],
    breaks: (season) => {
      of(season.lots, "x").analyses.push(
        { id: "x-2", sampledOn: "2026-10-01", resultOn: "2027-01-12", donPpm: 1.01 },
        { id: "x-3", sampledOn: "2026-09-01", resultOn: "2026-09-12", donPpm: 0.4 },
      );
    },
  },
  {
    what: "protein a shade too high",
    rules: ["lot-acceptance"],
    breaks: (season) => {
      of(season.lots, "x").analyses.push({
        id: "x-2",
        sampledOn: "2026-10-01",
        resultOn: "2027-01-12",
        proteinDb: 0.1251,
      });
    },
  },
  {
    what: "a run of a lot a day before its result is expected",
    rules: ["lot-awaiting"],
    breaks: (season) => {
      of(season.lots, "x").analyses[0]!.expectedOn = "2027-04-06";
    },
  },
  {
    what: "a booked run of a lot that awaits a result",
    rules: ["lot-awaiting"],
    breaks: (season, plan) => {
      const last = of(plan.runs, "r6");
      last.standing = "booked";
      const { id, draws, maltId, profileId, vesselIds, steepInAt, castAt, kilnAt, stripAt } = last;
      season.bookings.runs.push({
        id,
        draws,
        maltId,
        profileId,
        vesselIds,
        steepInAt,
        castAt,
        kilnAt,
        stripAt,
      });
    },
  },
  {
    what: "a lot steeped a day before it wakes",
    rules: ["lot-asleep"],
    breaks: (season) => {
      of(season.lots, "b").wakesOn!.late = "2027-02-03";
    },
  },
  {
    what: "a lot awake by judgement, but measured to wake later",
    rules: ["lot-asleep"],
    breaks: (season) => {
      of(season.lots, "x").analyses.push({
        id: "x-2",
        sampledOn: "2027-04-02",
        resultOn: "2027-04-06",
        germinativeEnergy: 0.96,
      });
    },
  },
  {
    what: "a lot whose germination failed after it was awake",
    rules: ["lot-spent"],
    breaks: (season) => {
      of(season.lots, "x").analyses.push(
        { id: "x-2", sampledOn: "2026-10-01", resultOn: "2026-10-04", germinativeEnergy: 0.96 },
        {
          id: "x-3",
          sampledOn: "2027-01-11",
          resultOn: "2027-01-14",
          germinativeEnergy: 0.949,
          germinativeCapacity: 0.99,
        },
      );
    },
  },
  {
    what: "a lot steeped a day after its last",
    rules: ["lot-too-old"],
    breaks: (season) => {
      of(season.lots, "a").useBy!.on = "2027-02-01";
    },
  },
  {
    what: "a lot stored too warm and wet to stay alive",
    rules: ["lot-too-old"],
    breaks: (season) => {
      const lot = of(season.lots, "x");
      lot.analyses.push({
        id: "x-2",
        sampledOn: "2026-10-01",
        resultOn: "2026-10-04",
        germinativeEnergy: 0.95,
      });
      of(season.stores, "bags").monthTempC = Array(12).fill(22);
    },
  },
  {
    what: "two lots while a gram of the first is left",
    rules: ["lot-pair", "bin-one-lot"],
    breaks: (season) => {
      season.opening.grain[0]!.massG += 1;
    },
  },
  {
    what: "two lots, one of them organic",
    rules: ["lot-pair"],
    breaks: (season) => {
      of(season.lots, "b").organic = true;
    },
  },
  {
    what: "two lots more than three points apart",
    rules: ["lot-pair"],
    breaks: (season) => {
      of(season.lots, "b").analyses[0]!.germinativeEnergy = 0.924;
    },
  },
  {
    what: "what was recorded of the run under way is changed",
    rules: ["under-way-run"],
    breaks: (_, plan) => {
      of(plan.runs, "r1").castAt = "2027-01-16T08:30";
    },
  },
];
