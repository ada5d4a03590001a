import { run } from "./_hand-plan.ts";
import { of, pay, retime, type Variant } from "./_variant.ts";

/** Ways to break when and where runs lie: their times, people and vessels. */
export const BROKEN_TIMES: readonly Variant[] = [
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
    what: "grain is moved on the day after the plan's end",
    rules: ["after-plan-end"],
    breaks: (_, plan) => {
      // The plan ends 84 days after 30 April, on 23 July.
      const [move] = plan.moves;
      plan.moves.push({ ...move!, id: "mv2", on: "2027-07-24", massG: 1000, lossG: 5 });
      pay(plan, "movesCents", plan.goals.money.movesCents + 501);
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
    rules: ["look-in-gap", "after-plan-end"],
    breaks: (season, plan) => {
      // Saturday 30 October 17:00 to Sunday 09:00, in the autumn after the plan's end. The stage itself ends at 07:00, 96 h after Thursday 08:00.
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
];

/** Every turn at 20:00 or 21:00 and on Saturday or Sunday, at 100 cents, counted by hand: see the variant. */
function nightTurnCents(): number {
  // r1, turns at or after as-of: Mon 20:00, Tue 20:00 (08:00 is staffed, Wed 08:00 is the loading): 2.
  // r2, r3, r4, cast Thursday 08:00: Thu 20, Fri 20, Sat 08, Sat 20, Sun 08, Sun 20: 6 each.
  // r5, cast Thursday 25 March 08:00: Thu 20, Fri 20, Sat 08, Sat 20, Sun 09, Sun 21: 6 (Mon 09:00 is the loading).
  // r6, cast Wednesday 7 April 08:00: Wed 20, Fri 20, Sat 08, Sat 20 and Thu 20 in its extra minute: 4.
  return (2 + 6 * 3 + 6 + 4) * 100;
}
