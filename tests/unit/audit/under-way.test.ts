/**
 * A run under way stands in every plan. Where its record, the hours of people and the vessels leave no way to finish it
 * within the rules, no plan is to blame; where they leave one, the plan has to take it.
 */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import type { Plan } from "../../../core/plan/plan.ts";
import type { HandOver } from "../../../core/season/malthouse.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan, run } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";
import { of, retime } from "./_variant.ts";

type Change = (season: Season, plan: Plan) => void;

const ALL: HandOver[] = ["steepIn", "castToBed", "kilnLoading", "strip"];
const all = (...changes: Change[]): Change => (season, plan) =>
  changes.forEach((change) => change(season, plan));

function found(change: Change): string[] {
  const season = handSeason(), plan = handPlan();
  change(season, plan);
  return auditPlan(season, plan).map(({ rule, thing }) => `${rule} ${thing}`);
}

/** Hours in the bed end between 04:00 and 12:00 on Wednesday the 20th; nobody loads a kiln on a Wednesday. */
const noWednesdays: Change = (season) => {
  const [week] = season.roster.weekly;
  season.roster.weekly = [
    { ...week!, weekdays: [1, 2, 4, 5] },
    { ...week!, weekdays: [3], handOvers: ["steepIn", "castToBed", "strip"] },
  ];
};
const extra = (from: string, to: string): Change => (season) => {
  season.roster.extra.push({ on: "2027-01-20", from, to, handOvers: ["kilnLoading"], costCents: 0 });
};
const laterLoading: Change = (_, plan) =>
  retime(
    of(plan.runs, "r1"),
    "2027-01-14T08:00",
    "2027-01-16T08:00",
    "2027-01-20T12:30",
    "2027-01-21T12:30",
  );
const closedKiln = (to: string): Change => (season) => {
  of(season.vessels, "kiln").closures.push({ from: "2027-01-20T00:00", to, reason: "repair" });
};
const maltsterAway: Change = (season) => {
  delete season.roster.weekly[0]!.personId;
  season.people[0]!.away.push({ from: "2027-01-20", to: "2027-01-21", reason: "ill" });
};
/** The bed may be left until Monday the 25th. */
const patientBed: Change = (season) => {
  const { made } = of(season.maltTypes, "pale");
  if (made.from === "grain") made.profiles[0]!.bed.greatest = 220;
};

/** Loaded an hour before people come, and stripped in time all the same. */
const atSix: Change = (_, plan) => {
  of(plan.runs, "r1").kilnAt = "2027-01-20T06:00";
  of(plan.runs, "r1").stripAt = "2027-01-21T07:00";
};

describe("grain in the bed", () => {
  test.each<[string, Change, string[]]>([
    ["nobody can load the kiln in time", noWednesdays, []],
    [
      "nobody can load it in time, and it is loaded after the longest time in the bed",
      all(
        noWednesdays,
        laterLoading,
      ),
      [],
    ],
    ["it is loaded too late for no reason", laterLoading, ["stage-hours r1"]],
    ["somebody could load it at eleven", all(noWednesdays, extra("11:00", "11:30")), [
      "hand-over-staffed r1",
    ]],
    [
      "somebody could at eleven, and it is loaded later",
      all(
        noWednesdays,
        extra("11:00", "11:30"),
        laterLoading,
      ),
      ["stage-hours r1", "hand-over-staffed r1"],
    ],
    // Loaded by 04:59 it would have to be stripped by 06:59, and people come at seven.
    [
      "somebody could load it, but then nobody could strip it",
      all(
        noWednesdays,
        extra("04:00", "04:59"),
      ),
      [],
    ],
    ["somebody could load it just late enough", all(noWednesdays, extra("04:00", "05:00")), [
      "hand-over-staffed r1",
    ]],
    ["nobody can strip it in time", (season) => {
      season.roster.closed.push({ from: "2027-01-21", to: "2027-01-21", handOvers: ["strip"], reason: "x" });
    }, []],
    ["the kiln is closed the whole time", closedKiln("2027-01-22T00:00"), []],
    ["the kiln is open again in time", closedKiln("2027-01-20T12:00"), ["vessel-closed r1"]],
    ["the kiln is open again a minute too late", closedKiln("2027-01-20T12:01"), []],
    ["no maltster is there on any day it can be fired", maltsterAway, []],
    ["one is there if the kiln waits", all(maltsterAway, patientBed), ["kiln-alone r1", "kiln-alone r1"]],
    ["it has lain too long already, and is loaded at six, before people come", (season, plan) => {
      const { made } = of(season.maltTypes, "pale");
      if (made.from !== "grain") throw new Error("pale is made from grain");
      const short = { ...structuredClone(made.profiles[0]!), id: "short" };
      short.bed = { least: 40, usual: 48, greatest: 48 };
      made.profiles.push(short);
      season.records.runs[1]!.profileId = of(plan.runs, "r1").profileId = "short";
      atSix(season, plan);
    }, ["hand-over-staffed r1"]],
    [
      "it stays in its vessel for the kiln, closed or not, so it can be loaded when people are there",
      all(
        atSix,
        (season, plan) => {
          const bed = of(season.vessels, "bed");
          bed.stages.push("kiln");
          bed.closures.push({ from: "2027-01-20T00:00", to: "2027-01-20T22:00", reason: "repair" });
          season.records.runs[1]!.vesselIds.kiln = of(plan.runs, "r1").vesselIds.kiln = "bed";
          // The bed is to be clean again for r2 on Thursday the 21st, when this run is just stripped.
          bed.cleaningHours = 1;
        },
      ),
      ["hand-over-staffed r1"],
    ],
    [
      "it is taken out of the bed too early all the same",
      all(noWednesdays, (_, plan) =>
        retime(
          of(plan.runs, "r1"),
          "2027-01-14T08:00",
          "2027-01-16T08:00",
          "2027-01-20T03:00",
          "2027-01-21T03:00",
        )),
      ["stage-hours r1"],
    ],
  ])("%s", (_, change, expected) => {
    expect(found(change)).toEqual(expected);
  });
});

/** The run under way was steeped on Saturday at eight and goes to its bed at ten on the day of as-of. */
const stillInSteep: Change = (season, plan) => {
  const record = season.records.runs[1]!;
  record.steepInAt = "2027-01-16T08:00";
  delete record.castAt;
  retime(
    of(plan.runs, "r1"),
    "2027-01-16T08:00",
    "2027-01-18T10:00",
    "2027-01-22T10:00",
    "2027-01-23T10:00",
  );
};

describe("grain in the steep", () => {
  test("has to go to its bed, however seldom somebody looks in", () => {
    const seldom = found(all(stillInSteep, (season) => {
      const bed = of(season.vessels, "bed");
      if (bed.turning?.by === "machine") bed.turning.lookInEveryHours = 8;
    }));
    expect(seldom).not.toContain("look-in-gap r1");
    expect(seldom).toContain("look-in-gap r2");
  });

  test("has to be turned, however often that is at night", () => {
    // Turns at 22:00 from Monday to Thursday; r2, cast on Thursday, adds its own.
    const nights = (others: boolean) =>
      found(all(stillInSteep, (season, plan) => {
        const bed = of(season.vessels, "bed");
        bed.turning = { by: "hand", everyHours: 12, nightTurnCents: 0, mostNightTurnsPerWeek: 3 };
        plan.runs = plan.runs.slice(0, others ? 2 : 1);
      })).filter((breach) => breach.startsWith("night-turns"));
    expect(nights(false)).toEqual([]);
    expect(nights(true)).toContain("night-turns r2");
  });
});

/** A second run under way, in a steep of its own, on its way to the bed in which r1 lies until the 20th. */
function second(steepIn: string, cast: string, kiln: string, strip: string): Change {
  return (season, plan) => {
    season.roster.weekly[0]!.weekdays = [1, 2, 3, 4, 5, 6, 7];
    season.vessels.push({ ...structuredClone(of(season.vessels, "steep")), id: "steep-2", name: "Steep 2" });
    const draws = [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }];
    const made = run("2027-01-16", { id: "r8", standing: "under way", draws });
    made.vesselIds.steep = "steep-2";
    retime(made, steepIn, cast, kiln, strip);
    plan.runs.push(made);
    const { maltId, profileId, vesselIds } = made;
    season.records.runs.push({
      id: "r8",
      draws,
      maltId,
      profileId,
      vesselIds,
      steepInAt: steepIn,
      outputs: [],
    });
  };
}

describe("two runs under way on their way to one bed", () => {
  const meets = (change: Change) => found(change).filter((breach) => /^(vessel|stage|hand)/.test(breach));
  const bedCleaning = (hours: number): Change => (season) => of(season.vessels, "bed").cleaningHours = hours;
  // Steeped on Monday at eight, to be cast on Wednesday by noon; r1 can leave the bed from seven on.
  const wednesday = second("2027-01-18T08:00", "2027-01-20T10:00", "2027-01-24T10:00", "2027-01-25T10:00");

  test("are bound to meet, and r2, which is only booked, has to make way", () => {
    expect(meets(second("2027-01-16T08:00", "2027-01-18T10:00", "2027-01-22T10:00", "2027-01-23T10:00")))
      .toEqual(["vessel-two-loads r2"]);
  });

  test("need not meet, so they must not", () => {
    expect(meets(all(wednesday, bedCleaning(5)))).toContain("vessel-cleaning r8");
    expect(meets(all(wednesday, bedCleaning(5.01)))).not.toContain("vessel-cleaning r8");
  });

  test("the first of them is judged, whether the second is bound to meet it or comes after it", () => {
    const monday = second("2027-01-16T08:00", "2027-01-18T10:00", "2027-01-22T10:00", "2027-01-23T10:00");
    expect(meets(all(monday, atSix))).toContain("hand-over-staffed r1");
    expect(meets(all(wednesday, bedCleaning(5), atSix))).toContain("hand-over-staffed r1");
  });

  test("are bound to meet where the first may leave in time only to be stripped by nobody", () => {
    // Stripped at one on Thursday at the earliest, so loaded at eleven on Wednesday; two hours of cleaning make it one.
    const stripFrom = (from: string): Change =>
      all(wednesday, bedCleaning(2), (season, plan) => {
        const [week] = season.roster.weekly;
        season.roster.weekly.push({ ...week!, weekdays: [4], from, handOvers: ["strip"] });
        season.roster.weekly.push({ ...week!, weekdays: [4], handOvers: ["steepIn", "castToBed"] });
        week!.weekdays = [1, 2, 3, 5, 6, 7];
        const { steepInAt, castAt } = of(plan.runs, "r1");
        retime(of(plan.runs, "r1"), steepInAt, castAt, "2027-01-20T11:00", "2027-01-21T13:00");
      });
    expect(meets(stripFrom("13:00"))).not.toContain("vessel-two-loads r8");
    expect(meets(stripFrom("11:59"))).toContain("vessel-two-loads r8");
  });

  test("a bed that a run given up has left too late to be clean in time", () => {
    const over = (endedAt: string): Change => (season, plan) => {
      stillInSteep(season, plan);
      season.roster.weekly[0]!.weekdays = [1, 2, 3, 4, 5, 6, 7];
      season.records.runs.push({
        ...structuredClone(season.records.runs[1]!),
        id: "r00",
        steepInAt: "2027-01-04T08:00",
        castAt: "2027-01-12T08:00",
        endedAt,
      });
    };
    // Eight hours of cleaning, and r1 has to be cast by noon.
    expect(meets(over("2027-01-18T04:00"))).toContain("vessel-cleaning r1");
    expect(meets(over("2027-01-18T04:01"))).not.toContain("vessel-cleaning r1");
  });

  test("a run that cannot be finished in time still has to keep out of the way of what is only planned", () => {
    const late = second("2027-01-18T08:00", "2027-01-20T10:00", "2027-01-25T10:00", "2027-01-26T10:00");
    const nobody: Change = (season) => {
      season.roster.closed.push({
        from: "2027-01-24",
        to: "2027-01-24",
        handOvers: ALL,
        reason: "x",
      });
    };
    expect(meets(all(late, nobody))).toContain("vessel-two-loads r8");
  });
});

test("a run under way at either end of the calendar is judged, not thrown at", () => {
  for (const asOf of ["0000-01-01T00:00", "9999-12-31T23:59"]) {
    const season = handSeason(), plan = handPlan();
    plan.asOf = season.asOf = asOf;
    expect(() => auditPlan(season, plan)).not.toThrow();
    season.records.runs[1]!.steepInAt = of(plan.runs, "r1").steepInAt = asOf;
    delete season.records.runs[1]!.castAt;
    expect(() => auditPlan(season, plan)).not.toThrow();
  }
});
