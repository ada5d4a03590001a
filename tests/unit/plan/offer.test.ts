import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isWorthOffering } from "../../../core/plan/offer.ts";
import type { Plan, PlanRun } from "../../../core/plan/plan.ts";
import { demoSeason } from "../../_support/demo.ts";
import { emptyPlan } from "../../_support/empty-plan.ts";

/** A changed run costs 25.00 there. */
const demo = demoSeason();
const empty = await emptyPlan(demo);

interface Sketch {
  readonly made?: [number, number, number];
  readonly promises?: number;
  readonly tail?: number;
  /** Money, and the part of it that is the price of runs changed before, cents. */
  readonly cents?: number;
  readonly changedCents?: number;
  /** Days of runs, counted from 1 March 2027. */
  readonly days?: readonly number[];
}

function plan(
  { made = [0, 0, 60], promises = 0, tail = 0, cents = 0, changedCents = 0, days = [] }: Sketch,
): Plan {
  const money = { ...empty.goals.money, ordersCents: cents - changedCents, changedRunsCents: changedCents };
  return {
    ...empty,
    runs: days.map(run),
    goals: { ...empty.goals, made, promisesHeld: promises, tailMade: tail, moneyCents: cents, money },
  };
}

function run(day: number): PlanRun {
  const at = `2027-03-${String(day).padStart(2, "0")}T08:00`;
  return {
    ...{ id: `run-${day}`, standing: "not booked", maltId: "pale", profileId: "p" },
    vesselIds: { steep: "s", bed: "b", kiln: "k" },
    draws: [{ lotId: "lot-a", storeId: "bin-1", massG: 1_000_000 }],
    ...{ steepInAt: at, castAt: at, kilnAt: at, stripAt: at },
    ...{ screeningsG: 0, cleanG: 1_000_000, culmsG: 0, outputs: [] },
  };
}

const isOffered = (present: Sketch, found: Sketch, before: Sketch[] = [], season = demo) =>
  isWorthOffering(season, plan(present), plan(found), before.map(plan));

describe("a plan is worth offering", () => {
  test("when it makes one brew more, whatever that costs and moves", () => {
    const found = { made: [0, 0, 61], cents: 2_000_000, days: [1, 2, 3] } satisfies Sketch;
    expect(isOffered({ cents: 1_000_000, days: [4, 5, 6] }, found)).toBe(true);
  });

  test("when it holds one promise more", () => {
    expect(isOffered({}, { promises: 1, cents: 100 })).toBe(true);
  });

  test("by the goals in order: a promised brew outweighs others", () => {
    const one: Sketch = { made: [1, 0, 50] }, other: Sketch = { made: [0, 0, 60] };
    expect([isOffered(other, one), isOffered(one, other)]).toEqual([true, false]);
  });

  test.each([
    ["0.5 % of a small farm's money", 400_000, 2_000],
    ["50.00 of a larger one's", 3_000_000, 5_000],
  ])("when it saves %s, and not a cent less", (_, cents, least) => {
    expect(isOffered({ cents }, { cents: cents - least })).toBe(true);
    expect(isOffered({ cents }, { cents: cents - least + 1 })).toBe(false);
  });

  test("when feed pays for the malt and the money is nothing: the share is of what turns over", () => {
    const present = plan({ cents: 1_000_000 });
    const money = { ...present.goals.money, feedCents: -1_000_000 };
    const even = { ...present, goals: { ...present.goals, money, moneyCents: 0 } };
    const saving = (cents: number) => ({ ...even, goals: { ...even.goals, moneyCents: -cents } });
    expect(isWorthOffering(demo, even, saving(4_999))).toBe(false);
    expect(isWorthOffering(demo, even, saving(5_000))).toBe(true);
  });
});

describe("a plan is not worth offering", () => {
  test("when it is the present one, or as good", () => {
    expect(isOffered({ cents: 0 }, { cents: 0 })).toBe(false);
    expect(isOffered({ days: [1, 2] }, { days: [3, 4] })).toBe(false);
  });

  test("when what it saves is less than the price of the runs that it changes", () => {
    const [present, found] = [{ cents: 1_000_000, days: [1, 2, 3, 4] }, {
      cents: 986_000,
      days: [5, 6, 7, 8],
    }];
    expect(isOffered(present, found)).toBe(false);
    expect(isOffered(present, { ...found, cents: 985_000 })).toBe(true);
  });

  test("at the stated price of the season, or where none is stated at a usual one", () => {
    const [present, found] = [{ cents: 1_000_000, days: [1, 2] }, { cents: 990_000, days: [3, 4] }];
    const priced = (changedRunCents: number) => ({ ...demo, costs: { ...demo.costs, changedRunCents } });
    expect([5_000, 0, 2_500].map((price) => isOffered(present, found, [], priced(price)))).toEqual([
      false,
      true,
      true,
    ]);
    expect(isOffered(present, { ...found, cents: 990_001 }, [], priced(0))).toBe(false);
  });

  test("for brews of the tail alone, nor for money that the tail pays for", () => {
    expect(isOffered({ tail: 1 }, { tail: 5 })).toBe(false);
    expect(isOffered({ tail: 5, cents: 1_000_000 }, { tail: 4, cents: 500_000 })).toBe(false);
  });

  test("when the present one only pays for runs that it changed before", () => {
    expect(isOffered({ cents: 1_000_000, changedCents: 50_000 }, { cents: 950_000 })).toBe(false);
  });

  test("for another season, or the season as of another minute", () => {
    const other = { ...plan({ made: [9, 9, 99] }), seasonHash: "0".repeat(64) };
    expect(isWorthOffering(demo, plan({}), other)).toBe(false);
  });

  test("when it was offered before, or is hardly better than what was", () => {
    const present = { cents: 1_000_000 }, left = { cents: 980_000 };
    expect(isOffered(present, left, [left])).toBe(false);
    expect(isOffered(present, { cents: 979_000 }, [left])).toBe(false);
    expect(isOffered(present, { cents: 975_000 }, [left])).toBe(true);
  });

  test("but saving less may be worth it beside one that moved far more", () => {
    const present = { cents: 1_000_000, days: [1, 2, 3, 4] };
    const left = { cents: 970_000, days: [5, 6, 7, 8] };
    expect(isOffered(present, { cents: 975_000, days: [1, 2, 3, 4] }, [left])).toBe(true);
  });
});

test("of two plans never each is worth offering in place of the other", () => {
  const sketch = fc.record({
    made: fc.tuple(fc.nat(1), fc.nat(1), fc.nat(1)),
    promises: fc.nat(1),
    tail: fc.nat(1),
    cents: fc.integer({ min: -20_000, max: 20_000 }),
    days: fc.uniqueArray(fc.integer({ min: 1, max: 9 }), { maxLength: 4 }),
  });
  fc.assert(fc.property(sketch, sketch, (one, other) => !(isOffered(one, other) && isOffered(other, one))));
});
