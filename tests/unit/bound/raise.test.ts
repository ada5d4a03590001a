/** Cuts found on the way to a bound: none is lost, and those that sleep are woken. */
import { expect, test } from "vitest";
import { leveledModel } from "../../../core/bound/bound.ts";
import { cutFinder, cutRow } from "../../../core/bound/cuts.ts";
import { levelsOf } from "../../../core/bound/levels.ts";
import { Raiser } from "../../../core/bound/raise.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { makeNaivePlan } from "../../../core/plan/make.ts";
import { problemOf } from "../../../core/search/problem.ts";
import { withStandingModel } from "../../../core/solve/standing.ts";
import { loadHighs } from "../../_support/highs.ts";

const highs = await loadHighs();

/** The relaxation of all plans that make and keep no less than the naive one. */
async function leveled(seed: number) {
  const season = makeSeason("small", seed);
  const plan = await makeNaivePlan(season, { seed: 1, iterations: 0, highs });
  const leveled = leveledModel(problemOf(season, season.asOf));
  for (const [level, count] of levelsOf(plan.goals).entries()) {
    leveled.of.model.rowLower[leveled.levelRow + level] = count;
  }
  return leveled;
}

const never = { cancelled: () => false, goodEnough: () => false };

test("cuts that are not asked for yet are found later, each once", async () => {
  for (const seed of [3, 442]) {
    const { of } = await leveled(seed);
    withStandingModel(highs, of.model, (lp) => {
      const { values } = lp.solve(of.model.cost)!;
      const all = cutFinder(of)(values, Infinity).map((cut) => JSON.stringify(cut));
      expect(all.length).toBeGreaterThan(20);
      const find = cutFinder(of);
      const few: string[] = [];
      for (let some = find(values, 7); some.length > 0; some = find(values, 7)) {
        expect(some.length).toBeLessThanOrEqual(7);
        few.push(...some.map((cut) => JSON.stringify(cut)));
      }
      expect(new Set(few).size).toBe(few.length);
      expect(few.sort()).toEqual(all.sort());
    });
  }
});

test("with cuts asleep the point still meets every cut, and the bound is no lower", async () => {
  for (const seed of [3, 442]) {
    const { of } = await leveled(seed);
    const { cost } = of.model;
    // First for a made-up price list, so that other cuts than those of money bind and the rest is put to sleep.
    const other = cost.map((price, column) => price * (1 + column % 5));
    withStandingModel(highs, of.model, (lp) => {
      const raiser = new Raiser(of, lp);
      const before = raiser.raise(cost, { ...never, rounds: 12 })!;
      const first = raiser.raise(other, { ...never, rounds: 12 })!;
      expect(raiser.cuts.length).toBeGreaterThan(20);
      raiser.letSleep(first.duals);
      // One solve wakes what its own point violates; a few of them wake all that matters.
      let again = raiser.raise(cost, { ...never, rounds: 1 })!;
      for (let i = 0; i < 20; i++) again = raiser.raise(cost, { ...never, rounds: 1 })!;
      expect(again.bound).toBeGreaterThan(before.bound - 1e-4 * Math.abs(before.bound));
      for (const cut of raiser.cuts) {
        const row = cutRow(of, cut)!;
        const sum = row.entries.reduce((all, [column, by]) => all + by * again.point![column]!, 0);
        expect(sum).toBeGreaterThan(row.lower - 1e-4);
      }
    });
  }
});
