/** What a proof may be split by. */
import { expect, test } from "vitest";
import { leveledModel } from "../../../core/bound/bound.ts";
import { totalsOf } from "../../../core/bound/totals.ts";
import { makeSeason } from "../../../core/generate/make-season.ts";
import { problemOf } from "../../../core/search/problem.ts";

test("sums first, then every run, order and brew by itself, each once and all of whole columns", () => {
  const season = makeSeason("small", 3);
  const { of } = leveledModel(problemOf(season, season.asOf));
  const { totals, coarse } = totalsOf(of);
  const whole = (column: number) => of.model.integer[column] === 1;
  expect(totals.flat().every(whole)).toBe(true);
  expect(new Set(totals.map((one) => one.join(" "))).size).toBe(totals.length);
  const alone = new Set(totals.filter((one) => one.length === 1).flat());
  for (const { count } of of.runs) expect(alone).toContain(count);
  for (const { made } of of.demands) expect(alone).toContain(made);
  expect(totals[0]).toEqual(of.runs.map((run) => run.count));
  expect(totals.slice(coarse).every((one) => one.length === 1)).toBe(true);
});
