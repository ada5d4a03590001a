import { run } from "./_hand-plan.ts";
import { of, pay, retime, type Variant } from "./_variant.ts";

/** Ways to break runs: their times, people, vessels, weights and lots. */
export const BROKEN_RUNS: readonly Variant[] = [
  {
    what: "the kiln is loaded before the grain is cast",
    rules: ["hand-over-order"],
    breaks: (_, plan) => {
      of(plan.runs, "r5").castAt = "2027-03-29T10:00";
    },
  },
  {
    what: "one hour too long in steep",
    rules: ["stage-hours"],
    breaks: (season) => {
      const { made } = of(season.maltTypes, "munich");
      if (made.from === "grain") made.profiles[0]!.steep.greatest = 47;
    },
  },
  {
    what: "wall clock hours taken for elapsed ones over the March clock change",
    rules: ["stage-hours"],
    breaks: (season, plan) => {
      const { made } = of(season.maltTypes, "munich");
      if (made.from === "grain") made.profiles[0]!.bed = { least: 96, usual: 96, greatest: 96 };
      of(plan.runs, "r5").kilnAt = "2027-03-29T08:00";
    },
  },
  {
    what: "the month's extra kiln hours are left out",
    rules: ["stage-hours"],
    breaks: (season) => {
      const { made } = of(season.maltTypes, "munich");
      if (made.from === "grain") made.monthExtraKilnHours = [0, 0, 6, 0, 0, 0, 0, 0, 0, 0, 0, 0];
    },
  },
  {
    what: "a free run starts a day before the first free day",
    rules: ["first-free-day"],
    breaks: (season) => {
      // The first free day is 27 January: the run of the 26th is too early, the order of that day is not.
      season.roster.heldDays = 9;
    },
  },
  {
    what: "the next hand-over of the run under way lies before as-of",
    rules: ["in-the-past"],
    breaks: (season, plan) => {
      season.records.runs[1]!.castAt = "2027-01-14T08:00";
      retime(
        of(plan.runs, "r1"),
        "2027-01-14T08:00",
        "2027-01-14T08:00",
        "2027-01-18T08:59",
        "2027-01-19T08:00",
      );
      of(plan.runs, "r1").outputs[0]!.readyOn = "2027-01-26";
      of(plan.runs, "r1").outputs[0]!.bestBefore = "2027-08-07";
    },
  },
  {
    what: "the steep-in is a minute after the window closes",
    rules: ["hand-over-staffed"],
    breaks: (season) => {
      // Both ends count: the extra minutes make the other Tuesdays good, and 23 March is left.
      season.roster.weekly[0]!.handOvers = ["castToBed", "kilnLoading", "strip"];
      season.roster.weekly.push(
        { weekdays: [1, 3, 4, 5], from: "07:00", to: "18:00", handOvers: ["steepIn"] },
        { weekdays: [2], from: "07:00", to: "07:59", handOvers: ["steepIn"] },
      );
      for (const on of ["2027-01-19", "2027-01-26", "2027-02-02"]) {
        season.roster.extra.push({ on, from: "08:00", to: "08:00", handOvers: ["steepIn"], costCents: 0 });
      }
    },
  },
  {
    what: "the steep is closed that day",
    rules: ["hand-over-staffed"],
    breaks: (season) => {
      season.roster.closed.push({
        from: "2027-03-22",
        to: "2027-03-23",
        handOvers: ["steepIn"],
        reason: "drilling",
      });
    },
  },
  {
    what: "the window's person is away",
    rules: ["hand-over-staffed"],
    breaks: (season) => {
      season.people[0]!.away.push({ from: "2027-03-23", to: "2027-03-23", reason: "away" });
    },
  },
  {
    what: "a look-in on one Saturday evening comes a minute too early",
    rules: ["look-in-gap"],
    breaks: (season) => {
      season.roster.lookIns = [{ weekdays: [6], at: ["09:00", "16:59"] }, {
        weekdays: [7],
        at: ["09:00", "17:00"],
      }];
      // Two Saturdays are made good. On 27 March clocks go forward, so 16:01 on the clock are 15:01.
      for (const on of ["2027-01-30", "2027-02-06"]) {
        season.roster.extra.push({ on, from: "17:00", to: "17:00", handOvers: ["strip"], costCents: 0 });
      }
      // On 11 April the kiln is loaded at 08:00.
    },
  },
  {
    what: "sixteen hours on the clock, seventeen in truth, when clocks go back",
    rules: ["look-in-gap"],
    breaks: (season, plan) => {
      // Saturday 30 October 17:00 to Sunday 09:00. The stage itself ends at 07:00, 96 h after Thursday 08:00.
      season.maltStore.places = 99;
      season.opening.grain[2]!.massG += 1_000_000;
      plan.runs.push(run(
        "2027-10-26",
        {
          id: "r7",
          draws: [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }],
        },
        [792_000],
        "07:00",
      ));
      pay(plan, "runsCents", plan.goals.money.runsCents + 29_500);
      pay(plan, "endGrainCents", plan.goals.money.endGrainCents - 15_000);
    },
  },
  {
    what: "six turns at night in a week that allows five",
    rules: ["night-turns"],
    breaks: (season, plan) => {
      // Cast at 08:00 or 09:00 with a turn every 12 hours: every evening turn is at night, every weekend turn too.
      const bed = of(season.vessels, "bed");
      bed.turning = { by: "hand", everyHours: 12, nightTurnCents: 100, mostNightTurnsPerWeek: 7 };
      season.roster.extra.push({
        on: "2027-04-08",
        from: "20:00",
        to: "20:00",
        handOvers: ["strip"],
        costCents: 0,
      });
      // r1 in bed to Wednesday 20 January, r2 from Thursday 21 to Monday 25: four turns each, 8 in the week of 18 January.
      pay(plan, "nightTurnsCents", nightTurnCents());
    },
  },
  {
    what: "the kiln is fired while the maltster is away",
    rules: ["kiln-alone"],
    breaks: (season) => {
      delete season.roster.weekly[0]!.personId;
      season.people[0]!.away.push({ from: "2027-04-12", to: "2027-04-12", reason: "away" });
    },
  },
  {
    what: "a vessel serves another stage",
    rules: ["vessel-stage"],
    breaks: (season, plan) => {
      season.vessels.push({ ...structuredClone(of(season.vessels, "steep")), id: "other", name: "Other" });
      of(plan.runs, "r6").vesselIds.kiln = "other";
    },
  },
  {
    what: "a run changes its line",
    rules: ["vessel-line"],
    breaks: (season, plan) => {
      season.vessels.push({
        ...structuredClone(of(season.vessels, "steep")),
        id: "other",
        name: "Other",
        line: "two",
      });
      of(plan.runs, "r6").vesselIds.steep = "other";
    },
  },
  {
    what: "a vessel does not take the crop",
    rules: ["vessel-crop"],
    breaks: (season, plan) => {
      const other = structuredClone(of(season.vessels, "steep"));
      other.loadLimits[0]!.crop = "rye";
      season.vessels.push({ ...other, id: "other", name: "Other" });
      of(plan.runs, "r6").vesselIds.steep = "other";
    },
  },
  {
    what: "two loads in the kiln",
    rules: ["vessel-two-loads"],
    breaks: (season, plan) => {
      // A second line of its own up to the kiln, which it shares with r5.
      for (const id of ["steep", "bed"]) {
        season.vessels.push({ ...structuredClone(of(season.vessels, id)), id: `${id}-2` });
      }
      season.opening.grain[2]!.massG += 1_000_000;
      const twin = structuredClone(of(plan.runs, "r5"));
      twin.id = "r5b";
      twin.vesselIds = { steep: "steep-2", bed: "bed-2", kiln: "kiln" };
      twin.outputs.forEach((out) => out.batchId += "-b");
      plan.runs.push(twin);
      season.maltStore.places = 99;
      pay(plan, "runsCents", plan.goals.money.runsCents + 22_000);
    },
  },
  {
    what: "the bed is refilled an hour before it is clean",
    rules: ["vessel-cleaning"],
    breaks: (season) => {
      // r1 leaves the bed on 20 January 08:00; r2 enters it 24 hours later.
      of(season.vessels, "bed").cleaningHours = 25;
    },
  },
  {
    what: "wheat after barley takes longer",
    rules: ["vessel-cleaning"],
    breaks: (season) => {
      of(season.vessels, "bed").changeOver = [{ from: "barley", to: "barley", hours: 24.5 }];
    },
  },
  {
    what: "an occupied vessel is closed in its last minute",
    rules: ["vessel-closed"],
    breaks: (season) => {
      of(season.vessels, "bed").closures.push(
        { from: "2027-03-29T08:59", to: "2027-03-30T08:00", reason: "service" },
        // Half-open: it is free again when r2 goes in, and r2 has left when it is closed.
        { from: "2027-01-25T08:00", to: "2027-01-28T08:00", reason: "service" },
      );
    },
  },
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

/** Every turn at 20:00 or 21:00 and on Saturday or Sunday, at 100 cents, counted by hand: see the variant. */
function nightTurnCents(): number {
  // r1, turns at or after as-of: Mon 20:00, Tue 20:00 (08:00 is staffed, Wed 08:00 is the loading): 2.
  // r2, r3, r4, cast Thursday 08:00: Thu 20, Fri 20, Sat 08, Sat 20, Sun 08, Sun 20: 6 each.
  // r5, cast Thursday 25 March 08:00: Thu 20, Fri 20, Sat 08, Sat 20, Sun 09, Sun 21: 6 (Mon 09:00 is the loading).
  // r6, cast Wednesday 7 April 08:00: Wed 20, Fri 20, Sat 08, Sat 20 and Thu 20 in its extra minute: 4.
  return (2 + 6 * 3 + 6 + 4) * 100;
}
