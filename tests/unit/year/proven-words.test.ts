import { describe, expect, test } from "vitest";
import type { Plan } from "../../../core/plan/plan.ts";
import { moneyGapOf, type StoredBound } from "../../../core/plan/plan-bound.ts";
import { provenWords } from "../../../core/year/proven-words.ts";

const PROOF = { cuts: [], duals: [] };

/** A plan that makes 5, 3 and 2 brews, keeps 9 promises and costs 900.00, and what is proven of it. Invented. */
function planWith(most: number[], money: StoredBound["money"]): Plan {
  const [one, two, three, promises, tail] = most.map((count) => ({ most: count, proof: null }));
  return {
    goals: { made: [5, 3, 2], promisesHeld: 9, tailMade: 4, moneyCents: 90_000 },
    bound: { made: [one, two, three], promises, tail, money },
  } as unknown as Plan;
}

const words = (plan: Plan) => provenWords({ currency: "USD" }, plan);

describe("what is proven of a plan", () => {
  test("says nothing where nothing is", () => {
    const { bound: _, ...plan } = planWith([5, 3, 2, 9, 4], null);
    expect([words(plan as Plan), moneyGapOf(plan)]).toEqual(["", null]);
  });

  test("is a share of what plans can change, and so much money", () => {
    const plan = planWith([5, 3, 2, 9, 4], { leastCents: 88_000, fixedCents: -10_000, proof: PROOF });
    expect(moneyGapOf(plan)).toBeCloseTo(0.02, 12);
    expect(words(plan)).toBe(
      "Proven: no plan makes more brews or keeps more promises, and none that makes as many saves more than 2.0 % ($20).",
    );
  });

  test("is said to be the least when it is", () => {
    const plan = planWith([5, 3, 2, 9, 4], { leastCents: 89_990, fixedCents: -10_000, proof: PROOF });
    expect(words(plan)).toBe("Proven: no plan makes more brews, keeps more promises or costs less.");
  });

  test("is no share of cents that rounding leaves where nothing is spent", () => {
    const { goals, bound } = planWith([5, 3, 2, 9, 4], { leastCents: -20, fixedCents: -20, proof: PROOF });
    const plan = { goals: { ...goals, moneyCents: 0 }, bound } as Plan;
    expect(moneyGapOf(plan)).toBe(1);
    expect(words(plan)).toBe("Proven: no plan makes more brews, keeps more promises or costs less.");
  });

  test("names what may be more, and then no money", () => {
    const plan = planWith([5, 4, 2, 10, 4], null);
    expect(moneyGapOf(plan)).toBeNull();
    expect(words(plan)).toBe(
      "Proven so far: no plan has more than 4 brews and malt sales of class 2 (this one has 3) and 10 home-share promises " +
        "(this one has 9).",
    );
  });
});
