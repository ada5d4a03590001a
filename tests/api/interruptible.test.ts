import highsModule from "highs";
import { expect, test } from "vitest";
import { makeSeason } from "../../core/generate/make-season.ts";
import { makePlan } from "../../core/plan/make.ts";
import { chance } from "../../core/search/chance.ts";
import { LinearModel, solveLinear } from "../../core/solve/linear.ts";
import { interruptible } from "../../routes/_solver/interruptible.ts";

test("a solve that may be left off gives the same plan, and ends when it is left", async () => {
  const highs = await (highsModule as unknown as typeof highsModule.default)();
  const micro = makeSeason("micro", 2);
  const options = { seed: 1, iterations: 0 };
  const free = await makePlan(micro, { ...options, highs });
  expect(await makePlan(micro, { ...options, highs: interruptible(highs, () => false) })).toEqual(free);
  // Asked before and after, only a solve that looks for itself asks a third time.
  let asked = 0;
  const leaving = interruptible(highs, () => ++asked > 2);
  expect(() => solveLinear(leaving, hardModel())).toThrow("Left off.");
});

/** A market split: whether any choice halves every row, bounds say nothing about. It would take far longer than a test may. */
function hardModel(): LinearModel {
  const model = new LinearModel();
  const columns = Array.from({ length: 40 }, () => model.column(0, 0, 1, true));
  const draw = chance(1);
  for (let row = 0; row < 4; row++) {
    const weights = columns.map(() => draw.int(0, 99));
    const half = Math.floor(weights.reduce((sum, one) => sum + one, 0) / 2);
    model.row(half, half, columns.map((column, i) => [column, weights[i]!] as const));
  }
  return model;
}
