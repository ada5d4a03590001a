/** How often a malthouse of one steep, one bed and one kiln can start, asked of the auditor's rules on vessels and people. */
import { describe, expect, test } from "vitest";
import { auditPlan } from "../../../core/audit/audit.ts";
import { addDays, dayNumber, weekday } from "../../../core/calendar.ts";
import type { HandOver } from "../../../core/season/malthouse.ts";
import type { Season } from "../../../core/season/season.ts";
import { handPlan, run } from "./_hand-plan.ts";
import { handSeason } from "./_hand-season.ts";

/** A Monday after the hand-written season's asOf; the eight weeks looked at hold no clock change. */
const FIRST = "2027-05-03";
const DAYS = 56;
/** Days from steep-in to each hand-over: 2 + 4 + 1. */
const OFFSET: Readonly<Record<HandOver, number>> = { steepIn: 0, castToBed: 2, kilnLoading: 6, strip: 7 };

interface House {
  /** Weekdays on which each hand-over is staffed, Monday = 1. */
  readonly staffed: Readonly<Record<HandOver, readonly number[]>>;
  readonly bedCleanDays: number;
}

function season(house: House): Season {
  const made = handSeason();
  made.roster.weekly = Object.entries(house.staffed).map(([handOver, weekdays]) => ({
    weekdays: [...weekdays],
    from: "08:00",
    to: "08:00",
    handOvers: [handOver as HandOver],
  }));
  for (const vessel of made.vessels) {
    vessel.cleaningHours = vessel.id === "bed" ? house.bedCleanDays * 24 : 0;
    delete vessel.turning;
  }
  return made;
}

/** True when the auditor has nothing to say about people and vessels of runs that start on these days. */
function allowed(of: Season, starts: readonly number[]): boolean {
  const plan = handPlan();
  plan.runs = starts.map((start) =>
    run(addDays(FIRST, start), {
      id: `s${start}`,
      draws: [{ lotId: "b", storeId: "bin-3", massG: 1_000_000 }],
    })
  );
  return !auditPlan(of, plan).some(({ rule }) => rule === "hand-over-staffed" || rule.startsWith("vessel-"));
}

/** The most starts in the eight weeks, each legal and each pair of neighbours far enough apart: by enumeration from the end. */
function mostStarts(legal: (start: number) => boolean, leastGap: number): number {
  const best = Array<number>(DAYS + 1).fill(0);
  for (let day = DAYS - 1; day >= 0; day--) {
    const later = best[Math.min(DAYS, day + leastGap)]!;
    best[day] = Math.max(best[day + 1]!, legal(day) ? 1 + later : 0);
  }
  return best[0]!;
}

const WEEK = [1, 2, 3, 4, 5], SATURDAY = [...WEEK, 6], SUNDAY = [...WEEK, 7], ALL = [1, 2, 3, 4, 5, 6, 7];
const same = (days: readonly number[]) => ({
  steepIn: days,
  castToBed: days,
  kilnLoading: days,
  strip: days,
});

describe.each([
  {
    name: "Monday to Friday: one run in 7 days",
    house: { staffed: same(WEEK), bedCleanDays: 0 },
    runs: 1,
    days: 7,
  },
  {
    name: "steep-in and strip also on Saturday, kiln loading also on Sunday: three runs in 14 days",
    house: {
      staffed: { steepIn: SATURDAY, castToBed: WEEK, kilnLoading: SUNDAY, strip: SATURDAY },
      bedCleanDays: 0,
    },
    runs: 3,
    days: 14,
  },
  { name: "all seven days: one in 4", house: { staffed: same(ALL), bedCleanDays: 0 }, runs: 1, days: 4 },
  {
    name: "all seven days and a clean day in the bed: one in 5",
    house: { staffed: same(ALL), bedCleanDays: 1 },
    runs: 1,
    days: 5,
  },
])("$name", ({ house, runs, days }) => {
  const of = season(house), first = weekday(dayNumber(FIRST));
  // By plain counting: a start is legal when its four weekdays are staffed, and the bed of four days is the narrowest.
  const legal = (start: number) =>
    (Object.keys(OFFSET) as HandOver[]).every((handOver) =>
      house.staffed[handOver].includes((first - 1 + start + OFFSET[handOver]) % 7 + 1)
    );
  const leastGap = 4 + house.bedCleanDays;

  test("the auditor allows a start exactly when every hand-over is staffed", () => {
    const starts = Array.from({ length: 14 }, (_, start) => start);
    expect(starts.filter((start) => allowed(of, [start]))).toEqual(starts.filter(legal));
  });

  test("the auditor allows two starts exactly when the bed is free and clean in between", () => {
    for (let start = 0; start < 7; start++) {
      for (let gap = 1; gap <= 8; gap++) {
        if (!legal(start) || !legal(start + gap)) continue;
        expect(allowed(of, [start, start + gap]), `${start} and ${gap} days later`).toBe(gap >= leastGap);
      }
    }
  });

  test("the rate is what the trade counts, and the auditor allows it", () => {
    const most = mostStarts(legal, leastGap);
    // Starts at the edge of the window may give one run more than the lasting rate.
    expect(most - Math.floor(DAYS / days * runs)).toBeGreaterThanOrEqual(0);
    expect(most - Math.ceil(DAYS / days * runs)).toBeLessThanOrEqual(0);
    const starts: number[] = [];
    for (let day = 0; day < DAYS; day++) {
      const left = mostStarts((start) => start > day && legal(start), leastGap);
      const fits = legal(day) && (starts.length === 0 || day - starts.at(-1)! >= leastGap);
      const after = mostStarts((start) => start >= day + leastGap && legal(start), leastGap);
      if (fits && 1 + after >= left) starts.push(day);
    }
    expect(starts).toHaveLength(most);
    expect(allowed(of, starts)).toBe(true);
  });
});
