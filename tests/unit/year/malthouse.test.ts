import { describe, expect, test } from "vitest";
import { dayNumber, isoDate, weekday } from "../../../core/calendar.ts";
import { partsOf } from "../../../core/year/draw.ts";
import { vesselTime } from "../../../core/year/vessel-time.ts";
import { drawnYear } from "../../_support/drawn-year.ts";
import { farm, mondays, planWith, run } from "./hand-made.ts";

const FREE = [
  "2027-02-01",
  "2027-02-02",
  "2027-02-03",
  "2027-02-04",
  "2027-02-05",
  "2027-02-06",
  "2027-02-07",
];

describe("starts of runs", () => {
  test("are legal exactly where all four hand-overs fall on staffed days, counted here by hand", () => {
    const { slots } = partsOf(farm(), null);
    for (const date of FREE) {
      const start = dayNumber(date);
      const staffed = [0, 2, 7, 8].every((after) => weekday(start + after) <= 5);
      expect([date, slots.canStart(start, ["pale"], "nothing")]).toEqual([date, staffed]);
    }
  });

  test("use the hours between a profile's least and greatest", () => {
    const [pale] = farm().maltTypes;
    if (pale?.made.from !== "grain") throw new Error("pale is made from grain");
    const [profile] = pale.made.profiles;
    const stretched = {
      ...profile!,
      steep: { least: 40, usual: 48, greatest: 96 },
      bed: { least: 96, usual: 120, greatest: 168 },
    };
    const malt = { ...pale, made: { ...pale.made, profiles: [stretched] } };
    const { slots } = partsOf(farm({ maltTypes: [malt] }), null);
    // Thursday: two days later is Saturday, but four days of steep reach Monday, and seven in the bed the next one.
    expect(slots.canStart(dayNumber("2027-02-04"), ["pale"], "nothing")).toBe(true);
    expect(slots.canStart(dayNumber("2027-02-06"), ["pale"], "nothing")).toBe(false);
  });

  test("give way to a closed vessel, a closed roster and a machine-turned bed nobody looks into", () => {
    const can = (other: Parameters<typeof farm>[0], date = "2027-02-01") =>
      partsOf(farm(other), null).slots.canStart(dayNumber(date), ["pale"], "nothing");
    const [steep, bed, kiln] = farm().vessels;
    const shut = { from: "2027-02-08T00:00", to: "2027-02-10T00:00", reason: "service" };
    expect(can({})).toBe(true);
    expect(can({ vessels: [steep!, bed!, { ...kiln!, closures: [shut] }] })).toBe(false);
    const { roster } = farm();
    const closed = [{
      from: "2027-02-01",
      to: "2027-02-01",
      handOvers: ["steepIn" as const],
      reason: "drilling",
    }];
    expect(can({ roster: { ...roster, closed } })).toBe(false);
    const people = [{ id: "m", name: "maltster", roles: ["maltster" as const] }];
    const turned = { ...bed!, turning: { by: "machine" as const, lookInEveryHours: 18 } };
    expect(can({ people, vessels: [steep!, turned, kiln!] })).toBe(false);
    const lookIns = [{ weekdays: [6, 7], at: ["08:00", "18:00"] }];
    expect(can({ people, vessels: [steep!, turned, kiln!], roster: { ...roster, lookIns } })).toBe(true);
  });

  test("find the gap beside runs", () => {
    const beside = (second: string) => {
      const runs = [run("r1", "2027-02-01"), run("r2", second)];
      return partsOf(farm(), planWith({ runs })).slots.canStart(
        dayNumber("2027-02-08"),
        ["pale"],
        "the runs",
      );
    };
    // A run of 8 Feb lies in the bed from the 10th to the 15th.
    expect(["2027-02-08", "2027-02-09", "2027-02-10"].map((second) => beside(second))).toEqual([
      false,
      false,
      false,
    ]);
    expect(beside("2027-02-15")).toBe(true);
  });

  test("clean a vessel after the run before and before the run after", () => {
    const beside = (date: string, cleaningHours: number) => {
      const [steep, bed, kiln] = farm().vessels;
      const season = farm({ vessels: [steep!, { ...bed!, cleaningHours }, kiln!] });
      return partsOf(season, planWith({ runs: [run("r1", date)] }))
        .slots.canStart(dayNumber("2027-02-08"), ["pale"], "the runs");
    };
    // A run of 1 Feb leaves the bed on the 8th at 8:00, two days before this one is cast; one of 15 Feb needs it two days after.
    for (const neighbour of ["2027-02-01", "2027-02-15"]) {
      expect([neighbour, beside(neighbour, 48), beside(neighbour, 50)]).toEqual([neighbour, true, false]);
    }
  });
});

describe("the limit", () => {
  const weekly = mondays("2027-02-01", 8).map((monday, i) => run(`r${i}`, monday));
  const full = (runs: typeof weekly) =>
    drawnYear(farm(), planWith({ runs })).malthouse.vessels.flatMap((one) =>
      one.full.map((stretch) => [one.id, isoDate(stretch.from), isoDate(stretch.to), stretch.openWeeks])
    );

  test("is the bed in every open week of a run a week", () => {
    expect(full(weekly)).toEqual([["bed", "2027-02-01", "2027-03-24", 8]]);
  });

  test("ends where a week is left free", () => {
    expect(full(weekly.filter((_, i) => i !== 3))).toEqual([
      ["bed", "2027-02-01", "2027-02-17", 3],
      ["bed", "2027-03-01", "2027-03-24", 4],
    ]);
  });

  test("passes over weeks in which nobody starts runs", () => {
    const { roster } = farm();
    const closed = [{
      from: "2027-02-22",
      to: "2027-02-28",
      handOvers: ["steepIn" as const],
      reason: "away",
    }];
    const year = drawnYear(
      farm({ roster: { ...roster, closed } }),
      planWith({ runs: weekly.filter((_, i) => i !== 3) }),
    );
    const bed = year.malthouse.vessels.find((one) => one.id === "bed")!;
    expect(bed.full.map((one) => [isoDate(one.from), isoDate(one.to), one.openWeeks])).toEqual([
      ["2027-02-01", "2027-03-24", 7],
    ]);
    expect(bed.full[0]!.text).toBe(
      "the germination bed is full from 1 Feb to 24 Mar 2027: no further run beside those planned",
    );
    expect(year.malthouse.pauses[0]!.reason).toBe("away");
  });

  test("use counts loads and cleaning against open time", () => {
    const year = drawnYear(farm(), planWith({ runs: weekly.slice(0, 1) }));
    const bed = year.malthouse.vessels.find((one) => one.id === "bed")!;
    const aheadHours = (dayNumber("2028-01-01") - dayNumber("2027-01-18")) * 24 - 7 - 1 / 60;
    expect(bed.useAhead).toBeCloseTo(124 / aheadHours, 6);
  });
});

describe("the time between two loads of the bed", () => {
  const runs = (...dates: string[]) => dates.map((date, i) => run(`r${i}`, date));
  const gaps = (dates: string[], other: Parameters<typeof farm>[0] = {}) =>
    drawnYear(farm(other), planWith({ runs: runs(...dates) })).malthouse.vessels
      .find(({ id }) => id === "bed")!.gaps
      .filter(({ start, end }) => start > dayNumber("2027-02-01") && end < dayNumber("2027-06-01"))
      .map((
        { start, end, cause, reason },
      ) => [isoDate(Math.floor(start)), isoDate(Math.floor(end)), cause, reason]);
  const [steep, bed, kiln] = farm().vessels;

  test("is too short from one week's run to the next", () => {
    expect(gaps(["2027-02-01", "2027-02-08"])).toEqual([["2027-02-08", "2027-02-10", "too short", ""]]);
  });

  test("is cleaned only where a load lies beside it: once after the last one, never where none lies", () => {
    // A load takes 5 days of the bed, and cleaning nearly 2: from 8 Feb 8:00 to the end of the 15th is too short for both ends.
    const vessels = [steep!, { ...bed!, cleaningHours: 40 }, kiln!];
    const bedGaps = (season: Parameters<typeof farm>[0], dates: string[]) =>
      drawnYear(farm({ vessels, ...season }), planWith({ runs: runs(...dates) })).malthouse.vessels
        .find(({ id }) => id === "bed")!.gaps.map(({ start, cause }) => [isoDate(Math.floor(start)), cause]);
    expect(bedGaps({ horizonEnd: "2027-02-15" }, ["2027-02-01"])).toEqual([]);
    expect(bedGaps({ horizonEnd: "2027-02-14" }, ["2027-02-01"])).toEqual([["2027-02-08", "too short"]]);
    // From Monday 4 January to the end of the 11th nothing lies there: a load of the 6th fits, for it needs no cleaning.
    expect(bedGaps({ asOf: "2027-01-05T07:00", horizonEnd: "2027-01-11" }, [])).toEqual([]);
  });

  test("is open, and so no gap, where a run could be started", () => {
    expect(gaps(["2027-02-01", "2027-02-15"])).toEqual([]);
  });

  test("names a closed vessel, whichever it is", () => {
    const shut = { from: "2027-02-15T00:00", to: "2027-02-17T00:00", reason: "burner service" };
    expect(gaps(["2027-02-01", "2027-02-15"], { vessels: [steep!, bed!, { ...kiln!, closures: [shut] }] }))
      .toEqual([["2027-02-08", "2027-02-17", "closed", "kiln: burner service"]]);
  });

  test("names why nobody starts a run", () => {
    const closed = [{
      from: "2027-02-08",
      to: "2027-02-14",
      handOvers: ["steepIn" as const],
      reason: "drilling",
    }];
    expect(gaps(["2027-02-01", "2027-02-15"], { roster: { ...farm().roster, closed } })).toEqual([
      ["2027-02-08", "2027-02-17", "nobody there", "drilling"],
    ]);
  });

  test("names both where either alone would still be in the way", () => {
    const shut = { from: "2027-02-15T00:00", to: "2027-02-17T00:00", reason: "service" };
    const closed = [{
      from: "2027-02-08",
      to: "2027-02-14",
      handOvers: ["steepIn" as const],
      reason: "drilling",
    }];
    const found = gaps(["2027-02-01", "2027-02-15"], {
      vessels: [steep!, bed!, { ...kiln!, closures: [shut] }],
      roster: { ...farm().roster, closed },
    });
    expect(found).toEqual([["2027-02-08", "2027-02-17", "closed", "kiln: service and drilling"]]);
  });

  test("says so where another vessel is taken", () => {
    // The kiln is cleaned for so long that no load fits between two of them, though the bed has room.
    const slow = { ...kiln!, cleaningHours: 168 };
    expect(gaps(["2027-02-01", "2027-02-15"], { vessels: [steep!, bed!, slow] })).toEqual([
      ["2027-02-08", "2027-02-17", "taken", ""],
    ]);
  });

  test("adds up with the loads and what is open to all the time ahead", () => {
    const year = drawnYear(farm(), planWith({ runs: runs(...mondays("2027-02-01", 8)) }));
    const vessel = year.malthouse.vessels.find(({ id }) => id === "bed")!;
    const { loaded, blocked, open } = vesselTime(year, vessel)!;
    expect(loaded + open + Object.values(blocked).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    const ahead = dayNumber("2028-01-01") - year.asOf;
    expect(loaded).toBeCloseTo(8 * 5 / ahead, 9);
    // Seven gaps of two days; the time before and after the runs is open.
    expect(blocked["too short"]).toBeCloseTo(14 / ahead, 9);
    expect(open).toBeGreaterThan(0.5);
  });
});

describe("runs", () => {
  test("a run under way follows its profile from its last recorded hand-over", () => {
    const record = {
      id: "run-1",
      draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
      maltId: "pale",
      profileId: "week",
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: "2027-01-13T08:00",
      castAt: "2027-01-15T10:00",
    };
    const [mark] = drawnYear(farm({ records: { runs: [record] } }), null).malthouse.runs;
    expect(mark!.standing).toBe("under way");
    const kiln = mark!.stages.find((one) => one.stage === "kiln")!;
    expect(kiln.start).toBeCloseTo(dayNumber("2027-01-20") + 10 / 24, 9);
    expect(kiln.end).toBeCloseTo(dayNumber("2027-01-21") + 10 / 24, 9);
    expect(mark!.nights).toHaveLength(1);
    expect(mark!.nights[0]).toEqual({
      start: dayNumber("2027-01-20") + 0.75,
      end: dayNumber("2027-01-21") + 0.25,
    });
  });

  test("a hand-over that is overdue is expected now, not in the past", () => {
    const record = {
      id: "run-1",
      draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
      maltId: "pale",
      profileId: "week",
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: "2027-01-15T08:00",
    };
    const [mark] = drawnYear(farm({ records: { runs: [record] } }), null).malthouse.runs;
    expect(mark!.stages[1]!.start).toBeCloseTo(dayNumber("2027-01-18") + 7 / 24, 9);
  });

  test("a run given up stops there and gives no malt", () => {
    const record = {
      id: "run-1",
      draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
      maltId: "pale",
      profileId: "week",
      vesselIds: { steep: "steep", bed: "bed", kiln: "kiln" },
      steepInAt: "2027-01-11T08:00",
      castAt: "2027-01-13T08:00",
      endedAt: "2027-01-14T20:00",
      outcome: "dumped" as const,
    };
    const year = drawnYear(farm({ records: { runs: [record] } }), null);
    expect(year.malthouse.runs[0]).toMatchObject({ standing: "dumped", outputs: [] });
    expect(year.malthouse.runs[0]!.stages.map((one) => one.stage)).toEqual(["steep", "bed"]);
    expect(year.malthouse.runs[0]!.stages[1]!.end).toBeCloseTo(dayNumber("2027-01-14") + 20 / 24, 9);
    // The grain is gone all the same.
    expect(year.stores[0]!.stays[0]!.levelsG.at(-1)).toBe(9_000_000);
  });
});
